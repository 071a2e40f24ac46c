package idlewright.reference.obd.log;

import java.util.Arrays;

/** Median and spread of a stream, from every k-th value once there are more than fit. */
final class Sampled {
    private static final int ROOM = 1024;

    private double[] kept = new double[16];
    private int n;
    private long seen;
    private long stride = 1;

    void clear() {
        n = 0;
        seen = 0;
        stride = 1;
    }

    void add(double value) {
        if (seen++ % stride != 0) {
            return;
        }
        if (n == ROOM) {
            for (int i = 0; i < ROOM / 2; i++) {
                kept[i] = kept[2 * i];
            }
            n = ROOM / 2;
            stride *= 2;
            if ((seen - 1) % stride != 0) {
                return;
            }
        }
        if (n == kept.length) {
            kept = Arrays.copyOf(kept, Math.min(ROOM, n * 2));
        }
        kept[n++] = value;
    }

    long seen() {
        return seen;
    }

    double median() {
        return median(kept, n);
    }

    /** 1.4826 times the median absolute deviation from {@code median}. */
    double spread(double median) {
        double[] away = new double[n];
        for (int i = 0; i < n; i++) {
            away[i] = Math.abs(kept[i] - median);
        }
        return 1.4826 * median(away, n);
    }

    /** NaN of nothing. */
    static double median(double[] values, int n) {
        if (n == 0) {
            return Double.NaN;
        }
        double[] sorted = Arrays.copyOf(values, n);
        Arrays.sort(sorted);
        return n % 2 == 1 ? sorted[n / 2] : (sorted[n / 2 - 1] + sorted[n / 2]) / 2;
    }
}
