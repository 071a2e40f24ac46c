package idlewright.intake.rules;

import idlewright.frame.Refused;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.yaml.snakeyaml.LoaderOptions;
import org.yaml.snakeyaml.Yaml;
import org.yaml.snakeyaml.constructor.SafeConstructor;

/** The kinds of symptom and their questions, read from {@code intake/symptom-kinds.yaml}. */
public final class SymptomKinds {

    private final List<Question> always;
    private final Map<String, SymptomKind> kinds = new LinkedHashMap<>();

    private SymptomKinds(List<Question> always) {
        this.always = always;
    }

    public static SymptomKinds load() {
        try (InputStream in = SymptomKinds.class.getResourceAsStream("/intake/symptom-kinds.yaml")) {
            Map<String, List<Map<String, Object>>> read = new Yaml(new SafeConstructor(new LoaderOptions())).load(in);
            var loaded = new SymptomKinds(questions(read.get("always")));
            for (var kind : read.getOrDefault("kinds", List.of())) {
                String key = (String) kind.get("key");
                @SuppressWarnings("unchecked")
                var asks = (List<Map<String, Object>>) kind.get("asks");
                loaded.kinds.put(key, new SymptomKind(key, (String) kind.get("name"), questions(asks)));
            }
            return loaded;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    public List<SymptomKind> all() {
        return List.copyOf(kinds.values());
    }

    /** Key to name, in the order of the list. */
    public Map<String, String> names() {
        var names = new LinkedHashMap<String, String>();
        kinds.forEach((key, kind) -> names.put(key, kind.name()));
        return names;
    }

    public String name(String key) {
        return of(key).name();
    }

    public SymptomKind of(String key) {
        SymptomKind kind = kinds.get(key);
        if (kind == null) {
            throw Refused.at("kind", "Choose one of the kinds in the list.");
        }
        return kind;
    }

    /** The kind's own questions first, then those that are always asked. */
    public List<Question> questions(String key) {
        var questions = new ArrayList<>(of(key).asks());
        questions.addAll(always);
        return questions;
    }

    /** Whether an answer was chosen from the question's list, and not written freely. */
    public boolean chosen(String kind, String question, String answer) {
        return questions(kind).stream()
                .filter(asked -> asked.key().equals(question))
                .anyMatch(asked -> asked.choices().contains(answer)
                        || (asked.many() && asked.choices().containsAll(List.of(answer.split(", ")))));
    }

    private static List<Question> questions(@Nullable List<Map<String, Object>> read) {
        var questions = new ArrayList<Question>();
        for (var one : read == null ? List.<Map<String, Object>>of() : read) {
            @SuppressWarnings("unchecked")
            var choices = (List<Object>) one.getOrDefault("choices", List.of());
            questions.add(new Question(
                    (String) one.get("key"),
                    (String) one.get("asks"),
                    choices.stream().map(String::valueOf).toList(),
                    Boolean.TRUE.equals(one.get("many")),
                    Boolean.TRUE.equals(one.get("carries"))));
        }
        return questions;
    }
}
