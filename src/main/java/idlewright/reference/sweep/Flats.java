package idlewright.reference.sweep;

import idlewright.reference.sweep.SweepFeature.Kind;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/** Finds where the signal rests though its ramp goes on: slopes of windows against the windows on either side. */
final class Flats {

    private static final double[] WIDTHS = {0.05, 0.07, 0.10, 0.14, 0.20, 0.28};
    private static final double[] SPARSE_WIDTHS = {0.10, 0.14, 0.20, 0.28, 0.38};
    private static final double[] TOP_WIDTHS = {0.06, 0.09, 0.13, 0.18, 0.25, 0.33};

    private final Curve curve;
    private final double range;
    private final double[] sumX;
    private final double[] sumY;
    private final double[] sumXx;
    private final double[] sumXy;
    private final double middle;
    private final boolean sparse;

    /** Slope of a window by least squares with its standard error. */
    private record Slope(double value, double error, int points) {}

    Flats(Curve curve, double range) {
        this.curve = curve;
        this.range = range;
        int n = curve.size();
        // A hand-typed sweep: three points at rest among so few are a quarter of the ramp.
        sparse = n < 25;
        // Sums about the middle, so that time stamps of many digits lose none.
        middle = (curve.x()[0] + curve.x()[n - 1]) / 2;
        sumX = new double[n + 1];
        sumY = new double[n + 1];
        sumXx = new double[n + 1];
        sumXy = new double[n + 1];
        for (int i = 0; i < n; i++) {
            double dx = curve.x()[i] - middle;
            double y = curve.y()[i];
            sumX[i + 1] = sumX[i] + dx;
            sumY[i + 1] = sumY[i] + y;
            sumXx[i + 1] = sumXx[i] + dx * dx;
            sumXy[i + 1] = sumXy[i] + dx * y;
        }
    }

    /** Flat spots between the foot and the top of the ramp, leaving out what the other faults explain. */
    List<Found> spots(List<Found> others) {
        double[] level = curve.level();
        int foot = crossing(level, 0.03);
        int head = crossing(level, 0.97);
        double[] x = curve.x();
        double ramp = x[Math.min(head, x.length - 1)] - x[foot];
        List<Found> spots = new ArrayList<>();
        if (ramp <= 0) {
            return spots;
        }
        for (double share : sparse ? SPARSE_WIDTHS : WIDTHS) {
            double width = share * ramp;
            int stride = Math.max(1, (int) (curve.size() * share / 12));
            for (int from = foot; from < head; from += stride) {
                spotAt(from, width).ifPresent(spot -> {
                    if (others.stream().noneMatch(other -> explains(other, spot, width))) {
                        merge(spots, spot);
                    }
                });
            }
        }
        spots.replaceAll(this::trimmed);
        return spots;
    }

    /** Without the ends that already rise: windows reach over the corners of the rest. */
    private Found trimmed(Found spot) {
        double[] x = curve.x();
        double[] y = curve.y();
        int from = firstAtLeast(spot.from());
        int to = firstAfter(spot.to()) - 1;
        double[] heights = Arrays.copyOfRange(y, from, to + 1);
        Arrays.sort(heights);
        double rest = heights[heights.length / 2];
        double slack = 3 * curve.sigma()[(from + to) / 2] + curve.step();
        while (from < to - 3 && y[from] < rest - slack) {
            from++;
        }
        while (to > from + 3 && y[to] > rest + slack) {
            to--;
        }
        return new Found(spot.kind(), x[from], x[to], spot.size());
    }

    private static boolean explains(Found other, Found spot, double width) {
        return other.touches(spot, other.kind() == Kind.BACKWARD_STEP ? width : 0);
    }

    private Optional<Found> spotAt(int from, double width) {
        double[] x = curve.x();
        int to = firstAfter(x[from] + width);
        if (to - from < fewest()) {
            return Optional.empty();
        }
        double wide = x[to - 1] - x[from];
        if (wide < 0.6 * width) {
            return Optional.empty();
        }
        Slope here = slope(from, to);
        int before = firstAtLeast(x[from] - wide);
        int after = firstAfter(x[to - 1] + wide);
        // The neighbours share the end points, so that a jump at the edge is theirs.
        Slope left = slope(before, from + 1);
        Slope right = slope(to - 1, after);
        boolean seen = x[from] - x[before] >= 0.5 * wide && x[after - 1] - x[to - 1] >= 0.5 * wide;
        if (!seen || left.points < 3 || right.points < 3) {
            return Optional.empty();
        }
        double least = Math.min(left.value - 1.5 * left.error, right.value - 1.5 * right.error);
        double missing = least * wide;
        boolean matters = missing >= 0.03 * range + curve.step();
        boolean rests =
                Math.max(0, here.value) + 2.5 * here.error <= 0.4 * least && here.value <= 0.2 * least + here.error;
        return matters && rests
                ? Optional.of(new Found(Kind.FLAT_SPOT, x[from], x[to - 1], missing))
                : Optional.empty();
    }

    private static void merge(List<Found> spots, Found spot) {
        Found merged = spot;
        for (int i = spots.size() - 1; i >= 0; i--) {
            Found old = spots.get(i);
            if (old.touches(merged, 0)) {
                spots.remove(i);
                merged = new Found(
                        Kind.FLAT_SPOT,
                        Math.min(old.from(), merged.from()),
                        Math.max(old.to(), merged.to()),
                        Math.max(old.size(), merged.size()));
            }
        }
        spots.add(merged);
    }

    /** The top, where it stands still though what drives it goes on. */
    Optional<Found> saturation() {
        double[] x = curve.x();
        int n = curve.size();
        Found widest = null;
        for (double share : TOP_WIDTHS) {
            int from = firstAtLeast(x[n - 1] - share * curve.width());
            if (n - from < fewest()) {
                continue;
            }
            double wide = x[n - 1] - x[from];
            Slope here = slope(from, n);
            int before = firstAtLeast(x[from] - wide);
            // Among few points the ramp needs its end, though it stands at the top already.
            Slope left = slope(before, sparse ? from + 1 : from);
            if (left.points < fewest() || wide < 0.5 * share * curve.width()) {
                continue;
            }
            double least = left.value - left.error;
            double missing = least * wide;
            boolean matters = missing >= 0.03 * range + curve.step();
            boolean stands = Math.max(0, here.value) + 2.5 * here.error <= 0.35 * least
                    && here.value <= 0.12 * least + here.error;
            if (matters && stands) {
                widest = new Found(Kind.SATURATION, x[from], x[n - 1], missing);
            }
        }
        return Optional.ofNullable(widest);
    }

    private int fewest() {
        return sparse ? 3 : 4;
    }

    private Slope slope(int from, int to) {
        int n = to - from;
        if (n < 2) {
            return new Slope(0, 0, n);
        }
        double sx = sumX[to] - sumX[from];
        double sy = sumY[to] - sumY[from];
        double xx = sumXx[to] - sumXx[from] - sx * sx / n;
        double xy = sumXy[to] - sumXy[from] - sx * sy / n;
        if (xx <= 0) {
            return new Slope(0, 0, 0);
        }
        double sigma = Math.hypot(curve.sigma()[(from + to) / 2], curve.step() / Math.sqrt(12));
        return new Slope(xy / xx, sigma / Math.sqrt(xx), n);
    }

    private int crossing(double[] level, double share) {
        double low = Double.POSITIVE_INFINITY;
        for (double each : level) {
            low = Math.min(low, each);
        }
        if (share < 0.5) {
            int last = 0;
            for (int i = 0; i < level.length; i++) {
                if (level[i] > low + share * range) {
                    return last;
                }
                last = i;
            }
            return last;
        }
        int i = 0;
        while (i < level.length - 1 && level[i] < low + share * range) {
            i++;
        }
        return i;
    }

    private int firstAtLeast(double place) {
        int low = 0;
        int high = curve.size();
        while (low < high) {
            int half = (low + high) >>> 1;
            if (curve.x()[half] >= place) {
                high = half;
            } else {
                low = half + 1;
            }
        }
        return low;
    }

    private int firstAfter(double place) {
        return firstAtLeast(Math.nextUp(place));
    }
}
