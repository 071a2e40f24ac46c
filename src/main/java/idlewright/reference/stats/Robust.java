package idlewright.reference.stats;

import static idlewright.reference.bounds.Bounds.within;

import idlewright.reference.bounds.Bounds;
import java.util.Arrays;

/** Centre and spread that one wild value cannot move. Series are finite and not empty, else they are refused. */
public final class Robust {

    /** Turns a median absolute deviation into a standard deviation of normal values: 1/0.67449. */
    public static final double MAD_TO_SIGMA = 1.482602218505602;

    /** A modified z beyond this is an outlier. Source: Iglewicz and Hoaglin 1993. */
    public static final double OUTLIER_Z = 3.5;

    private Robust() {}

    /** The middle value, or the mean of the two middle ones. */
    public static double median(double... values) {
        Bounds.within("number of values", values.length, 1, Integer.MAX_VALUE);
        Bounds.finite("values", values);
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        int middle = sorted.length / 2;
        return sorted.length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    }

    /** Median absolute deviation from the median. */
    public static double mad(double... values) {
        double median = median(values);
        return median(
                Arrays.stream(values).map(value -> Math.abs(value - median)).toArray());
    }

    /**
     * Standard deviation by 1.4826 MAD. Quantised values often have a MAD of 0; then one step takes its place.
     *
     * @param step smallest step of the instrument, 0 when not known
     */
    public static double sigma(double[] values, double step) {
        within("step of the instrument", step, 0, Double.MAX_VALUE, "");
        double mad = mad(values);
        return mad == 0 ? step : MAD_TO_SIGMA * mad;
    }

    /** Modified z of a value: its distance from the median in robust standard deviations; infinite when those are 0. */
    public static double modifiedZ(double value, double[] values, double step) {
        double distance = value - median(values);
        return distance == 0 ? 0 : distance / sigma(values, step);
    }
}
