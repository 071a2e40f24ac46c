package idlewright.reference.stats;

import static idlewright.reference.bounds.Bounds.within;

import java.util.Arrays;
import java.util.Comparator;

/** Many comparisons at once: the more one looks, the more chance finds. */
public final class Holm {

    private Holm() {}

    /**
     * Adjusted p values in the order given. Source: Holm 1979, Scandinavian Journal of Statistics 6:65.
     *
     * @param p 0 to 1 each
     */
    public static double[] adjust(double... p) {
        Integer[] order = new Integer[p.length];
        Arrays.setAll(order, i -> i);
        for (double each : p) {
            within("p value", each, 0, 1, "");
        }
        Arrays.sort(order, Comparator.comparingDouble(i -> p[i]));
        double[] adjusted = new double[p.length];
        double largest = 0;
        for (int rank = 0; rank < p.length; rank++) {
            largest = Math.max(largest, Math.min(1, (p.length - rank) * p[order[rank]]));
            adjusted[order[rank]] = largest;
        }
        return adjusted;
    }
}
