package idlewright.reference.stats;

import static idlewright.reference.bounds.Bounds.within;

import idlewright.reference.bounds.Bounds;
import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentMap;

/**
 * The band that holds 95 % of all healthy readings with 95 % confidence, from those seen; it supposes that they spread like
 * a normal distribution.
 *
 * @param n how many readings
 * @param s standard deviation, not under what the steps of the instrument hide
 * @param k factor
 * @param method name of the factor, for the page
 */
public record Tolerance(int n, double mean, double s, double k, String method, double low, double high) {

    /** Fewer are shown as dots and judge nothing. */
    public static final int FEWEST = 8;

    private static final double SHARE = 0.95;
    private static final ConcurrentMap<Integer, Double> FACTORS = new ConcurrentHashMap<>();

    /**
     * Works the band out, or nothing under 8 readings.
     *
     * @param values finite
     * @param step smallest step the instrument shows, 0 when not known; equal readings then still leave a band
     */
    public static Optional<Tolerance> interval(double[] values, double step) {
        Bounds.finite("readings", values);
        within("step of the instrument", step, 0, Double.MAX_VALUE, "");
        if (values.length < FEWEST) {
            return Optional.empty();
        }
        double mean = Arrays.stream(values).average().orElseThrow();
        double squares = 0;
        for (double value : values) {
            squares += (value - mean) * (value - mean);
        }
        int n = values.length;
        // A value rounded to steps is uniform within its step: variance step2/12.
        double s = Math.max(Math.sqrt(squares / (n - 1)), step / Math.sqrt(12));
        double k = FACTORS.computeIfAbsent(n, each -> ToleranceFactor.exact(each, SHARE, SHARE));
        return Optional.of(new Tolerance(
                n, mean, s, k, "exact two-sided factor, 95 % of readings, 95 % sure", mean - k * s, mean + k * s));
    }

    /** The same for an instrument whose step is not known. */
    public static Optional<Tolerance> interval(double[] values) {
        return interval(values, 0);
    }

    public String words() {
        // Two figures of the spread are all that n readings can tell.
        int decimals = s == 0 ? 2 : (int) Math.max(0, Math.min(6, 1 - Math.floor(Math.log10(s))));
        String number = "%." + decimals + "f";
        return String.format(
                Locale.ROOT,
                "%d known-good readings, mean " + number + ": 95 of 100 healthy ones lie from " + number + " to "
                        + number + ", 95 %% sure",
                n,
                mean,
                low,
                high);
    }
}
