package idlewright.people;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/** A program's key as the list shows it; the key itself is shown once, when it is made. */
public record ApiKey(
        long id,
        String name,
        String tail,
        String madeBy,
        Instant madeAt,
        @Nullable Instant usedAt,
        @Nullable Instant retiredAt) {}
