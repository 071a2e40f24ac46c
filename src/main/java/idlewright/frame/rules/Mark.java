package idlewright.frame.rules;

import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** How a verdict is drawn: its word, its shape and the name of its tint, in that order of weight. */
public enum Mark {
    WITHIN("within", "within", "\u25cf", "M0-7.5A7.5 7.5 0 1 1 0 7.5 7.5 7.5 0 1 1 0-7.5Z"),
    OUTSIDE("outside", "outside", "\u25b2", "M0-7 8 7H-8Z"),
    TOO_CLOSE("too close to call", "too-close", "\u25c6", "M0-8 8 0 0 8-8 0Z"),
    NOT_JUDGED("not judged", "not-judged", "\u25cb", "M0-6.5A6.5 6.5 0 1 1 0 6.5 6.5 6.5 0 1 1 0-6.5Z");

    private final String words;
    private final String css;
    private final String sign;
    private final String path;

    Mark(String words, String css, String sign, String path) {
        this.words = words;
        this.css = css;
        this.sign = sign;
        this.path = path;
    }

    public String getWords() {
        return words;
    }

    public String getCss() {
        return css;
    }

    /** The shape as a letter, for paper and plain text. */
    public String getSign() {
        return sign;
    }

    /** The shape about the point 0, 0, about 16 units across. */
    public String getPath() {
        return path;
    }

    /** The mark for a verdict given as a word or as any enum of that name; what is unknown counts as not judged. */
    public static Mark of(@Nullable Object verdict) {
        if (verdict instanceof Mark mark) {
            return mark;
        }
        String name = verdict == null ? "" : verdict instanceof Enum<?> e ? e.name() : verdict.toString();
        String word = name.strip().toLowerCase(Locale.ROOT).replace('_', ' ').replace('-', ' ');
        if (word.startsWith("within")) {
            return WITHIN;
        }
        if (word.startsWith("outside")) {
            return OUTSIDE;
        }
        return word.startsWith("too close") ? TOO_CLOSE : NOT_JUDGED;
    }
}
