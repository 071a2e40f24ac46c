package idlewright.bench.rules;

import idlewright.reference.units.Dimension;
import idlewright.reference.units.Unit;
import idlewright.reference.verdict.Ground;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Everything the trade knows before a car arrives: symptom kinds, causes and procedures, from readable files under
 * {@code bench/catalogue}. Immutable, and checked while it is read: what does not fit is refused by its place.
 */
public final class Catalogue {
    private static final String FOLDER = "/bench/catalogue/";
    private static final List<String> PROCEDURE_FILES = List.of(
            "procedures-first.yaml",
            "procedures-air.yaml",
            "procedures-fuel.yaml",
            "procedures-spark-and-engine.yaml",
            "procedures-sensors.yaml",
            "procedures-road.yaml");

    private final Map<String, SymptomKind> symptomKinds;
    private final Map<String, Cause> causes;
    private final Map<String, Procedure> procedures;
    private final Map<String, OutcomeGroup> answers;
    private final Map<String, Place> places = new HashMap<>();

    /** Where an outcome stands. */
    record Place(String procedure, String procedureName, OutcomeGroup group, Outcome outcome) {
        String groupKey() {
            return procedure + "." + group.key();
        }
    }

    private Catalogue(
            Map<String, SymptomKind> symptomKinds,
            Map<String, Cause> causes,
            Map<String, Procedure> procedures,
            Map<String, OutcomeGroup> answers) {
        this.symptomKinds = symptomKinds;
        this.causes = causes;
        this.procedures = procedures;
        this.answers = answers;
        answers.values().forEach(group -> place(Evidence.ASKED, "Customer", group));
        procedures
                .values()
                .forEach(procedure ->
                        procedure.groups().forEach(group -> place(procedure.key(), procedure.name(), group)));
        check();
    }

    /**
     * Reads the files.
     *
     * @throws Refusal naming file, entry and key that do not fit
     */
    public static Catalogue load() {
        Map<String, Cause> causes = read("causes.yaml", Catalogue::causes);
        var answers = new LinkedHashMap<String, OutcomeGroup>();
        Map<String, SymptomKind> kinds = read("symptoms.yaml", node -> symptomKinds(node, answers));
        var procedures = new LinkedHashMap<String, Procedure>();
        Map<String, String> cautions = read("cautions.yaml", Catalogue::cautions);
        for (String file : PROCEDURE_FILES) procedures.putAll(read(file, node -> procedures(node, cautions)));
        return new Catalogue(kinds, causes, procedures, answers);
    }

    private static <T> T read(String file, Function<DataNode, T> reader) {
        DataNode node = DataNode.ofResource(FOLDER + file);
        T read = reader.apply(node);
        node.close();
        return read;
    }

    public Collection<SymptomKind> symptomKinds() {
        return symptomKinds.values();
    }

    public Collection<Cause> causes() {
        return causes.values();
    }

    public Collection<Procedure> procedures() {
        return procedures.values();
    }

    public Optional<SymptomKind> symptomKind(String key) {
        return Optional.ofNullable(symptomKinds.get(key));
    }

    public Optional<Cause> cause(String key) {
        return Optional.ofNullable(causes.get(key));
    }

    public Optional<Procedure> procedure(String key) {
        return Optional.ofNullable(procedures.get(key));
    }

    /** The name of an outcome in the list of evidence; empty where the catalogue no longer has it. */
    public Optional<String> outcomeWords(String outcome) {
        return Optional.ofNullable(places.get(outcome))
                .map(place -> place.outcome().words());
    }

    /**
     * What the customer's answers are worth as evidence.
     *
     * @param answers key of the question to key of the choice; free text, numbers and unknown keys weigh nothing
     */
    public List<Evidence> asked(Map<String, String> answers, Instant when) {
        return this.answers.values().stream()
                .map(group -> group.key() + ":" + answers.getOrDefault(group.key(), ""))
                .filter(places::containsKey)
                .map(outcome -> new Evidence(Evidence.ASKED, outcome, when))
                .toList();
    }

    Optional<Place> placeOf(Evidence evidence) {
        return Optional.ofNullable(places.get(evidence.outcome()))
                .filter(place -> place.procedure().equals(evidence.procedure()));
    }

    Cause somethingElse() {
        return Objects.requireNonNull(causes.get(Cause.SOMETHING_ELSE));
    }

    private void place(String procedure, String name, OutcomeGroup group) {
        for (Outcome outcome : group.outcomes()) {
            if (places.put(outcome.key(), new Place(procedure, name, group, outcome)) != null) {
                throw new Refusal("Two outcomes are called " + outcome.key() + ".");
            }
        }
    }

    private void check() {
        if (!causes.containsKey(Cause.SOMETHING_ELSE)) {
            throw new Refusal("The catalogue must keep the cause " + Cause.SOMETHING_ELSE + ".");
        }
        Set<String> groups = places.values().stream().map(Place::groupKey).collect(Collectors.toSet());
        for (Cause cause : causes.values()) {
            known("cause " + cause.key(), cause.commonness().keySet(), symptomKinds.keySet());
            known("cause " + cause.key(), Set.copyOf(cause.proveFirst()), procedures.keySet());
        }
        var wrong = new ArrayList<String>();
        Stream.concat(answers.values().stream(), procedures.values().stream().flatMap(p -> p.groups().stream()))
                .forEach(group -> {
                    known("group " + group.key(), group.toldBy(), groups);
                    known("group " + group.key(), group.sameAs(), groups);
                    known("group " + group.key(), group.reliesOn(), groups);
                    known("group " + group.key(), group.silentFor(), symptomKinds.keySet());
                    for (Outcome outcome : group.outcomes()) {
                        known("outcome " + outcome.key(), outcome.speaks().keySet(), causes.keySet());
                        known("outcome " + outcome.key(), outcome.blinds(), causes.keySet());
                        if (outcome.speaks().containsKey(Cause.SOMETHING_ELSE)) {
                            throw new Refusal("outcome " + outcome.key() + ": nothing speaks about the unknown.");
                        }
                    }
                    wrong.addAll(group.contradictoryWeights());
                });
        if (!wrong.isEmpty()) throw new Refusal("Weights that contradict their words: " + String.join("; ", wrong));
        for (Procedure procedure : procedures.values()) {
            known("procedure " + procedure.key(), new HashSet<>(procedure.after()), procedures.keySet());
        }
    }

    private static void known(String who, Set<String> named, Set<String> known) {
        named.stream()
                .filter(name -> !known.contains(name))
                .sorted()
                .findFirst()
                .ifPresent(name -> {
                    throw new Refusal(who + " names '" + name + "', which is not in the catalogue.");
                });
    }

    private static Map<String, Cause> causes(DataNode file) {
        return byKey(
                file.each("causes", named -> {
                    DataNode node = named.node();
                    return new Cause(
                            named.key(),
                            node.text("system"),
                            node.text("name"),
                            node.text("plain"),
                            node.text("remedy"),
                            node.optionalText("part").orElse(""),
                            node.words("needs", Trait.class),
                            node.texts("prove-first"),
                            node.texts("formerly"),
                            commonness(node));
                }),
                Cause::key);
    }

    private static Map<String, Commonness> commonness(DataNode node) {
        var commonness = new HashMap<String, Commonness>();
        for (Commonness each : Commonness.values()) {
            for (String symptom : node.texts(Rule.word(each))) {
                if (commonness.put(symptom, each) != null) throw node.refusal("names " + symptom + " twice");
            }
        }
        return commonness;
    }

    private static Map<String, SymptomKind> symptomKinds(DataNode file, Map<String, OutcomeGroup> answers) {
        Map<String, Question> questions =
                byKey(file.each("questions", named -> question(named, answers)), Question::key);
        List<Question> always = chosen(file, "always", questions);
        return byKey(
                file.each("kinds", named -> {
                    DataNode node = named.node();
                    return new SymptomKind(
                            named.key(),
                            node.text("name"),
                            node.text("meaning"),
                            always,
                            chosen(node, "ask", questions),
                            node.words("excludes", Need.class));
                }),
                SymptomKind::key);
    }

    private static List<Question> chosen(DataNode node, String key, Map<String, Question> questions) {
        return node.texts(key).stream()
                .map(each -> {
                    Question question = questions.get(each);
                    if (question == null)
                        throw node.refusal("'" + key + "' names '" + each + "', which is no question");
                    return question;
                })
                .toList();
    }

    private static Question question(DataNode.Named named, Map<String, OutcomeGroup> answers) {
        DataNode node = named.node();
        var choices = new ArrayList<Choice>();
        List<Outcome> outcomes = node.each("choices", choice -> {
            String words = choice.node().text("words");
            choices.add(new Choice(choice.key(), words, null));
            return new Outcome(
                    named.key() + ":" + choice.key(),
                    choice.node().optionalText("evidence").orElse(words),
                    words,
                    Objects.requireNonNullElse(choice.node().number("usual"), 1.0),
                    speaks(choice.node()),
                    Set.of(),
                    Rule.never());
        });
        Set<String> silentFor = Set.copyOf(node.texts("silent-for"));
        if (outcomes.stream().anyMatch(outcome -> !outcome.speaks().isEmpty())) {
            answers.put(
                    named.key(),
                    new OutcomeGroup(
                            named.key(), node.text("words"), outcomes, Set.of(), Set.of(), Set.of(), silentFor));
        }
        return new Question(
                named.key(),
                node.text("words"),
                node.word("answer", Question.Form.class, Question.Form.CHOICE),
                choices,
                Boolean.TRUE.equals(node.yesOrNo("required")));
    }

    private static Map<String, Speaks> speaks(DataNode node) {
        var speaks = new HashMap<String, Speaks>();
        for (Speaks each : Speaks.values()) {
            for (String cause : node.texts(Rule.word(each))) {
                if (speaks.put(cause, each) != null) throw node.refusal("speaks twice about " + cause);
            }
        }
        return speaks;
    }

    private static Map<String, String> cautions(DataNode file) {
        return file.keys().stream().collect(Collectors.toMap(key -> key, file::text));
    }

    private static Map<String, Procedure> procedures(DataNode file, Map<String, String> cautions) {
        return byKey(file.each("procedures", named -> procedure(named, cautions)), Procedure::key);
    }

    private static Procedure procedure(DataNode.Named named, Map<String, String> cautions) {
        DataNode node = named.node();
        var points = new LinkedHashMap<String, Point>();
        for (Point point : node.each("points", Catalogue::point)) points.put(point.key(), point);
        for (Point point : points.values()) {
            if (point.derivation() != null)
                known(named.node().place(), Set.copyOf(point.derivation().of()), points.keySet());
        }
        return new Procedure(
                named.key(),
                (int) node.neededNumber("version"),
                node.text("name"),
                node.text("purpose"),
                node.word("moment", Procedure.Moment.class, Procedure.Moment.SEEKING),
                node.texts("cautions").stream()
                        .map(key -> Optional.ofNullable(cautions.get(key))
                                .orElseThrow(() -> node.refusal("'cautions' names '" + key + "', which is none")))
                        .toList(),
                node.words("instruments", InstrumentKind.class),
                node.word("state", KeyState.class, KeyState.KEY_OFF),
                node.words("needs", Need.class),
                node.texts("conditions"),
                node.texts("steps"),
                (int) node.neededNumber("minutes"),
                node.texts("after"),
                node.words("applies-to", Trait.class),
                List.copyOf(points.values()),
                node.each("groups", group -> group(group, points)));
    }

    private static OutcomeGroup group(DataNode.Named named, Map<String, Point> points) {
        DataNode node = named.node();
        return new OutcomeGroup(
                named.key(),
                node.text("name"),
                node.each("outcomes", outcome -> outcome(outcome, points)),
                Set.copyOf(node.texts("told-by")),
                Set.copyOf(node.texts("same-as")),
                Set.copyOf(node.texts("relies-on")),
                Set.copyOf(node.texts("silent-for")));
    }

    private static Outcome outcome(DataNode.Named named, Map<String, Point> points) {
        DataNode node = named.node();
        String when = node.text("when");
        try {
            Rule rule = when.startsWith("otherwise ")
                    ? Rule.otherwise(
                            Stream.of(when.substring("otherwise ".length()).split(" "))
                                    .map(point -> pointNamed(point, points).key())
                                    .collect(Collectors.toSet()))
                    : Rule.parse(when, point -> pointNamed(point, points));
            String words = node.text("words");
            String told = node.optionalText("told").orElse(words);
            if (!Rule.fills(told) || words.contains("{")) throw node.refusal("'told' names what cannot be filled in");
            return new Outcome(
                    named.key(),
                    words,
                    told,
                    node.neededNumber("usual"),
                    speaks(node),
                    Set.copyOf(node.texts("blinds")),
                    rule);
        } catch (Refusal refusal) {
            throw node.refusal(String.valueOf(refusal.getMessage()));
        }
    }

    private static Point pointNamed(String key, Map<String, Point> points) {
        Point point = points.get(key);
        if (point == null) throw new Refusal("there is no reading '" + key + "'");
        return point;
    }

    private static Point point(DataNode.Named named) {
        DataNode node = named.node();
        List<Unit> units = node.units("units");
        List<Choice> choices = node.each(
                "choices",
                choice -> new Choice(
                        choice.key(), choice.node().text("words"), choice.node().yesOrNo("good")));
        boolean series = Boolean.TRUE.equals(node.yesOrNo("series"));
        boolean codes = Boolean.TRUE.equals(node.yesOrNo("codes"));
        Point.Kind kind = series
                ? Point.Kind.SERIES
                : codes ? Point.Kind.CODES : choices.isEmpty() ? Point.Kind.NUMBER : Point.Kind.CHOICE;
        if (kind == Point.Kind.NUMBER && units.isEmpty()) throw node.refusal("'units' is missing");
        Dimension dimension = units.isEmpty() ? Dimension.COUNT : units.get(0).dimension();
        units.stream().filter(unit -> unit.dimension() != dimension).findFirst().ifPresent(unit -> {
            throw node.refusal("'" + unit.symbol() + "' is not " + dimension.words());
        });
        DataNode limit = node.child("limit");
        DataNode derived = node.child("derived");
        Limit own = limit == null ? null : limit(limit, units.get(0));
        List<Trait> limitNeeds = limit == null ? List.of() : limit.words("needs", Trait.class);
        if (limit != null) limit.close();
        Derivation derivation = derived == null
                ? null
                : new Derivation(derived.word("how", Derivation.How.class, Derivation.How.SUM), derived.texts("of"));
        if (derived != null) derived.close();
        Range possible = node.range("possible");
        String doubt = node.optionalText("doubt").orElse("");
        if (derivation != null && (possible == null) != doubt.isEmpty()) {
            throw node.refusal("a calculated value that is not always possible needs 'possible' and 'doubt'");
        }
        String at = node.optionalText("at").orElse("");
        return new Point(
                named.key(),
                node.text("label"),
                kind,
                node.word("per", Point.Per.class, Point.Per.ONCE),
                units,
                at,
                node.optionalText("where").orElse(at.isEmpty() ? "" : "at " + at.replaceFirst(", .*", "")),
                node.number("rpm"),
                possible,
                node.range("usual"),
                own,
                limitNeeds,
                choices,
                Boolean.TRUE.equals(node.yesOrNo("optional")),
                node.number("assumed"),
                derivation,
                node.optionalText("when-low").orElse(""),
                node.optionalText("when-high").orElse(""),
                node.optionalText("when-within").orElse(""),
                node.optionalText("unjudged").orElse(""),
                doubt,
                !Boolean.FALSE.equals(node.yesOrNo("compare")));
    }

    private static Limit limit(DataNode node, Unit unit) {
        Ground ground = node.word("ground", Ground.class, Ground.COMMON_PRACTICE);
        return new Limit(
                node.number("low"),
                node.number("high"),
                unit,
                ground,
                node.optionalText("citation").orElse(ground == Ground.COMMON_PRACTICE ? Limit.NO_SOURCE : ""));
    }

    private static <T> Map<String, T> byKey(List<T> entries, Function<T, String> key) {
        var map = new LinkedHashMap<String, T>();
        entries.forEach(entry -> map.put(key.apply(entry), entry));
        return java.util.Collections.unmodifiableMap(map);
    }
}
