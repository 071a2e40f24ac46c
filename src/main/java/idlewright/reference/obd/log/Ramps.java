package idlewright.reference.obd.log;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;

/**
 * Finds pulls of one quantity from low to high with the mass air flow beside it. A pull may pause or step back by less
 * than the tolerance; it ends at its peak.
 */
final class Ramps {
    private static final int MOST_POINTS = 1200;
    private static final int FEWEST_POINTS = 6;
    private static final double LONGEST_SECONDS = 60;
    private static final int MOST_RAMPS = 40;
    /** Below this the starter turns the engine, rpm. */
    private static final double RUNNING = 450;

    private final LogQuantity x;
    private final double rise;
    private final double tolerance;
    private final List<LogReading.Ramp> found = new ArrayList<>();
    private double[] times = new double[64];
    private double[] xs = new double[64];
    private double[] ys = new double[64];
    private int n;
    private int peakAt;

    Ramps(LogQuantity x, double rise, double tolerance) {
        this.x = x;
        this.rise = rise;
        this.tolerance = tolerance;
    }

    void at(double time, Held held) {
        if (!held.isFresh(LogQuantity.MASS_AIR_FLOW) && !held.isFresh(x)) {
            return;
        }
        double along = held.get(x, time);
        double flow = held.get(LogQuantity.MASS_AIR_FLOW, time);
        if (Double.isNaN(along) || Double.isNaN(flow)) {
            return;
        }
        if (x == LogQuantity.ENGINE_SPEED && along < RUNNING) {
            breakHere();
            return;
        }
        if (n > 0 && (time - times[n - 1] > 10 || time - times[0] > LONGEST_SECONDS)) {
            breakHere();
        }
        if (n > 0 && (along < xs[peakAt] - tolerance || along < xs[0] - tolerance / 2)) {
            breakHere();
        }
        // While nothing has risen yet, only the last few points may become the foot of a pull.
        if (n >= 3 && along <= xs[0] + tolerance && xs[peakAt] <= xs[0] + tolerance) {
            System.arraycopy(times, 1, times, 0, n - 1);
            System.arraycopy(xs, 1, xs, 0, n - 1);
            System.arraycopy(ys, 1, ys, 0, n - 1);
            n--;
            peakAt = highest();
        }
        if (n == MOST_POINTS) {
            halve();
        }
        if (n == times.length) {
            int room = Math.min(MOST_POINTS, n * 2);
            times = Arrays.copyOf(times, room);
            xs = Arrays.copyOf(xs, room);
            ys = Arrays.copyOf(ys, room);
        }
        times[n] = time;
        xs[n] = along;
        ys[n] = flow;
        if (n == 0 || along >= xs[peakAt]) {
            peakAt = n;
        }
        n++;
    }

    private int highest() {
        int best = 0;
        for (int i = 1; i < n; i++) {
            best = xs[i] >= xs[best] ? i : best;
        }
        return best;
    }

    private void halve() {
        for (int i = 0; i < n / 2; i++) {
            times[i] = times[2 * i];
            xs[i] = xs[2 * i];
            ys[i] = ys[2 * i];
        }
        n /= 2;
        peakAt = highest();
    }

    void breakHere() {
        // The top may be held for long; the pull ends where it is reached.
        int top = 0;
        while (top < peakAt && xs[top] < xs[peakAt] - tolerance / 2) {
            top++;
        }
        int points = top + 1;
        if (n > 0 && points >= FEWEST_POINTS && xs[top] - xs[0] >= rise) {
            found.add(new LogReading.Ramp(
                    times[0],
                    times[top],
                    x,
                    LogQuantity.MASS_AIR_FLOW,
                    Arrays.copyOf(xs, points),
                    Arrays.copyOf(ys, points)));
            if (found.size() > 2 * MOST_RAMPS) {
                keepLargest();
            }
        }
        n = 0;
        peakAt = 0;
    }

    private void keepLargest() {
        found.sort(Comparator.comparingDouble(Ramps::riseOf).reversed());
        found.subList(Math.min(MOST_RAMPS, found.size()), found.size()).clear();
    }

    private static double riseOf(LogReading.Ramp ramp) {
        return ramp.xs()[ramp.xs().length - 1] - ramp.xs()[0];
    }

    /** The pulls with the largest rise, in order of time. */
    List<LogReading.Ramp> found() {
        breakHere();
        keepLargest();
        found.sort(Comparator.comparingDouble(LogReading.Ramp::from));
        return List.copyOf(found);
    }
}
