package idlewright.bench.rules;

import idlewright.reference.verdict.Verdict;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * How a test is done.
 *
 * @param cautions shown before the first step; the maker's procedure, local codes and licensed practice come first
 * @param instruments what must be at hand
 * @param state key and engine while reading
 * @param needs circumstances without which it cannot be done
 * @param conditions in words, as the technician reads them
 * @param minutes usual time, setting up included (judgement)
 * @param after keys of procedures that should be done before
 * @param appliesTo traits without which it makes no sense on a vehicle
 * @param points what is read, then what is calculated from it
 * @param groups what can be told from it
 */
public record Procedure(
        String key,
        int version,
        String name,
        String purpose,
        Moment moment,
        List<String> cautions,
        List<InstrumentKind> instruments,
        KeyState state,
        List<Need> needs,
        List<String> conditions,
        List<String> steps,
        int minutes,
        List<String> after,
        List<Trait> appliesTo,
        List<Point> points,
        List<OutcomeGroup> groups) {

    /** The procedure whose series is the air-flow signal while the engine is pulled up. */
    static final String SWEEP = "sweep";

    /** When in a thread a procedure has its place. */
    public enum Moment {
        /** While the cause is sought, and again as proof. */
        SEEKING,
        /** Once the repair is done. */
        AFTER_REPAIR
    }

    public Procedure {
        cautions = List.copyOf(cautions);
        instruments = List.copyOf(instruments);
        needs = List.copyOf(needs);
        conditions = List.copyOf(conditions);
        steps = List.copyOf(steps);
        after = List.copyOf(after);
        appliesTo = List.copyOf(appliesTo);
        points = List.copyOf(points);
        groups = List.copyOf(groups);
    }

    public Optional<Point> point(String key) {
        return points.stream().filter(point -> point.key().equals(key)).findFirst();
    }

    /** Whether a log of the scan tool may give readings of it, or is all of it. */
    public boolean takesLogs() {
        return instruments.contains(InstrumentKind.SCAN_TOOL) || key.equals(SWEEP);
    }

    /** The points a person reads, without the calculated ones. */
    public List<Point> toRead() {
        return points.stream().filter(point -> !point.isDerived()).toList();
    }

    /**
     * Judges what was read and tells what it shows.
     *
     * @param further limits beside the catalogue's own, by key of the point: published ones, known good, physics
     * @throws Refusal if a reading names a point this procedure does not have
     */
    public TestResult read(Readings readings, VehicleFacts vehicle, Map<String, List<Limit>> further) {
        TestResult read = new Reader(this, vehicle, further).read(readings);
        boolean close = read.points().stream().anyMatch(point -> point.judged().verdict() == Verdict.TOO_CLOSE);
        return close
                ? FewDigits.named(read, readings, new Reader(this, vehicle, further).read(readings.finer()))
                : read;
    }
}
