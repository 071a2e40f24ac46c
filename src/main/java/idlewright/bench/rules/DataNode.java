package idlewright.bench.rules;

import idlewright.reference.units.Unit;
import java.io.InputStreamReader;
import java.io.Reader;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.yaml.snakeyaml.LoaderOptions;
import org.yaml.snakeyaml.Yaml;
import org.yaml.snakeyaml.constructor.SafeConstructor;

/** One mapping of a data file; whatever nobody asked for is refused by name when it is closed. */
final class DataNode {
    private final String place;
    private final Map<String, Object> values;
    private final Set<String> asked = new HashSet<>();

    private DataNode(String place, Map<?, ?> values) {
        this.place = place;
        this.values = new LinkedHashMap<>();
        values.forEach((key, value) -> this.values.put(String.valueOf(key), value));
    }

    static DataNode ofResource(String name) {
        try (var stream = DataNode.class.getResourceAsStream(name)) {
            if (stream == null) throw new Refusal("The catalogue lacks its file " + name + ".");
            return of(name, new InputStreamReader(stream, StandardCharsets.UTF_8));
        } catch (java.io.IOException unreadable) {
            throw new java.io.UncheckedIOException(unreadable);
        }
    }

    static DataNode of(String name, Reader text) {
        var options = new LoaderOptions();
        options.setAllowDuplicateKeys(false);
        Object read = new Yaml(new SafeConstructor(options)).load(text);
        if (read instanceof Map<?, ?> map) return new DataNode(name, map);
        throw new Refusal(name + ": expected keys with values.");
    }

    String place() {
        return place;
    }

    Refusal refusal(String words) {
        return new Refusal(place + ": " + words);
    }

    boolean has(String key) {
        return values.get(key) != null;
    }

    private @Nullable Object take(String key) {
        asked.add(key);
        return values.get(key);
    }

    String text(String key) {
        return optionalText(key).orElseThrow(() -> refusal("'" + key + "' is missing"));
    }

    Optional<String> optionalText(String key) {
        Object value = take(key);
        if (value == null) return Optional.empty();
        if (value instanceof Map || value instanceof List) throw refusal("'" + key + "' should be a text");
        return Optional.of(String.valueOf(value).strip());
    }

    @Nullable
    Double number(String key) {
        Object value = take(key);
        if (value == null) return null;
        if (value instanceof Number number) return number.doubleValue();
        throw refusal("'" + key + "' should be a number, not " + value);
    }

    double neededNumber(String key) {
        Double number = number(key);
        if (number == null) throw refusal("'" + key + "' is missing");
        return number;
    }

    @Nullable
    Boolean yesOrNo(String key) {
        Object value = take(key);
        if (value == null) return null;
        if (value instanceof Boolean answer) return answer;
        throw refusal("'" + key + "' should be true or false, not " + value);
    }

    List<String> texts(String key) {
        Object value = take(key);
        if (value == null) return List.of();
        if (value instanceof List<?> list) {
            return list.stream().map(each -> String.valueOf(each).strip()).toList();
        }
        return List.of(String.valueOf(value).strip());
    }

    @Nullable
    Range range(String key) {
        Object value = take(key);
        if (value == null) return null;
        if (value instanceof List<?> list
                && list.size() == 2
                && list.get(0) instanceof Number low
                && list.get(1) instanceof Number high) {
            return new Range(low.doubleValue(), high.doubleValue());
        }
        throw refusal("'" + key + "' should be [low, high]");
    }

    List<Unit> units(String key) {
        return texts(key).stream()
                .map(each -> Unit.of(each).orElseThrow(() -> refusal("'" + each + "' is no unit")))
                .toList();
    }

    <E extends Enum<E>> List<E> words(String key, Class<E> kind) {
        return texts(key).stream().map(word -> word(key, word, kind)).toList();
    }

    <E extends Enum<E>> E word(String key, Class<E> kind, E otherwise) {
        return optionalText(key).map(word -> word(key, word, kind)).orElse(otherwise);
    }

    private <E extends Enum<E>> E word(String key, String word, Class<E> kind) {
        for (E each : kind.getEnumConstants()) {
            if (each.name().toLowerCase(Locale.ROOT).replace('_', '-').equals(word)) return each;
        }
        throw refusal("'" + key + "' does not know '" + word + "'");
    }

    @Nullable
    DataNode child(String key) {
        Object value = take(key);
        if (value == null) return null;
        if (value instanceof Map<?, ?> map) return new DataNode(place + " > " + key, map);
        throw refusal("'" + key + "' should have keys of its own");
    }

    /** Every entry of a mapping of mappings, in file order. */
    <T> List<T> each(String key, Function<Named, T> reader) {
        DataNode node = child(key);
        if (node == null) return List.of();
        var read = new ArrayList<T>();
        for (String name : node.values.keySet()) {
            DataNode entry = node.child(name);
            if (entry == null) throw node.refusal("'" + name + "' is empty");
            read.add(reader.apply(new Named(name, entry)));
            entry.close();
        }
        return List.copyOf(read);
    }

    /** An entry with the key it stands under. */
    record Named(String key, DataNode node) {}

    Set<String> keys() {
        return values.keySet();
    }

    void close() {
        for (String key : values.keySet()) {
            if (!asked.contains(key)) throw refusal("unknown key '" + key + "'");
        }
    }
}
