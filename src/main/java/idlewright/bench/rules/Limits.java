package idlewright.bench.rules;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/** Which of several limits counts. */
public final class Limits {
    private Limits() {}

    /** Published before known good before physics before common practice; among equals the first given. */
    public static Optional<Limit> choose(List<Limit> limits) {
        return limits.stream().min(Comparator.comparing(Limit::ground));
    }
}
