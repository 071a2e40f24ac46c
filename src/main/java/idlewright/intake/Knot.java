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
        List<Figure> figures,
        List<Act> acts) {

    /** One reading in words, for paper: "2,500 rpm", "9.6 g/s", "outside", "known good 11.4 to 13.9 g/s"; after the repair or not. */
    public record Figure(String label, String shown, String verdict, String ground, boolean after) {}

    /** A knot without a picture of its own. */
    public static Knot told(int place, Instant at, String who, Chapter chapter, String title, String said) {
        return new Knot(place, at, who, chapter, title, said, null, null, List.of(), List.of());
    }

    /** Something that is still missing. */
    public static Knot open(int place, Chapter chapter, String title, String said, Act... acts) {
        return new Knot(place, null, null, chapter, title, said, null, null, List.of(), List.of(acts));
    }

    public Knot with(String fragment, Object model) {
        return new Knot(place, at, who, chapter, title, said, fragment, model, figures, acts);
    }

    public Knot with(Act... acts) {
        return new Knot(place, at, who, chapter, title, said, fragment, model, figures, List.of(acts));
    }

    public Knot with(List<Figure> figures) {
        return new Knot(place, at, who, chapter, title, said, fragment, model, figures, acts);
    }

    public boolean open() {
        return at == null;
    }
}
