package idlewright.frame.rules;

import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/** Cells of a table that others open in a spreadsheet. */
public final class Cells {

    private static final Pattern NUMBER = Pattern.compile("[+-]?\\d+(\\.\\d+)?");

    private Cells() {}

    /** The text so that no spreadsheet calculates it; a plain number, also a negative one, stays a number. */
    public static String safe(@Nullable String text) {
        if (text == null || text.isEmpty() || NUMBER.matcher(text).matches()) {
            return text == null ? "" : text;
        }
        return "=+-@\t\r\n".indexOf(text.charAt(0)) >= 0 ? "'" + text : text;
    }
}
