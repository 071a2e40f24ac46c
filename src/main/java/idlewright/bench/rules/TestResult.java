package idlewright.bench.rules;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * What one test showed.
 *
 * @param points every reading, also the calculated ones, in the procedure's order
 * @param outcomes what can be told from them; at most one of each group
 * @param missing labels of readings still to take
 */
public record TestResult(Procedure procedure, List<PointResult> points, List<Outcome> outcomes, List<String> missing) {

    public TestResult {
        points = List.copyOf(points);
        outcomes = List.copyOf(outcomes);
        missing = List.copyOf(missing);
    }

    /** The outcomes as evidence for the ranking of causes. */
    public List<Evidence> evidence(Instant taken) {
        return outcomes.stream()
                .map(outcome -> new Evidence(procedure.key(), outcome.key(), taken))
                .toList();
    }

    /** What cannot be with the reading at one place of a point, as a question; nothing where all can be. */
    public Optional<String> doubt(String point, int place) {
        return points.stream()
                .filter(result -> result.point().derivation() != null
                        && result.point().derivation().of().contains(point)
                        && (place == 0 || result.place() == 0 || result.place() == place))
                .flatMap(result -> result.doubt().stream()
                        .map(doubt -> result.label() + " would be " + result.shown() + ". "
                                + Character.toUpperCase(doubt.charAt(0)) + doubt.substring(1)
                                + " Keep it only if it is the other figure that is wrong, and correct that one."))
                .findFirst();
    }

    /** Readings at one point, by place. */
    public List<PointResult> at(String point) {
        return points.stream()
                .filter(result -> result.point().key().equals(point))
                .toList();
    }
}
