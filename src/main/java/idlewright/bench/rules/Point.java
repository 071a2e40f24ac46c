package idlewright.bench.rules;

import idlewright.reference.units.Unit;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * One reading a procedure asks for.
 *
 * @param units what the instrument may show; the first is the one limits and ranges are written in
 * @param at under which circumstances this point is read: "idle", "2,500 rpm parked"
 * @param rpm nominal speed in rpm where the point has one
 * @param where the same within a sentence: "at idle"
 * @param possible outside of it a value is refused; of a calculated one, doubted and not judged
 * @param usual outside of it, but inside when moved by one decimal place, a value is asked about once
 * @param limit the catalogue's own limit, the weakest there is
 * @param limitNeeds traits without which the catalogue's own limit does not apply
 * @param assumed taken when the point was not read
 * @param derivation how it is calculated; null where it is read
 * @param unjudged why there is no limit of the catalogue; empty where there is one
 * @param doubt what must be wrong where a calculated value is not possible, and what to do; begins in lower case
 * @param comparable whether the same reading of another healthy car says anything; not so where it only places or scales
 */
public record Point(
        String key,
        String label,
        Kind kind,
        Per per,
        List<Unit> units,
        String at,
        String where,
        @Nullable Double rpm,
        @Nullable Range possible,
        @Nullable Range usual,
        @Nullable Limit limit,
        List<Trait> limitNeeds,
        List<Choice> choices,
        boolean optional,
        @Nullable Double assumed,
        @Nullable Derivation derivation,
        String whenLow,
        String whenHigh,
        String whenWithin,
        String unjudged,
        String doubt,
        boolean comparable) {

    /** What is read at a point. */
    public enum Kind {
        NUMBER,
        CHOICE,
        SERIES,
        CODES
    }

    /** How often a point is read in one test. */
    public enum Per {
        ONCE(""),
        BANK("bank"),
        CYLINDER("cylinder");

        private final String words;

        Per(String words) {
            this.words = words;
        }

        public String words() {
            return words;
        }
    }

    public Point {
        units = List.copyOf(units);
        limitNeeds = List.copyOf(limitNeeds);
        choices = List.copyOf(choices);
    }

    public boolean isDerived() {
        return derivation != null;
    }

    /** The unit its limits and ranges are written in. */
    public Unit unit() {
        return units.get(0);
    }

    public Optional<Choice> choice(String key) {
        return choices.stream().filter(choice -> choice.key().equals(key)).findFirst();
    }

    /** "Compression", "Compression, cylinder 3". */
    public String labelAt(int place) {
        return place == 0 ? label : label + ", " + per.words() + " " + place;
    }

    /**
     * Whether a last zero may decide a verdict, so that every digit shown should be typed; not so for what is counted.
     */
    public boolean everyDigitCounts() {
        return kind == Kind.NUMBER && !isDerived() && !unit().counts();
    }

    /** What a verdict means at this point, in words; empty where the catalogue has nothing to add. */
    public String meaning(Judged judged) {
        return switch (judged.verdict()) {
            case WITHIN -> whenWithin;
            case OUTSIDE -> judged.side() == Side.LOW ? whenLow : judged.side() == Side.HIGH ? whenHigh : "";
            case TOO_CLOSE, NOT_JUDGED -> "";
        };
    }
}
