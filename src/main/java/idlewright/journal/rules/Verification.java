package idlewright.journal.rules;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * What a walk along the whole chain found.
 *
 * @param entries how many entries were sound, counted from the first
 * @param head hash of the last sound entry
 * @param fault the first thing that is wrong; null when all is sound
 * @param knownAt the entry whose hash is the head that was asked about; null when none was asked about or it was not met
 */
public record Verification(
        long entries,
        String head,
        Instant at,
        @Nullable Fault fault,
        @Nullable Long knownAt) {

    /** The first bad entry and what is wrong with it. */
    public record Fault(long entry, Kind kind, String sentence) {}

    /** What can be wrong with a chain. */
    public enum Kind {
        /** What the entry says is not what was sealed. */
        CHANGED,
        /** The number is not there. */
        MISSING,
        /** The entry does not follow the one before it. */
        OUT_OF_PLACE,
        /** The newest entries are gone, or there are more than were ever sealed. */
        CUT_OFF,
        /** The head kept elsewhere does not occur in this journal. */
        OTHER_HEAD
    }

    public boolean sound() {
        return fault == null;
    }

    public String sentence() {
        return fault == null ? "All %,d entries are as they were written.".formatted(entries) : fault.sentence();
    }
}
