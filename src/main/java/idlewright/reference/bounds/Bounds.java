package idlewright.reference.bounds;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.Locale;

/** Refuses numbers that cannot be, naming what was expected. */
public final class Bounds {

    private Bounds() {}

    /**
     * Gives the value back when {@code low <= value <= high}.
     *
     * @throws IllegalArgumentException otherwise, or when the value is not a number; the message names the range
     */
    public static double within(String what, double value, double low, double high, String unit) {
        if (value >= low && value <= high) {
            return value;
        }
        String in = unit.isEmpty() ? "" : " " + unit;
        // an upper end that is only where numbers end is none that a person has to keep
        boolean open = high >= Integer.MAX_VALUE;
        throw new IllegalArgumentException(
                (open
                        ? "%s must be %s%s or more, but was %s".formatted(what, plain(low), in, plain(value))
                        : "%s must lie between %s and %s%s, but was %s"
                                .formatted(what, plain(low), plain(high), in, plain(value))));
    }

    /** The same for counts. */
    public static int within(String what, int value, int low, int high) {
        within(what, (double) value, low, high, "");
        return value;
    }

    /** Refuses a series with anything in it that is not a finite number, naming the first by its place from 1. */
    public static void finite(String what, double... values) {
        for (int i = 0; i < values.length; i++) {
            if (!Double.isFinite(values[i])) {
                throw new IllegalArgumentException(
                        "%s must be finite numbers, but number %d is %s".formatted(what, i + 1, plain(values[i])));
            }
        }
    }

    /** A number as a person writes it: at most six figures, thousands set apart, no exponent. */
    public static String plain(double value) {
        if (Double.isNaN(value)) {
            return "not a number";
        }
        if (Double.isInfinite(value)) {
            return value > 0 ? "beyond all numbers" : "below all numbers";
        }
        BigDecimal rounded = new BigDecimal(value).round(new MathContext(6)).stripTrailingZeros();
        return String.format(Locale.ROOT, "%,." + Math.max(0, rounded.scale()) + "f", rounded);
    }
}
