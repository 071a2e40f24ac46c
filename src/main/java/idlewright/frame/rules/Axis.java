package idlewright.frame.rules;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;

/**
 * A straight axis with round ticks.
 *
 * @param from the value at its start
 * @param to the value at its end, above {@code from}
 * @param step the distance of two ticks: 1, 2 or 5 times a power of ten
 */
public record Axis(double from, double to, double step) {

    public Axis {
        if (!(from < to) || !(step > 0) || Double.isInfinite(to - from)) {
            throw new IllegalArgumentException(
                    "An axis runs from a lower to a higher finite value: " + from + ", " + to);
        }
    }

    /** The axis whose ends are ticks and which holds both values; about {@code ticks} ticks, at least two. */
    public static Axis covering(double low, double high, int ticks) {
        Axis rough = spanning(low, high, ticks);
        double step = rough.step;
        double from = Math.floor(rough.from / step + 1e-9) * step;
        double to = Math.ceil(rough.to / step - 1e-9) * step;
        return new Axis(from, to > from ? to : from + step, step);
    }

    /** The axis that ends exactly at the two values; equal values are given some room about them. */
    public static Axis spanning(double low, double high, int ticks) {
        if (!Double.isFinite(low) || !Double.isFinite(high)) {
            throw new IllegalArgumentException("An axis needs finite ends, not " + low + " and " + high);
        }
        double from = Math.min(low, high);
        double to = Math.max(low, high);
        double width = to - from;
        // Ends that differ by less than doubles can tell apart would give a step of nothing.
        if (width <= 1e-9 * Math.max(Math.abs(from), Math.abs(to)) || width == 0) {
            double room = from == 0 ? 1 : Math.abs(from) * 0.1;
            from -= room;
            to += room;
            width = to - from;
        }
        return new Axis(from, to, roundStep(width / Math.max(1, ticks - 1)));
    }

    private static double roundStep(double rough) {
        double power = Math.pow(10, Math.floor(Math.log10(rough)));
        double lead = rough / power;
        return power * (lead < 1.4 ? 1 : lead < 3.2 ? 2 : lead < 7 ? 5 : 10);
    }

    /** Where a value lies, in per cent of the axis; values off the axis give places off it. */
    public double place(double value) {
        return (value - from) / (to - from) * 100;
    }

    /** The round values on the axis, from low to high. */
    public List<Double> ticks() {
        List<Double> ticks = new ArrayList<>();
        long first = (long) Math.ceil(from / step - 1e-9);
        long last = (long) Math.floor(to / step + 1e-9);
        for (long i = first; i <= last; i++) {
            ticks.add(i * step);
        }
        return ticks;
    }

    /** A tick as written: no more decimals than its step needs, thousands apart, a true minus. */
    public String words(double tick) {
        int decimals = Math.max(0, (int) -Math.floor(Math.log10(step) + 1e-9));
        return grouped(BigDecimal.valueOf(tick).setScale(Math.min(decimals, 12), RoundingMode.HALF_UP));
    }

    /** A value as people write it: up to four significant digits, no trailing zeros, thousands apart, a true minus. */
    public static String say(double value) {
        if (!Double.isFinite(value)) {
            return "no value";
        }
        if (value == 0) {
            return "0";
        }
        BigDecimal exact = BigDecimal.valueOf(value);
        int whole = exact.precision() - exact.scale();
        BigDecimal shown = whole >= 4
                ? exact.setScale(0, RoundingMode.HALF_UP)
                : exact.round(new MathContext(4, RoundingMode.HALF_UP)).stripTrailingZeros();
        return grouped(shown.scale() < 0 ? shown.setScale(0) : shown);
    }

    /** Written by hand: a page full of plots spent a sixth of its time in {@code String.format}. */
    private static String grouped(BigDecimal shown) {
        String text = shown.abs().toPlainString();
        int point = text.indexOf('.');
        var words = new StringBuilder(text);
        for (int i = (point < 0 ? text.length() : point) - 3; i > 0; i -= 3) {
            words.insert(i, ',');
        }
        return shown.signum() < 0 ? words.insert(0, '\u2212').toString() : words.toString();
    }

    /** A place as an SVG length. */
    static String percent(double place) {
        return fixed(Math.max(-1000, Math.min(1000, place)), 2) + "%";
    }

    /** A number with one or two decimals, as SVG wants it. */
    static String fixed(double number, int decimals) {
        long power = decimals == 1 ? 10 : 100;
        long held = Math.round(number * power);
        long whole = Math.abs(held);
        String part = Long.toString(power + whole % power).substring(1);
        return (held < 0 ? "-" : "") + whole / power + "." + part;
    }
}
