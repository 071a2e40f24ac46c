package idlewright.reference.stats;

import java.util.Locale;
import java.util.TreeSet;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;

/**
 * Two groups of lasting times compared by the log-rank test, with the hypergeometric variance; the textbook sum of
 * (O - E)2/E is a little too small.
 *
 * @param observed events in the first group
 * @param expected events in the first group if both last alike
 * @param variance of observed less expected
 * @param chiSquared with one degree of freedom
 * @param p chance of a difference at least so large when there is none
 */
public record LogRank(double observed, double expected, double variance, double chiSquared, double p) {

    /** Compares; times and outcomes as in {@link Survival#of}. */
    public static LogRank compare(
            double[] firstTimes, boolean[] firstObserved, double[] secondTimes, boolean[] secondObserved) {
        check(firstTimes, firstObserved);
        check(secondTimes, secondObserved);
        TreeSet<Double> eventTimes = new TreeSet<>();
        collect(firstTimes, firstObserved, eventTimes);
        collect(secondTimes, secondObserved, eventTimes);
        double observed = 0;
        double expected = 0;
        double variance = 0;
        for (double time : eventTimes) {
            double n1 = atRisk(firstTimes, time);
            double n2 = atRisk(secondTimes, time);
            double d1 = events(firstTimes, firstObserved, time);
            double d = d1 + events(secondTimes, secondObserved, time);
            double n = n1 + n2;
            observed += d1;
            expected += d * n1 / n;
            if (n > 1) {
                variance += d * n1 / n * (n2 / n) * (n - d) / (n - 1);
            }
        }
        if (variance == 0) {
            return new LogRank(observed, expected, 0, 0, 1);
        }
        double chiSquared = (observed - expected) * (observed - expected) / variance;
        double p = ChiSquaredDistribution.of(1).survivalProbability(chiSquared);
        return new LogRank(observed, expected, variance, chiSquared, p);
    }

    /** The difference is more than chance at the usual 5 %. */
    public boolean real() {
        return p < 0.05;
    }

    public String words() {
        return String.format(
                Locale.ROOT,
                "%.0f came back where %.1f would if both lasted alike. That %s (p %s).",
                observed,
                expected,
                real() ? "is more than chance" : "could be chance",
                Chance.words(p));
    }

    private static void check(double[] times, boolean[] observed) {
        Survival.of(times, observed);
    }

    private static void collect(double[] times, boolean[] observed, TreeSet<Double> eventTimes) {
        for (int i = 0; i < times.length; i++) {
            if (observed[i]) {
                eventTimes.add(times[i]);
            }
        }
    }

    private static int atRisk(double[] times, double time) {
        int count = 0;
        for (double each : times) {
            count += each >= time ? 1 : 0;
        }
        return count;
    }

    private static int events(double[] times, boolean[] observed, double time) {
        int count = 0;
        for (int i = 0; i < times.length; i++) {
            count += observed[i] && times[i] == time ? 1 : 0;
        }
        return count;
    }
}
