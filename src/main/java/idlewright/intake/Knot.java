package idlewright.intake;

import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * One entry on a thread: place 0 is the whole ticket; no moment means still open. What it said is a plain sentence that a
 * customer understands; the fragment, when there is one, draws the room's own record ({@code model}).
 */
public record Knot(
        int place,
        @Nullable Instant at,
        @Nullable String who,
        Chapter chapter,
        String title,
        String said,
        @Nullable String fragment,
        @Nullable Object model,
        List<Act> acts) {

    /** A knot without a picture of its own. */
    public static Knot told(int place, Instant at, String who, Chapter chapter, String title, String said) {
        return new Knot(place, at, who, chapter, title, said, null, null, List.of());
    }

    /** Something that is still missing. */
    public static Knot open(int place, Chapter chapter, String title, String said, Act... acts) {
        return new Knot(place, null, null, chapter, title, said, null, null, List.of(acts));
    }

    public Knot with(String fragment, Object model) {
        return new Knot(place, at, who, chapter, title, said, fragment, model, acts);
    }

    public Knot with(Act... acts) {
        return new Knot(place, at, who, chapter, title, said, fragment, model, List.of(acts));
    }

    public boolean open() {
        return at == null;
    }
}
