package idlewright.people;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/** A browser in the bay that was enrolled for the change by PIN. */
public record Terminal(
        long id,
        String name,
        Instant enrolledAt,
        String enrolledBy,
        @Nullable Instant retiredAt) {}
