package idlewright.reference.trim;

import java.util.List;

/**
 * A pattern seen in the trims, in words, and the suspects it points to, likeliest first.
 *
 * @param bank 1 or 2, or 0 when it concerns both or the only one
 */
public record TrimPattern(Kind kind, int bank, String words, List<Suspect> suspects) {

    /** The named patterns. All are common practice, no source. */
    public enum Kind {
        LEAN_AT_IDLE,
        LEAN_WITH_LOAD,
        LEAN_THROUGHOUT,
        RICH_AT_IDLE,
        RICH_WITH_LOAD,
        RICH_THROUGHOUT,
        RICH_AT_IDLE_LEAN_WITH_LOAD,
        LEAN_AT_IDLE_RICH_WITH_LOAD,
        /** Beyond the limit, but read in one band only. */
        ONE_POINT,
        BANKS_OPPOSED,
        OLD_CORRECTION
    }

    public TrimPattern {
        suspects = List.copyOf(suspects);
    }
}
