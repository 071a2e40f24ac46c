package idlewright.reference.stats;

import static idlewright.reference.bounds.Bounds.within;

import java.util.function.DoubleUnaryOperator;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.apache.commons.statistics.distribution.NormalDistribution;

/**
 * Factors k of normal tolerance limits: mean plus or minus k times the standard deviation of n values holds a share
 * (coverage) of all that come, with a confidence. n 2 to 100,000; coverage and confidence 0.5 to 0.9999.
 */
public final class ToleranceFactor {

    private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);

    private ToleranceFactor() {}

    /** Two-sided, Howe's approximation. Source: NIST/SEMATECH e-Handbook 7.2.6.3; from n 8 within 1.5 % of exact. */
    public static double howe(int n, double coverage, double confidence) {
        check(n, coverage, confidence);
        double z = NORMAL.inverseCumulativeProbability((1 + coverage) / 2);
        double chi = ChiSquaredDistribution.of(n - 1).inverseCumulativeProbability(1 - confidence);
        return z * Math.sqrt((n - 1) * (1 + 1.0 / n) / chi);
    }

    /** Two-sided, exact, by numerical integration over the sample mean. Source: tables as in ISO 16269-6; error 1e-6. */
    public static double exact(int n, double coverage, double confidence) {
        check(n, coverage, confidence);
        int degrees = n - 1;
        ChiSquaredDistribution chi = ChiSquaredDistribution.of(degrees);
        double start = howe(n, coverage, confidence);
        double root = Math.sqrt(n);
        double[] half = new double[NODES + 1];
        for (int i = 0; i <= NODES; i++) {
            half[i] = halfWidth(REACH * i / NODES / root, coverage);
        }
        return solve(
                k -> simpson(i -> {
                            double z = REACH * i / NODES;
                            double needed = half[(int) i] / k;
                            return 2 * NORMAL.density(z) * chi.survivalProbability(degrees * needed * needed);
                        })
                        - confidence,
                start * 0.7,
                start * 1.5);
    }

    /** One-sided, Natrella's approximation. Source: NIST/SEMATECH e-Handbook 7.2.6.3. */
    public static double oneSidedNatrella(int n, double coverage, double confidence) {
        check(n, coverage, confidence);
        double zp = NORMAL.inverseCumulativeProbability(coverage);
        double zg = NORMAL.inverseCumulativeProbability(confidence);
        double a = 1 - zg * zg / (2.0 * (n - 1));
        double b = zp * zp - zg * zg / n;
        return (zp + Math.sqrt(zp * zp - a * b)) / a;
    }

    /** One-sided, exact: the noncentral t quantile over the root of n, by numerical integration; error 1e-6. */
    public static double oneSidedExact(int n, double coverage, double confidence) {
        check(n, coverage, confidence);
        double shift = NORMAL.inverseCumulativeProbability(coverage);
        double root = Math.sqrt(n);
        int degrees = n - 1;
        ChiSquaredDistribution chi = ChiSquaredDistribution.of(degrees);
        // P(mean + k s >= quantile), seen over the sample mean: s must reach (shift - z/root)/k.
        return solve(
                k -> simpson(i -> {
                            double z = REACH * i / NODES;
                            return NORMAL.density(z)
                                    * (reached(chi, degrees, (shift - z / root) / k)
                                            + reached(chi, degrees, (shift + z / root) / k));
                        })
                        - confidence,
                1e-3,
                1000);
    }

    /** How many values make smallest to largest hold a share with a confidence, whatever the distribution. */
    public static int valuesForSmallestToLargest(double coverage, double confidence) {
        check(2, coverage, confidence);
        int n = 2;
        while (1 - n * Math.pow(coverage, n - 1) + (n - 1) * Math.pow(coverage, n) < confidence) {
            n++;
        }
        return n;
    }

    private static double reached(ChiSquaredDistribution chi, int degrees, double needed) {
        return needed <= 0 ? 1 : chi.survivalProbability(degrees * needed * needed);
    }

    /** Half width r about an offset x of the mean that holds the coverage: Phi(x + r) - Phi(x - r) = coverage. */
    private static double halfWidth(double x, double coverage) {
        double z = NORMAL.inverseCumulativeProbability((1 + coverage) / 2);
        return solve(
                r -> NORMAL.cumulativeProbability(x + r) - NORMAL.cumulativeProbability(x - r) - coverage,
                0,
                x + z + 1);
    }

    // Even, so that Simpson's rule ends on a node; beyond 8 the normal density is under 1e-14.
    private static final int NODES = 400;
    private static final double REACH = 8;

    private static double simpson(DoubleUnaryOperator atNode) {
        double sum = atNode.applyAsDouble(0) + atNode.applyAsDouble(NODES);
        for (int i = 1; i < NODES; i++) {
            sum += (i % 2 == 1 ? 4 : 2) * atNode.applyAsDouble(i);
        }
        return sum * REACH / NODES / 3;
    }

    /** Bisection of a rising function. */
    private static double solve(DoubleUnaryOperator rising, double low, double high) {
        double a = low;
        double b = high;
        for (int i = 0; i < 60 && b - a > 1e-12 * b; i++) {
            double middle = (a + b) / 2;
            if (rising.applyAsDouble(middle) < 0) {
                a = middle;
            } else {
                b = middle;
            }
        }
        return (a + b) / 2;
    }

    private static void check(int n, double coverage, double confidence) {
        within("number of values", n, 2, 100_000, "");
        within("coverage", coverage, 0.5, 0.9999, "");
        within("confidence", confidence, 0.5, 0.9999, "");
    }
}
