package idlewright.reference.obd.log;

import java.util.Arrays;

/**
 * A series of any length in at most 2,000 points: as it is while it fits, then lowest and highest of each run of values,
 * the runs doubling when they become too many. Extremes always stay.
 */
final class Preview {
    private static final int POINTS = 2000;
    private static final int MOST_RUNS = POINTS / 2;

    private double[] times = new double[256];
    private double[] values = new double[256];
    private int n;
    /** Values in one run; 1 while every value is kept. Then each run is a pair of points in order of time. */
    private long runLength = 1;

    private long inRun;
    private double lowTime;
    private double low;
    private double highTime;
    private double high;

    void add(double time, double value) {
        if (runLength == 1) {
            if (n == POINTS) {
                pairUp();
            } else {
                if (n == times.length) {
                    times = Arrays.copyOf(times, Math.min(POINTS, n * 2));
                    values = Arrays.copyOf(values, Math.min(POINTS, n * 2));
                }
                times[n] = time;
                values[n++] = value;
                return;
            }
        }
        if (inRun == 0 || value < low) {
            low = value;
            lowTime = time;
        }
        if (inRun == 0 || value > high) {
            high = value;
            highTime = time;
        }
        if (++inRun == runLength) {
            closeRun();
        }
    }

    /** 2,000 single values become 500 runs of four, two points each. */
    private void pairUp() {
        int out = 0;
        for (int i = 0; i < n; i += 4) {
            out = keepExtremes(i, i + 4, out);
        }
        n = out;
        runLength = 4;
    }

    private int keepExtremes(int from, int to, int out) {
        int lowAt = from;
        int highAt = from;
        for (int i = from + 1; i < to; i++) {
            lowAt = values[i] < values[lowAt] ? i : lowAt;
            highAt = values[i] > values[highAt] ? i : highAt;
        }
        double firstTime = times[Math.min(lowAt, highAt)];
        double first = values[Math.min(lowAt, highAt)];
        double secondTime = times[Math.max(lowAt, highAt)];
        double second = values[Math.max(lowAt, highAt)];
        times[out] = firstTime;
        values[out] = first;
        times[out + 1] = secondTime;
        values[out + 1] = second;
        return out + 2;
    }

    private void closeRun() {
        boolean lowFirst = lowTime <= highTime;
        times[n] = lowFirst ? lowTime : highTime;
        values[n] = lowFirst ? low : high;
        times[n + 1] = lowFirst ? highTime : lowTime;
        values[n + 1] = lowFirst ? high : low;
        n += 2;
        inRun = 0;
        if (n == MOST_RUNS * 2) {
            int out = 0;
            for (int i = 0; i < n; i += 4) {
                out = keepExtremes(i, i + 4, out);
            }
            n = out;
            runLength *= 2;
        }
    }

    boolean isEmpty() {
        return n == 0;
    }

    LogReading.Series series(LogQuantity quantity) {
        if (inRun > 0 && runLength > 1) {
            closeRun();
        }
        return new LogReading.Series(quantity, quantity.unit(), Arrays.copyOf(times, n), Arrays.copyOf(values, n));
    }
}
