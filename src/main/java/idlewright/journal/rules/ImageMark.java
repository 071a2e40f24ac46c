package idlewright.journal.rules;

import java.math.BigDecimal;
import java.time.Instant;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * Something drawn beside a picture, its place in percent of the picture from the upper left corner.
 *
 * @param x across: the circle's middle, the arrow's tip, or where the words begin
 * @param y down
 * @param toX a point on the circle's rim, or where the arrow begins; null for words
 * @param words what is written beside it; may be empty but for words alone
 */
public record ImageMark(
        long id,
        Kind kind,
        BigDecimal x,
        BigDecimal y,
        @Nullable BigDecimal toX,
        @Nullable BigDecimal toY,
        String words,
        String by,
        Instant at) {

    /** The ways to mark a picture. */
    public enum Kind {
        CIRCLE("circle"),
        ARROW("arrow"),
        WORDS("words");

        private final String word;

        Kind(String word) {
            this.word = word;
        }

        public String word() {
            return word;
        }
    }

    /** "circle at 40 % across, 30 % down: flow mark". */
    public String said() {
        return "%s at %s %% across, %s %% down%s"
                .formatted(kind.word(), plain(x), plain(y), words.isEmpty() ? "" : ": " + words);
    }

    private static String plain(BigDecimal percent) {
        return String.format(Locale.ROOT, "%.0f", percent);
    }
}
