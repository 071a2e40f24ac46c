package idlewright.repair.rules;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import org.jspecify.annotations.Nullable;

/**
 * A time somebody worked.
 *
 * @param to null while it runs
 */
public record Clocking(Instant from, @Nullable Instant to) {

    public Clocking {
        if (to != null && to.isBefore(from)) {
            throw new IllegalArgumentException("It ends before it begins: " + from + " to " + to);
        }
    }

    /** Whole seconds, up to now while it runs; never below 0. */
    public long seconds(Instant now) {
        return Math.max(0, Duration.between(from, to == null ? now : to).toSeconds());
    }

    /** Whether any moment belongs to both; one may begin when the other ends. */
    public boolean overlaps(Clocking other, Instant now) {
        Instant end = to == null ? now : to;
        Instant otherEnd = other.to == null ? now : other.to;
        return from.isBefore(otherEnd) && other.from.isBefore(end);
    }

    /** Whether it ran over a day's end, as a clock does that nobody stopped. */
    public boolean pastMidnight(ZoneId zone, Instant now) {
        return !from.atZone(zone)
                .toLocalDate()
                .equals((to == null ? now : to).atZone(zone).toLocalDate());
    }

    /** Hours and minutes: "0:42", "12:05"; seconds over are left off. */
    public static String words(long seconds) {
        return "%d:%02d".formatted(seconds / 3600, seconds / 60 % 60);
    }
}
