package idlewright.intake.rules;

import java.time.Duration;
import java.util.List;
import java.util.Optional;

/** How long a letter waits between its tries: longer each time, and a day and a half in all. */
public final class Patience {

    private static final List<Duration> WAITS = List.of(
            Duration.ofMinutes(1),
            Duration.ofMinutes(5),
            Duration.ofMinutes(20),
            Duration.ofHours(1),
            Duration.ofHours(3),
            Duration.ofHours(8),
            Duration.ofHours(24));

    private Patience() {}

    /** The wait after so many tries that failed, from 1; none when it is enough. */
    public static Optional<Duration> after(int tries) {
        return tries <= WAITS.size() ? Optional.of(WAITS.get(Math.max(1, tries) - 1)) : Optional.empty();
    }
}
