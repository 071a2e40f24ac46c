package idlewright.reference.sweep;

import java.util.Arrays;

/**
 * Points in order of x with the noise of each; y rises with the ramp (turned around where the sensor falls).
 *
 * @param half half width of the running median that suits so many points
 */
record Curve(double[] x, double[] y, double[] sigma, double step, int half) {

    static Curve of(double[] x, double[] y, double step) {
        return new Curve(x, y, Noise.sigma(x, y, step), step, half(x.length));
    }

    static int half(int n) {
        return n < 180 ? Math.max(2, n / 60 + 1) : Math.min(40, n / 60);
    }

    int size() {
        return x.length;
    }

    double width() {
        return x[x.length - 1] - x[0];
    }

    double[] level() {
        return RunningMedian.of(y, half);
    }

    /** Standard error of the level at a place. */
    double levelError(int i) {
        return sigma[i] * 1.25 / Math.sqrt(2 * RunningMedian.halfAt(i, size(), half) + 1.25 * 1.25 - 1);
    }

    Curve part(int from, int to) {
        return new Curve(
                Arrays.copyOfRange(x, from, to),
                Arrays.copyOfRange(y, from, to),
                Arrays.copyOfRange(sigma, from, to),
                step,
                half(to - from));
    }

    /** Without the marked points. */
    Curve without(boolean[] marked) {
        int kept = 0;
        double[] keptX = new double[size()];
        double[] keptY = new double[size()];
        double[] keptSigma = new double[size()];
        for (int i = 0; i < size(); i++) {
            if (!marked[i]) {
                keptX[kept] = x[i];
                keptY[kept] = y[i];
                keptSigma[kept++] = sigma[i];
            }
        }
        return new Curve(
                Arrays.copyOf(keptX, kept), Arrays.copyOf(keptY, kept), Arrays.copyOf(keptSigma, kept), step, half);
    }

    /** Height of the level, from lowest to highest. */
    static double range(double[] level) {
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (double each : level) {
            low = Math.min(low, each);
            high = Math.max(high, each);
        }
        return high - low;
    }
}
