package idlewright.bench.rules;

import idlewright.reference.air.Airflow;
import idlewright.reference.air.Atmosphere;
import idlewright.reference.air.Engine;
import idlewright.reference.units.Unit;
import idlewright.reference.verdict.Verdict;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.DoubleBinaryOperator;
import java.util.stream.Collectors;

/** Reads one test: every reading with its verdict, what follows by calculation, and what it all shows. */
final class Reader {
    /** Stands in where the number is not on file: it cancels out of the absolute load. */
    private static final int USUAL_CYLINDERS = 4;

    private final Procedure procedure;
    private final VehicleFacts vehicle;
    private final Map<String, List<Limit>> further;
    private final Map<String, Accuracy> accuracies = new HashMap<>();
    private final List<PointResult> results = new ArrayList<>();

    Reader(Procedure procedure, VehicleFacts vehicle, Map<String, List<Limit>> further) {
        this.procedure = procedure;
        this.vehicle = vehicle;
        this.further = further;
    }

    TestResult read(Readings readings) {
        for (String point : readings.points()) {
            if (procedure.point(point).isEmpty()) {
                throw new Refusal(procedure.name() + " has no reading '" + point + "'.");
            }
        }
        var missing = new ArrayList<String>();
        for (Point point : procedure.points()) {
            if (point.derivation() != null) {
                derive(point, point.derivation());
                continue;
            }
            List<Readings.Raw> taken = readings.at(point.key());
            taken.forEach(raw -> results.add(judge(point, raw)));
            if (taken.isEmpty() && point.assumed() != null) {
                results.add(number(point, 0, point.assumed(), point.unit(), 0, "assumed, not read"));
            }
            missing(point, taken).forEach(missing::add);
        }
        var read = new TestResult(procedure, results, List.of(), missing);
        List<Outcome> outcomes = procedure.groups().stream()
                .map(group -> group.read(read))
                .flatMap(Optional::stream)
                .toList();
        return new TestResult(procedure, results, outcomes, missing);
    }

    private List<String> missing(Point point, List<Readings.Raw> taken) {
        if (point.optional() || point.assumed() != null) return List.of();
        Integer places = switch (point.per()) {
            case ONCE -> Integer.valueOf(0);
            case BANK -> vehicle.banks();
            case CYLINDER -> vehicle.cylinders();
        };
        if (places == null || places < 1) return taken.isEmpty() ? List.of(point.label()) : List.of();
        Set<Integer> seen = taken.stream().map(Readings.Raw::place).collect(Collectors.toSet());
        var missing = new ArrayList<String>();
        for (int place = 1; place <= places; place++) {
            if (!seen.contains(place)) missing.add(point.labelAt(place));
        }
        return missing;
    }

    private PointResult judge(Point point, Readings.Raw raw) {
        if (raw instanceof Readings.NumberRead read) {
            if (point.kind() != Point.Kind.NUMBER) throw new Refusal(point.label() + " is not a number.");
            accuracies.put(point.key(), read.accuracy());
            double value = read.value();
            String remark = "";
            if (Entry.probesReversed(point, value, read.unit())) {
                value = -value;
                remark = Entry.PROBES_REVERSED;
            }
            return number(
                    point, read.place(), value, read.unit(), read.accuracy().expanded(value), remark);
        }
        return seen(point, (Readings.Seen) raw);
    }

    private PointResult number(Point point, int place, double value, Unit unit, double uncertainty, String remark) {
        List<Limit> limits = new ArrayList<>(further.getOrDefault(point.key(), List.of()));
        if (point.limit() != null && vehicle.mayHave(point.limitNeeds())) limits.add(point.limit());
        Optional<Limit> limit = Limits.choose(limits);
        String unjudged =
                doubtful(point, value, unit, uncertainty) ? point.doubt() : limit.isEmpty() ? point.unjudged() : "";
        Judged judged = unjudged.isEmpty()
                ? Judge.judge(value, unit, uncertainty, limit.orElse(null))
                : new Judged(Verdict.NOT_JUDGED, Side.NONE, uncertainty, null, "Not judged: " + unjudged);
        var result = new PointResult(point, place, value, unit, Set.of(), Figures.of(value, unit), judged, remark);
        return point.isDerived() ? result.rounded(Figures.calculated(value, uncertainty)) : result;
    }

    /** What follows from two readings cannot be, whatever the meter's uncertainty: one of them is wrong. */
    private static boolean doubtful(Point point, double value, Unit unit, double uncertainty) {
        Range possible = point.possible();
        if (!point.isDerived()
                || possible == null
                || unit.dimension() != point.unit().dimension()) return false;
        double low = Judge.convert(value - uncertainty, unit, point.unit());
        double high = Judge.convert(value + uncertainty, unit, point.unit());
        return high < possible.low() || low > possible.high();
    }

    private PointResult seen(Point point, Readings.Seen seen) {
        String shown;
        Judged judged;
        switch (point.kind()) {
            case CHOICE -> {
                String key = seen.what().iterator().next();
                Choice picked = point.choice(key)
                        .orElseThrow(() -> new Refusal(point.label() + " has no choice '" + key + "'."));
                shown = picked.words();
                Boolean good = picked.good();
                judged = good == null
                        ? Judged.notJudged("Not judged: neither good nor bad by itself.")
                        : Judged.seen(good, (good ? "Nothing wrong seen: " : "Seen: ") + shown + ".");
            }
            case SERIES -> {
                shown = seen.what().isEmpty()
                        ? "smooth"
                        : seen.what().stream()
                                .sorted()
                                .collect(Collectors.joining(", "))
                                .replace('-', ' ');
                judged = seen.what().contains(Rule.word(SeriesMark.NOT_JUDGED))
                        ? Judged.notJudged("Not judged: the recording shows no sweep that could be.")
                        : Judged.seen(
                                seen.what().isEmpty(),
                                "The series is " + (seen.what().isEmpty() ? "smooth." : "not smooth: " + shown + "."));
            }
            case CODES -> {
                shown = seen.what().isEmpty()
                        ? "no codes"
                        : seen.what().stream().sorted().collect(Collectors.joining(", "));
                judged = !point.unjudged().isEmpty()
                        ? Judged.notJudged("Not judged: " + point.unjudged())
                        : Judged.seen(
                                seen.what().isEmpty(),
                                point.label() + ": " + (seen.what().isEmpty() ? "none" : shown) + ".");
            }
            default -> throw new Refusal(point.label() + " needs a number.");
        }
        return new PointResult(point, seen.place(), null, null, seen.what(), shown, judged, "");
    }

    private void derive(Point point, Derivation derivation) {
        List<List<PointResult>> arguments =
                derivation.of().stream().map(this::numbersAt).toList();
        if (derivation.how().gathersPlaces) {
            List<PointResult> all = arguments.stream().flatMap(List::stream).toList();
            if (all.size() > 1) results.add(gathered(point, derivation.how(), all));
            return;
        }
        if (arguments.stream().anyMatch(List::isEmpty)) return;
        Map<Integer, List<PointResult>> byPlace = new TreeMap<>();
        Set<Integer> places = arguments.stream().max(Comparator.comparingInt(List::size)).orElseThrow().stream()
                .map(PointResult::place)
                .collect(Collectors.toSet());
        for (int place : places) {
            List<PointResult> row = arguments.stream()
                    .flatMap(argument -> argument.stream()
                            .filter(each -> each.place() == place || each.place() == 0)
                            .limit(1))
                    .toList();
            if (row.size() == arguments.size()) byPlace.put(place, row);
        }
        byPlace.forEach(
                (place, row) -> calculated(point, derivation, place, row).ifPresent(results::add));
    }

    private List<PointResult> numbersAt(String key) {
        return results.stream()
                .filter(result -> result.point().key().equals(key) && result.value() != null)
                .toList();
    }

    private PointResult gathered(Point point, Derivation.How how, List<PointResult> all) {
        Unit unit = all.get(0).point().unit();
        double mean =
                all.stream().mapToDouble(each -> each.valueIn(unit)).average().orElseThrow();
        Comparator<PointResult> byValue = Comparator.comparingDouble(each -> each.valueIn(unit));
        PointResult lowest = all.stream().min(byValue).orElseThrow();
        PointResult highest = all.stream().max(byValue).orElseThrow();
        PointResult farthest = all.stream()
                .max(Comparator.comparingDouble(each -> Math.abs(each.valueIn(unit) - mean)))
                .orElseThrow();
        double low = lowest.valueIn(unit);
        double high = highest.valueIn(unit);
        double both = Math.hypot(lowest.uncertaintyIn(unit), highest.uncertaintyIn(unit));
        return switch (how) {
            case LOWEST_OF_HIGHEST -> {
                double share = high == 0 ? 0 : 100 * low / high;
                double relative = Math.hypot(relative(lowest, unit), relative(highest, unit));
                yield number(point, 0, share, Unit.PERCENT, share * relative, "lowest: " + named(lowest));
            }
            case SPREAD, APART ->
                number(point, 0, high - low, point.unit(), both, "from " + named(lowest) + " to " + named(highest));
            case FARTHEST_FROM_MEAN ->
                number(
                        point,
                        0,
                        Math.abs(farthest.valueIn(unit) - mean),
                        point.unit(),
                        farthest.uncertaintyIn(unit),
                        "farthest: " + named(farthest));
            case HIGHEST -> number(point, 0, high, unit, highest.uncertaintyIn(unit), "at " + named(highest));
            default -> throw new Refusal(how + " does not gather readings.");
        };
    }

    private static String named(PointResult result) {
        return result.place() == 0
                ? result.point().label().toLowerCase(java.util.Locale.ROOT)
                : result.point().per().words() + " " + result.place();
    }

    private Optional<PointResult> calculated(Point point, Derivation derivation, int place, List<PointResult> of) {
        PointResult first = of.get(0);
        PointResult second = of.get(1);
        Unit unit = first.point().unit();
        return switch (derivation.how()) {
            case SUM -> Optional.of(combine(point, place, unit, first, second, Double::sum));
            case DIFFERENCE -> Optional.of(difference(point, place, asTaken(first, second), first, second));
            case PERCENT_OF -> {
                double part = first.valueIn(unit);
                double whole = second.valueIn(unit);
                if (whole == 0) yield Optional.empty();
                double share = 100 * part / whole;
                double relative = Math.hypot(relative(first, unit), relative(second, unit));
                yield Optional.of(number(point, place, share, Unit.PERCENT, Math.abs(share) * relative, ""));
            }
            case ABSOLUTE_LOAD -> load(point, place, first, second, Atmosphere.LOAD_REFERENCE.pressureKpa());
            case FILLING -> load(point, place, first, second, of.get(2).valueIn(Unit.KILOPASCAL));
            default -> throw new Refusal(derivation.how() + " gathers readings.");
        };
    }

    private PointResult combine(
            Point point, int place, Unit unit, PointResult first, PointResult second, DoubleBinaryOperator how) {
        double value = how.applyAsDouble(first.valueIn(unit), second.valueIn(unit));
        return number(point, place, value, unit, Math.hypot(first.uncertaintyIn(unit), second.uncertaintyIn(unit)), "");
    }

    /** A difference is read in the unit both were taken in, so that it can be checked in the head. */
    private static Unit asTaken(PointResult first, PointResult second) {
        Unit taken = first.unit();
        return taken != null && taken == second.unit() ? taken : first.point().unit();
    }

    private PointResult difference(Point point, int place, Unit unit, PointResult first, PointResult second) {
        double value = first.valueIn(unit) - second.valueIn(unit);
        Accuracy accuracy = accuracies.get(first.point().key());
        Accuracy other = accuracies.get(second.point().key());
        boolean oneUnit = unit == first.unit() && unit == second.unit();
        double uncertainty = accuracy != null && other != null && oneUnit && accuracy.sameInstrument(other)
                ? accuracy.expandedDifference(value, other)
                : Math.hypot(first.uncertaintyIn(unit), second.uncertaintyIn(unit));
        Unit shown = point.unit().dimension() == unit.dimension() ? unit : point.unit();
        return number(point, place, value, shown, uncertainty, "");
    }

    private Optional<PointResult> load(Point point, int place, PointResult flow, PointResult rpm, double kilopascals) {
        Double litres = vehicle.displacementLitres();
        double turning = rpm.valueIn(Unit.RPM);
        if (litres == null || litres <= 0 || turning <= 0) return Optional.empty();
        Integer cylinders = vehicle.cylinders();
        double standard = Airflow.absoluteLoadPercent(
                Engine.fourStroke(litres, cylinders == null ? USUAL_CYLINDERS : cylinders),
                flow.valueIn(Unit.GRAM_PER_SECOND),
                turning);
        double percent = standard * Atmosphere.LOAD_REFERENCE.pressureKpa() / kilopascals;
        double relative = Math.hypot(relative(flow, Unit.GRAM_PER_SECOND), relative(rpm, Unit.RPM));
        return Optional.of(number(point, place, percent, Unit.PERCENT, percent * relative, ""));
    }

    private static double relative(PointResult result, Unit unit) {
        double value = Math.abs(result.valueIn(unit));
        return value == 0 ? 0 : result.uncertaintyIn(unit) / value;
    }
}
