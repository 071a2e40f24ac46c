package idlewright.reference.stats;

import idlewright.reference.bounds.Bounds;
import java.util.Locale;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.apache.commons.statistics.interval.BinomialConfidenceInterval;

/**
 * A share, such as comebacks of repairs, with its 95 % intervals. Wilson's is the one to show; the exact one
 * (Clopper and Pearson) never promises too much. Both hold for 0 of n and n of n.
 *
 * @param events 0 to n
 * @param n 1 and up
 */
public record Proportion(
        int events, int n, double estimate, double wilsonLow, double wilsonHigh, double exactLow, double exactHigh) {

    private static final double ALPHA = 0.05;

    /** Works the intervals out. Source: Newcombe 1998, Statistics in Medicine 17:857. */
    public static Proportion of(int events, int n) {
        check(events, n);
        var wilson = BinomialConfidenceInterval.WILSON_SCORE.fromErrorRate(n, events, ALPHA);
        // The older libraries throw for 0 of n and n of n here; this one does not.
        var exact = BinomialConfidenceInterval.CLOPPER_PEARSON.fromErrorRate(n, events, ALPHA);
        return new Proportion(
                events,
                n,
                (double) events / n,
                clip(wilson.getLowerBound()),
                clip(wilson.getUpperBound()),
                clip(exact.getLowerBound()),
                clip(exact.getUpperBound()));
    }

    /** Wilson's interval with continuity correction, 95 %: wider, close to the exact one. Source: as above, method 4. */
    public static Interval wilsonCorrected(int events, int n) {
        check(events, n);
        double z = NormalDistribution.of(0, 1).inverseSurvivalProbability(ALPHA / 2);
        double p = (double) events / n;
        double q = 1 - p;
        double width = 2 * (n + z * z);
        double low = (2 * n * p + z * z - 1 - z * Math.sqrt(z * z - 2 - 1.0 / n + 4 * p * (n * q + 1))) / width;
        double high = (2 * n * p + z * z + 1 + z * Math.sqrt(z * z + 2 - 1.0 / n + 4 * p * (n * q - 1))) / width;
        return new Interval(events == 0 ? 0 : clip(low), events == n ? 1 : clip(high));
    }

    /** "3 of 41, 7 %, likely 3 to 19 %". */
    public String words() {
        return String.format(
                Locale.ROOT,
                "%d of %d, %s, likely %s to %s",
                events,
                n,
                percent(estimate),
                percent(wilsonLow).replace(" %", ""),
                percent(wilsonHigh));
    }

    private static String percent(double share) {
        double hundred = 100 * share;
        boolean small = hundred > 0 && hundred < 1;
        return String.format(Locale.ROOT, small ? "%.1f %%" : "%.0f %%", hundred);
    }

    private static void check(int events, int n) {
        Bounds.within("number looked at", n, 1, Integer.MAX_VALUE);
        Bounds.within("number of events", events, 0, n);
    }

    private static double clip(double share) {
        return Math.min(1, Math.max(0, share));
    }
}
