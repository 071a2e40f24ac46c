package idlewright.intake;

import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * One entry on a thread: place 0 is the whole ticket; no moment means still open. What it said is a plain sentence that a
 * customer understands; the fragment, when there is one, draws the room's own record ({@code model}).
 *
 * @param paper what an invoice says in the place of title and words, because those would be too long for a letter; blank for
 *     nothing, null where title and words do
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
        List<Act> acts,
        @Nullable String paper) {

    public Knot(
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
        this(place, at, who, chapter, title, said, fragment, model, figures, acts, null);
    }

    /** One reading in words, for paper: "2,500 rpm", "9.6 g/s", "outside", "known good 11.4 to 13.9 g/s"; after the repair or not. */
    public record Figure(
            String label,
            String shown,
            String verdict,
            String ground,
            boolean after,
            @Nullable Scale scale) {

        public boolean good() {
            return verdict.equals("within") || verdict.equals("in order");
        }
    }

    /** Where a number lies against its limits, all in the unit it is shown in; a limit may be missing. */
    public record Scale(@Nullable Double low, @Nullable Double high, double value) {}

    /** A knot without a picture of its own. */
    public static Knot told(int place, Instant at, String who, Chapter chapter, String title, String said) {
        return new Knot(place, at, who, chapter, title, said, null, null, List.of(), List.of());
    }

    /** Something that is still missing. */
    public static Knot open(int place, Chapter chapter, String title, String said, Act... acts) {
        return new Knot(place, null, null, chapter, title, said, null, null, List.of(), List.of(acts));
    }

    public Knot with(String fragment, Object model) {
        return new Knot(place, at, who, chapter, title, said, fragment, model, figures, acts, paper);
    }

    public Knot onPaper(String paper) {
        return new Knot(place, at, who, chapter, title, said, fragment, model, figures, acts, paper);
    }

    public Knot with(Act... acts) {
        return new Knot(place, at, who, chapter, title, said, fragment, model, figures, List.of(acts), paper);
    }

    public Knot with(List<Figure> figures) {
        return new Knot(place, at, who, chapter, title, said, fragment, model, figures, acts, paper);
    }

    public boolean open() {
        return at == null;
    }
}
