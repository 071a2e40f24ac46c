package idlewright.reference.sweep;

import java.util.Arrays;

/** The noise of a sweep, taken from the sweep itself. */
final class Noise {

    /** The smaller part of the residuals that counts; wild points and kinks lie in the rest. */
    private static final double PART = 0.8;

    /** Mean of that part of a half-normal distribution: 2 (phi(0) - phi(1.28155)) / 0.8. */
    private static final double PART_MEAN = 0.55862;

    /** Below so many points one fault touches more than a fifth of the residuals: only the smaller three fifths count. */
    private static final int SPARSE = 40;

    private static final double SPARSE_PART = 0.6;

    /** 2 (phi(0) - phi(0.84162)) / 0.6. */
    private static final double SPARSE_PART_MEAN = 0.39654;

    private static final int SECTION = 40;

    private Noise() {}

    /**
     * Standard deviation about the line between each point's neighbours, so that slope does not count, from the smaller four
     * fifths of the residuals, so that a few wild points do not either; a median of rounded values would jump. Never less
     * than rounding hides; in long sweeps section by section, since the pulsing of the intake grows with flow.
     */
    static double[] sigma(double[] x, double[] y, double step) {
        int n = x.length;
        double[] left = new double[n - 2];
        for (int i = 1; i < n - 1; i++) {
            double width = x[i + 1] - x[i - 1];
            double share = width > 0 ? (x[i] - x[i - 1]) / width : 0.5;
            double between = y[i - 1] + share * (y[i + 1] - y[i - 1]);
            left[i - 1] = Math.abs(y[i] - between) / Math.sqrt(1 + share * share + (1 - share) * (1 - share));
        }
        double floor = Math.max(step / Math.sqrt(12), 1e-12);
        double all = Math.max(floor, spread(left, 0, left.length));
        double[] sigma = new double[n];
        Arrays.fill(sigma, all);
        int sections = left.length / SECTION;
        if (sections < 3) {
            // Few residuals: their median wanders, so leave room.
            double room = 1 + 4.0 / n;
            Arrays.setAll(sigma, i -> all * room);
            return sigma;
        }
        sections = Math.min(sections, 20);
        for (int s = 0; s < sections; s++) {
            int from = (int) ((long) left.length * s / sections);
            int to = (int) ((long) left.length * (s + 1) / sections);
            double here = Math.min(3 * all, Math.max(all, spread(left, from, to)));
            Arrays.fill(sigma, from + 1, to + 1, here);
        }
        sigma[0] = sigma[1];
        sigma[n - 1] = sigma[n - 2];
        return sigma;
    }

    /** The smallest step between values, in order of x, when they lie on a grid, else 0. */
    static double step(double[] y) {
        double[] sorted = y.clone();
        Arrays.sort(sorted);
        double range = sorted[sorted.length - 1] - sorted[0];
        double smallest = Double.POSITIVE_INFINITY;
        for (int i = 1; i < sorted.length; i++) {
            double gap = sorted[i] - sorted[i - 1];
            if (gap > 1e-7 * range) {
                smallest = Math.min(smallest, gap);
            }
        }
        if (!Double.isFinite(smallest)) {
            return 0;
        }
        for (double value : sorted) {
            double steps = (value - sorted[0]) / smallest;
            if (Math.abs(steps - Math.rint(steps)) > 0.02) {
                return 0;
            }
        }
        return risesByOneStep(y, smallest) ? 0 : smallest;
    }

    /** A short straight ramp of even points: its rise from point to point looks like a grid and is none. */
    private static boolean risesByOneStep(double[] y, double step) {
        int single = 0;
        for (int i = 1; i < y.length; i++) {
            single += Math.rint(Math.abs(y[i] - y[i - 1]) / step) == 1 ? 1 : 0;
        }
        return y.length < 60 && single >= 0.6 * (y.length - 1);
    }

    private static double spread(double[] residuals, int from, int to) {
        double[] part = Arrays.copyOfRange(residuals, from, to);
        Arrays.sort(part);
        boolean sparse = residuals.length + 2 < SPARSE;
        int count = Math.max(1, (int) Math.round((sparse ? SPARSE_PART : PART) * part.length));
        double sum = 0;
        for (int i = 0; i < count; i++) {
            sum += part[i];
        }
        return sum / count / (sparse ? SPARSE_PART_MEAN : PART_MEAN);
    }
}
