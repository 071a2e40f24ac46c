package idlewright.reference.obd.log;

import java.util.Locale;
import java.util.Set;
import java.util.regex.Pattern;

/**
 * Numbers out of character ranges, without a String for the usual "-?digits.digits".
 *
 * <p>Exact: a mantissa below 2^53 divided by a power of ten up to 10^22 is rounded once, as Double.parseDouble does.
 */
final class Cells {
    static final byte NUMBER = 0;
    /** Blank, or one of the words by which tools say that a value is not there. */
    static final byte NOTHING = 1;

    static final byte TEXT = 2;

    private static final int LONGEST_NUMBER = 48;
    private static final Pattern HEX = Pattern.compile("[xX]?[0-9A-Fa-f]*");
    private static final Pattern GROUPED_BY_POINTS = Pattern.compile("[-+]?\\d{1,3}(\\.\\d{3})+");
    private static final Pattern GROUPED_BY_COMMAS = Pattern.compile("[-+]?\\d{1,3}(,\\d{3})+");
    private static final double[] POWERS = {
        1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18
    };
    private static final Set<String> NOTHING_WORDS = Set.of(
            "-",
            "--",
            "---",
            "----",
            "n/a",
            "na",
            "n.a.",
            "nan",
            "null",
            "nil",
            "none",
            "no data",
            "nodata",
            "no_data",
            "not available",
            "not supported",
            "unsupported",
            "?",
            "error",
            "inf",
            "+inf",
            "-inf",
            "infinity",
            "-infinity",
            "\u221e",
            "\u2013",
            "\u2014",
            "#n/a",
            "k.a.",
            "*");

    private final char decimal;

    /** How the last cell read: NUMBER, NOTHING or TEXT. */
    byte outcome;

    Cells(char decimal) {
        this.decimal = decimal;
    }

    /** The number in the trimmed range, or NaN with {@link #outcome} saying why not. */
    double read(char[] text, int from, int to) {
        if (from >= to) {
            outcome = NOTHING;
            return Double.NaN;
        }
        int at = from;
        char first = text[at];
        if (first == '-' || first == '+') {
            at++;
        }
        if (to - at > 19) {
            return readSlowly(text, from, to);
        }
        long mantissa = 0;
        int point = -1;
        for (int i = at; i < to; i++) {
            int digit = text[i] - '0';
            if (digit >= 0 && digit <= 9) {
                mantissa = mantissa * 10 + digit;
            } else if (text[i] == decimal && point < 0) {
                point = i;
            } else {
                return readSlowly(text, from, to);
            }
        }
        int digits = to - at - (point < 0 ? 0 : 1);
        if (digits == 0 || digits > 18 || mantissa > 1L << 53) {
            return readSlowly(text, from, to);
        }
        outcome = NUMBER;
        double size = point < 0 ? mantissa : mantissa / POWERS[to - point - 1];
        return first == '-' ? -size : size;
    }

    private double readSlowly(char[] text, int from, int to) {
        if (to - from > LONGEST_NUMBER) {
            outcome = TEXT;
            return Double.NaN;
        }
        String cell = new String(text, from, to - from).strip().replace('\u2212', '-');
        if (cell.isEmpty() || NOTHING_WORDS.contains(cell.toLowerCase(Locale.ROOT))) {
            outcome = NOTHING;
            return Double.NaN;
        }
        int end = numberEnd(cell);
        if (end == 0 || !unitOrNothing(cell, end)) {
            outcome = TEXT;
            return Double.NaN;
        }
        String number = plain(cell.substring(0, end));
        if (number.isEmpty()) {
            outcome = TEXT;
            return Double.NaN;
        }
        double value;
        try {
            value = Double.parseDouble(number);
        } catch (NumberFormatException notANumber) {
            outcome = TEXT;
            return Double.NaN;
        }
        outcome = Double.isFinite(value) ? NUMBER : NOTHING;
        return Double.isFinite(value) ? value : Double.NaN;
    }

    /** End of sign, digits with separators, and exponent. */
    private static int numberEnd(String cell) {
        int i = cell.charAt(0) == '-' || cell.charAt(0) == '+' ? 1 : 0;
        int start = i;
        while (i < cell.length() && (isDigit(cell.charAt(i)) || cell.charAt(i) == '.' || cell.charAt(i) == ',')) {
            i++;
        }
        if (i == start) {
            return 0;
        }
        if (i + 1 < cell.length() && (cell.charAt(i) == 'e' || cell.charAt(i) == 'E')) {
            int e = i + 1;
            if (cell.charAt(e) == '-' || cell.charAt(e) == '+') {
                e++;
            }
            int digits = e;
            while (e < cell.length() && isDigit(cell.charAt(e))) {
                e++;
            }
            if (e > digits) {
                return e;
            }
        }
        return i;
    }

    /** "12.5 V" and "85%" are numbers; "7F", "12:30" and "3-4" are not. */
    private static boolean unitOrNothing(String cell, int end) {
        if (end == cell.length()) {
            return true;
        }
        String rest = cell.substring(end);
        String unit = rest.strip();
        if (unit.length() > 12 || !(Character.isLetter(unit.charAt(0)) || "%\u00b0\"".indexOf(unit.charAt(0)) >= 0)) {
            return false;
        }
        boolean apart = unit.length() < rest.length();
        return apart || !HEX.matcher(unit).matches();
    }

    /** Thousands separators out, decimal point in; empty when the separators make no number. */
    private String plain(String number) {
        char thousands = decimal == ',' ? '.' : ',';
        int lastThousands = number.lastIndexOf(thousands);
        int lastDecimal = number.lastIndexOf(decimal);
        if (lastThousands < 0) {
            return number.indexOf(decimal) == lastDecimal ? number.replace(decimal, '.') : "";
        }
        String whole = lastDecimal < 0 ? number : number.substring(0, lastDecimal);
        Pattern grouped = thousands == '.' ? GROUPED_BY_POINTS : GROUPED_BY_COMMAS;
        if (grouped.matcher(whole).matches()) {
            String rest = lastDecimal < 0 ? "" : number.substring(lastDecimal).replace(decimal, '.');
            return whole.replace(String.valueOf(thousands), "") + rest;
        }
        // One separator of the other kind that cannot group thousands is a decimal mark after all.
        boolean single = number.indexOf(thousands) == lastThousands && lastDecimal < 0;
        return single ? number.replace(thousands, '.') : "";
    }

    static boolean isDigit(char c) {
        return c >= '0' && c <= '9';
    }
}
