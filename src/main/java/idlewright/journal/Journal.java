package idlewright.journal;

import idlewright.journal.rules.Entry;
import idlewright.journal.rules.Verification;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** The append-only, hash-chained record of who did what. */
@Component
public class Journal {

    /**
     * Notes an act in the caller's transaction; it is sealed into the chain just before the commit, so it is not to be
     * read back before then. Facts are strings, whole numbers, BigDecimals (kept as strings), booleans, enums,
     * temporal values, null, lists and maps of these. Never a customer's personal data: it could not be removed again.
     */
    public void note(String kind, @Nullable Integer ticket, String sentence, Map<String, ?> facts) {
        throw new UnsupportedOperationException("not yet built");
    }

    public Verification verify() {
        throw new UnsupportedOperationException("not yet built");
    }

    /** Hash of the newest entry. */
    public String head() {
        throw new UnsupportedOperationException("not yet built");
    }

    /** All that was noted about a ticket, oldest first. */
    public List<Entry> of(int ticket) {
        throw new UnsupportedOperationException("not yet built");
    }

    /** The newest entries before the given one, newest first. */
    public List<Entry> latest(int limit, long beforeId) {
        throw new UnsupportedOperationException("not yet built");
    }
}
