package idlewright.reference.sweep;

import idlewright.reference.sweep.SweepFeature.Kind;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** Finds what falls back: short spikes and dropouts as outliers, longer ones and backward steps in the level. */
final class Jumps {

    private final double range;
    private final List<Found> found = new ArrayList<>();
    private Curve curve;

    private Jumps(Curve curve, double range) {
        this.curve = curve;
        this.range = range;
    }

    static Jumps in(Curve curve, double range) {
        Jumps jumps = new Jumps(curve, range);
        jumps.takeOutliers();
        jumps.takeFalls();
        jumps.takeBareFalls();
        return jumps;
    }

    List<Found> found() {
        return found;
    }

    /** The curve without the points that spikes and dropouts took. */
    Curve cleaned() {
        return curve;
    }

    /** What is too small to matter to a driver or to be told from rounding. */
    private double negligible() {
        return 0.02 * range + 1.5 * curve.step();
    }

    // Short runs, against the running median.

    private void takeOutliers() {
        Curve whole = curve;
        int n = whole.size();
        int[] sign = wild(whole);
        boolean[] out = new boolean[n];
        for (int i = 0; i < n; i++) {
            out[i] = sign[i] != 0;
        }
        int reach = 1 + whole.half() / 2;
        for (int i = 0; i < n; i++) {
            if (sign[i] == 0) {
                continue;
            }
            int last = i;
            for (int j = i; j < n && j - last <= reach && sign[j] * sign[i] >= 0; j++) {
                last = sign[j] != 0 ? j : last;
            }
            settle(whole, out, i, last, sign[i] > 0);
            i = last;
        }
        curve = whole.without(out);
    }

    /** The sign of each point that stands clear of the running median, 0 for the others. */
    private int[] wild(Curve whole) {
        int n = whole.size();
        boolean[] out = new boolean[n];
        int[] sign = new int[n];
        int taken = 0;
        // Each pass takes the worst of each neighbourhood; what a wild point did to its neighbours then falls away.
        for (int pass = 0; pass < 12 && taken <= n / 4; pass++) {
            Curve left = taken == 0 ? whole : whole.without(out);
            double[] level = left.level();
            double[] excess = new double[level.length];
            boolean any = false;
            for (int i = 0; i < level.length; i++) {
                double residual = left.y()[i] - level[i];
                if (Math.abs(residual) > Math.max(6 * left.sigma()[i], negligible())) {
                    excess[i] = residual;
                    any = true;
                }
            }
            if (!any) {
                break;
            }
            int at = -1;
            for (int i = 0; i < level.length; i++) {
                do {
                    at++;
                } while (out[at]);
                if (excess[i] != 0 && Math.abs(excess[i]) >= 0.5 * largestNear(excess, i, 2 * left.half() + 1)) {
                    sign[at] = excess[i] > 0 ? 1 : -1;
                    taken++;
                }
            }
            for (int i = 0; i < n; i++) {
                out[i] = sign[i] != 0;
            }
        }
        return sign;
    }

    private static double largestNear(double[] excess, int i, int reach) {
        double largest = 0;
        for (int j = Math.max(0, i - reach); j <= Math.min(excess.length - 1, i + reach); j++) {
            largest = Math.max(largest, Math.abs(excess[j]));
        }
        return largest;
    }

    /**
     * Says what a run of wild points is. One that goes on from one side but not from the other is the brink of a backward
     * step; one that goes on from both is no fault; its points are put back.
     */
    private void settle(Curve whole, boolean[] out, int first, int last, boolean up) {
        double x = (whole.x()[first] + whole.x()[last]) / 2;
        double[] wild = Arrays.copyOfRange(whole.y(), first, last + 1);
        Arrays.sort(wild);
        double y = wild[wild.length / 2];
        int many = Math.max(3, Math.min(2 * whole.half(), 2 * (last - first + 1) + 1));
        double fromLeft = y - lineAt(whole, out, first - 1, -1, many, x);
        double fromRight = y - lineAt(whole, out, last + 1, 1, many, x);
        if (Double.isNaN(fromLeft) || Double.isNaN(fromRight)) {
            fromLeft = Double.isNaN(fromLeft) ? fromRight : fromLeft;
            fromRight = Double.isNaN(fromRight) ? fromLeft : fromRight;
        }
        double least = Math.min(Math.abs(fromLeft), Math.abs(fromRight));
        double most = Math.max(Math.abs(fromLeft), Math.abs(fromRight));
        boolean belongs = least <= 0.35 * most;
        if (!belongs && least >= 0.75 * negligible()) {
            found.add(new Found(up ? Kind.SPIKE : Kind.DROPOUT, whole.x()[first], whole.x()[last], least));
            return;
        }
        Arrays.fill(out, first, last + 1, false);
    }

    /** The line through the nearest points on one side that are not wild, at x; not a number without them. */
    private static double lineAt(Curve whole, boolean[] out, int start, int direction, int many, double x) {
        double sx = 0;
        double sy = 0;
        double sxx = 0;
        double sxy = 0;
        int count = 0;
        for (int i = start; i >= 0 && i < whole.size() && count < many; i += direction) {
            if (!out[i]) {
                double dx = whole.x()[i] - x;
                sx += dx;
                sy += whole.y()[i];
                sxx += dx * dx;
                sxy += dx * whole.y()[i];
                count++;
            }
        }
        if (count == 0) {
            return Double.NaN;
        }
        double spread = sxx - sx * sx / count;
        if (count < 3 || spread <= 0) {
            return sy / count;
        }
        double slope = (sxy - sx * sy / count) / spread;
        return (sy - slope * sx) / count;
    }

    // Longer runs and steps, in the level.

    private void takeFalls() {
        double[] x = curve.x();
        double[] level = curve.level();
        int n = level.length;
        boolean[] out = new boolean[n];
        double slope = typicalRise(level);
        int peak = 0;
        for (int i = 1; i < n; i++) {
            if (level[i] >= level[peak] || level[i] - margin(i) > level[peak] - margin(peak)) {
                peak = i;
                continue;
            }
            double depth = level[peak] - level[i];
            double tolerance = Math.max(negligible(), margin(i) + margin(peak));
            if (depth <= tolerance) {
                continue;
            }
            int top = lastAbove(level, peak, i, level[peak] - Math.max(tolerance / 2, 0.1 * depth));
            int bottom = bottomAfter(level, i, tolerance);
            double fall = level[peak] - level[bottom];
            int back = firstAtLeast(level, bottom, level[peak] - Math.max(tolerance, 0.1 * fall));
            int rise = firstBelowGoingBack(level, top, level[bottom] + Math.max(tolerance, 0.1 * fall));
            boolean jumpsBack = back < n && sudden(level, bottom, back, fall, slope);
            boolean jumpedUp = rise >= 0 && sudden(level, rise, top, fall, slope);
            if (jumpedUp && (!jumpsBack || top - rise < back - top)) {
                found.add(new Found(Kind.SPIKE, x[Math.min(rise + 1, top)], x[top], fall));
                Arrays.fill(out, Math.min(rise + 1, top), top + 1, true);
                peak = bottom;
                i = bottom;
            } else if (jumpsBack) {
                int first = Math.min(top + 1, back - 1);
                found.add(new Found(Kind.DROPOUT, x[first], x[back - 1], fall));
                Arrays.fill(out, first, back, true);
                peak = back;
                i = back;
            } else {
                found.add(new Found(Kind.BACKWARD_STEP, x[top], x[bottom], fall));
                peak = bottom;
                i = bottom;
            }
        }
        curve = curve.without(out);
    }

    private double margin(int i) {
        return 4.5 * curve.levelError(i);
    }

    /** Rise from point to point where it rises well: the upper quartile. */
    private static double typicalRise(double[] level) {
        double[] rises = new double[level.length - 1];
        for (int i = 1; i < level.length; i++) {
            rises[i - 1] = Math.max(0, level[i] - level[i - 1]);
        }
        Arrays.sort(rises);
        return rises[rises.length * 3 / 4];
    }

    /** Between two places half of a fall's height is won within a few points, faster than the ramp could. */
    private boolean sudden(double[] level, int from, int to, double height, double slope) {
        int few = Math.max(1, curve.half() / 4);
        for (int i = from; i < to; i++) {
            int j = Math.min(to, i + few);
            if (level[j] - level[i] >= 0.5 * height + 1.5 * slope * (j - i)) {
                return true;
            }
        }
        return false;
    }

    private static int lastAbove(double[] level, int from, int to, double height) {
        int last = from;
        for (int i = from; i <= to; i++) {
            last = level[i] >= height ? i : last;
        }
        return last;
    }

    private static int bottomAfter(double[] level, int from, double tolerance) {
        int bottom = from;
        for (int i = from; i < level.length && level[i] - level[bottom] <= tolerance; i++) {
            bottom = level[i] < level[bottom] ? i : bottom;
        }
        return bottom;
    }

    private static int firstAtLeast(double[] level, int from, double height) {
        int i = from;
        while (i < level.length && level[i] < height) {
            i++;
        }
        return i;
    }

    private static int firstBelowGoingBack(double[] level, int from, double height) {
        int i = from;
        while (i >= 0 && level[i] > height) {
            i--;
        }
        return i;
    }

    // Steps so near to the rise between two points that the level hides them.

    private void takeBareFalls() {
        double[] x = curve.x();
        double[] y = curve.y();
        for (int i = 1; i < y.length; i++) {
            double fall = y[i - 1] - y[i];
            double sigma = Math.max(curve.sigma()[i - 1], curve.sigma()[i]);
            if (fall > Math.max(negligible(), 8 * sigma)) {
                Found step = new Found(Kind.BACKWARD_STEP, x[i - 1], x[i], fall);
                if (found.stream().noneMatch(other -> other.touches(step, 0))) {
                    found.add(step);
                }
            }
        }
    }
}
