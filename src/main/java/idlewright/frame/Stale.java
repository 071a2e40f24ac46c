package idlewright.frame;

import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** Somebody else saved first: nothing of either side is lost, and a person decides. */
public class Stale extends RuntimeException {

    /** One field that both changed. */
    public record Clash(String field, String yours, String theirs) {}

    private final String what;
    private final List<Clash> clashes;
    private final String who;
    private final @Nullable Instant when;
    private final String backUrl;

    public Stale(String what, List<Clash> clashes, String who, @Nullable Instant when, String backUrl) {
        super(what + " was changed by " + who + " in the meantime", null, false, false);
        this.what = what;
        this.clashes = List.copyOf(clashes);
        this.who = who;
        this.when = when;
        this.backUrl = backUrl;
    }

    public String what() {
        return what;
    }

    public List<Clash> clashes() {
        return clashes;
    }

    public String who() {
        return who;
    }

    public @Nullable Instant when() {
        return when;
    }

    public String backUrl() {
        return backUrl;
    }
}
