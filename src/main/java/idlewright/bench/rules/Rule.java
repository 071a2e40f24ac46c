package idlewright.bench.rules;

import idlewright.reference.verdict.Verdict;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Set;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * When an outcome holds, in the catalogue's short sentences.
 *
 * <p>Clauses are joined by {@code and}, alternatives by {@code or} ({@code and} binds tighter), {@code not} turns one
 * clause round. A clause names a point and what is asked of it: {@code high}, {@code low}, {@code within},
 * {@code outside}, {@code doubtful} (outside or too close to call), {@code taken}, {@code above 5}, {@code below 5} (in the point's first unit), {@code is clean|dirty},
 * {@code shows flat-spot}, {@code smooth}, {@code has P0171|P03*}, {@code none}. Where a point is read at several
 * places one of them is enough, except for {@code within}; {@code every} and {@code one} before the point say
 * otherwise, and {@code all} asks for more than one place. What is joined by {@code and} and asked of one bank or
 * cylinder must hold at the same one. A bound counts only where the meter decides it: the whole
 * uncertainty lies beyond.
 */
public final class Rule {
    private static final Pattern CLAUSE =
            Pattern.compile("(not )?(?:(every|all|some|one) )?([a-z0-9-]+) ([a-z]+)(?: (\\S+))?");

    private static final Set<String> FILLED = Set.of("{where}", "{points}", "{places}", "{found}", "{seen}");

    private final String text;
    private final Predicate<TestResult> holds;
    private final Function<TestResult, List<PointResult>> by;

    private Rule(String text, Predicate<TestResult> holds) {
        this(text, holds, result -> List.of());
    }

    private Rule(String text, Predicate<TestResult> holds, Function<TestResult, List<PointResult>> by) {
        this.text = text;
        this.holds = holds;
        this.by = by;
    }

    /** A rule that never holds by itself: for answers, which are picked and not read. */
    static Rule never() {
        return new Rule("", result -> false);
    }

    /** Holds as soon as any of the points was taken; stands last in its group. */
    static Rule otherwise(Set<String> points) {
        return new Rule(
                "otherwise",
                result -> points.stream().anyMatch(point -> !result.at(point).isEmpty()));
    }

    /** @throws Refusal naming the clause that cannot be understood */
    static Rule parse(String text, Function<String, Point> points) {
        List<List<Clause>> alternatives = Arrays.stream(text.strip().split(" or "))
                .map(alternative -> Arrays.stream(alternative.strip().split(" and "))
                        .map(clause -> clause(clause.strip(), points))
                        .toList())
                .toList();
        return new Rule(
                text,
                result -> alternatives.stream().anyMatch(each -> holds(each, result)),
                result -> alternatives.stream()
                        .filter(each -> holds(each, result))
                        .flatMap(each -> each.stream().flatMap(clause -> clause.by().apply(result).stream()))
                        .distinct()
                        .toList());
    }

    /**
     * Fills words with the readings by which the rule holds: {@code {where}} "at idle and at 2,500 rpm", {@code {points}}
     * "signal at idle", {@code {places}} "cylinder 3", {@code {found}} "air filter: blocked", {@code {seen}} "blocked".
     */
    String tell(String words, TestResult result) {
        if (!words.contains("{")) return words;
        List<PointResult> shown = by.apply(result);
        return words.replace(
                        "{where}",
                        joined(shown.stream().map(each -> each.point().where())))
                .replace(
                        "{points}",
                        joined(shown.stream().map(each -> lower(each.point().label()))))
                .replace("{places}", joined(shown.stream().map(Rule::place)))
                .replace("{found}", joined(shown.stream().map(each -> lower(each.label()) + ": " + each.shown())))
                .replace("{seen}", joined(shown.stream().map(PointResult::shown)))
                .replaceAll(" {2,}", " ")
                .strip();
    }

    /** The names in braces that {@link #tell} knows. */
    static boolean fills(String words) {
        return Pattern.compile("\\{[^}]*}").matcher(words).results().allMatch(each -> FILLED.contains(each.group()));
    }

    private static String place(PointResult result) {
        return result.place() == 0 ? "" : result.point().per().words() + " " + result.place();
    }

    private static String lower(String label) {
        boolean word = label.length() > 1 && Character.isLowerCase(label.charAt(1));
        return word ? Character.toLowerCase(label.charAt(0)) + label.substring(1) : label;
    }

    private static String joined(Stream<String> parts) {
        List<String> each = parts.filter(part -> !part.isEmpty()).distinct().toList();
        return each.size() < 2
                ? String.join("", each)
                : String.join(", ", each.subList(0, each.size() - 1)) + " and " + each.get(each.size() - 1);
    }

    /**
     * One clause of an alternative.
     *
     * @param places where it holds; null where it does not hold at one place of several but as a whole
     * @param by the readings that make it hold; none for a clause turned round or about all places
     */
    private record Clause(
            Predicate<TestResult> holds,
            @Nullable Function<TestResult, Set<Integer>> places,
            Function<TestResult, List<PointResult>> by) {}

    /** All clauses hold, and those asked of one bank or cylinder hold at the same one. */
    private static boolean holds(List<Clause> clauses, TestResult result) {
        if (!clauses.stream().allMatch(each -> each.holds().test(result))) return false;
        List<Set<Integer>> places = clauses.stream()
                .map(Clause::places)
                .filter(Objects::nonNull)
                .map(each -> each.apply(result))
                .filter(each -> !each.contains(0))
                .toList();
        return places.isEmpty()
                || places.get(0).stream().anyMatch(place -> places.stream().allMatch(each -> each.contains(place)));
    }

    boolean holds(TestResult result) {
        return holds.test(result);
    }

    @Override
    public String toString() {
        return text;
    }

    private static Clause clause(String clause, Function<String, Point> points) {
        Matcher parts = CLAUSE.matcher(clause);
        if (!parts.matches()) throw new Refusal("the rule '" + clause + "' cannot be understood");
        Point point = points.apply(parts.group(3));
        String verb = parts.group(4);
        Predicate<PointResult> asked = asked(point, verb, parts.group(5), clause);
        String howMany = parts.group(2) != null ? parts.group(2) : verb.equals("within") ? "every" : "some";
        Predicate<TestResult> held = result -> {
            List<PointResult> places = result.at(point.key());
            long count = places.stream()
                    .filter(asked)
                    .filter(decided(point, verb, result))
                    .count();
            boolean open = places.stream().anyMatch(each -> is(each, Verdict.TOO_CLOSE));
            return switch (howMany) {
                case "every" -> !places.isEmpty() && count == places.size();
                case "all" -> places.size() > 1 && count == places.size();
                case "one" -> count == 1 && places.size() > 1 && !open;
                default -> count > 0;
            };
        };
        boolean names = parts.group(1) == null && !Set.of("within", "taken").contains(verb);
        Function<TestResult, List<PointResult>> by =
                result -> names ? result.at(point.key()).stream().filter(asked).toList() : List.of();
        if (parts.group(1) != null) return new Clause(held.negate(), null, by);
        Function<TestResult, Set<Integer>> places = result -> result.at(point.key()).stream()
                .filter(asked)
                .filter(decided(point, verb, result))
                .map(PointResult::place)
                .collect(Collectors.toSet());
        return new Clause(held, howMany.equals("some") && point.per() != Point.Per.ONCE ? places : null, by);
    }

    /** A bound asked of what is calculated from judged rows counts only where those rows are decided themselves. */
    private static Predicate<PointResult> decided(Point point, String verb, TestResult result) {
        Derivation derivation = point.derivation();
        if (derivation == null || !Set.of("above", "below").contains(verb)) return each -> true;
        return each -> derivation.of().stream()
                .flatMap(key -> result.at(key).stream())
                .filter(row -> row.place() == each.place() || row.place() == 0)
                .noneMatch(row -> is(row, Verdict.TOO_CLOSE));
    }

    private static Predicate<PointResult> asked(Point point, String verb, @Nullable String of, String clause) {
        boolean bare = Set.of("high", "low", "within", "outside", "doubtful", "taken", "smooth", "none")
                .contains(verb);
        if (bare != (of == null)) throw new Refusal("the rule '" + clause + "' cannot be understood");
        String what = of == null ? "" : of;
        return switch (verb) {
            case "high" ->
                result -> is(result, Verdict.OUTSIDE) && result.judged().side() == Side.HIGH;
            case "low" ->
                result -> is(result, Verdict.OUTSIDE) && result.judged().side() == Side.LOW;
            case "within" -> result -> is(result, Verdict.WITHIN);
            case "outside" -> result -> is(result, Verdict.OUTSIDE);
            case "doubtful" -> result -> is(result, Verdict.OUTSIDE) || is(result, Verdict.TOO_CLOSE);
            case "taken" -> result -> true;
            case "above" -> {
                double bound = number(what, clause);
                yield result -> result.value() != null
                        && result.valueIn(point.unit()) - result.uncertaintyIn(point.unit()) > bound;
            }
            case "below" -> {
                double bound = number(what, clause);
                yield result -> result.value() != null
                        && result.valueIn(point.unit()) + result.uncertaintyIn(point.unit()) < bound;
            }
            case "is" -> {
                List<String> choices = List.of(what.split("\\|"));
                choices.stream()
                        .filter(choice -> point.choice(choice).isEmpty())
                        .findFirst()
                        .ifPresent(choice -> {
                            throw new Refusal("the rule '" + clause + "' names '" + choice + "', which is no choice of "
                                    + point.key());
                        });
                yield result -> result.seen().stream().anyMatch(choices::contains);
            }
            case "shows" -> {
                List<String> marks = List.of(what.split("\\|"));
                marks.forEach(mark -> {
                    if (Arrays.stream(SeriesMark.values())
                            .noneMatch(each -> word(each).equals(mark))) {
                        throw new Refusal("the rule '" + clause + "' names '" + mark + "', which no series shows");
                    }
                });
                yield result -> result.seen().stream().anyMatch(marks::contains);
            }
            case "smooth", "none" -> result -> result.seen().isEmpty();
            case "has" -> {
                Pattern codes = Pattern.compile(what.replace("*", "[0-9A-F]*"));
                yield result -> result.seen().stream()
                        .anyMatch(code -> codes.matcher(code).matches());
            }
            default -> throw new Refusal("the rule '" + clause + "' asks '" + verb + "', which nothing answers");
        };
    }

    private static boolean is(PointResult result, Verdict verdict) {
        return result.judged().verdict() == verdict;
    }

    private static double number(String text, String clause) {
        try {
            return Double.parseDouble(text);
        } catch (NumberFormatException noNumber) {
            throw new Refusal("the rule '" + clause + "' compares with '" + text + "', which is no number");
        }
    }

    static String word(Enum<?> value) {
        return value.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
