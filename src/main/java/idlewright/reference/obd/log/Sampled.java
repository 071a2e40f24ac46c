package idlewright.reference.obd.log;

import java.util.Arrays;

/** Median and spread of a stream, from every k-th value once there are more than fit. */
final class Sampled {
    private static final int ROOM = 512;

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
        return median(Arrays.copyOf(kept, n), n);
    }

    /** 1.4826 times the median absolute deviation from {@code median}. */
    double spread(double median) {
        double[] away = new double[n];
        for (int i = 0; i < n; i++) {
            away[i] = Math.abs(kept[i] - median);
        }
        return 1.4826 * median(away, n);
    }

    /** The median of the first n values, which it puts into another order; NaN of nothing. */
    static double median(double[] values, int n) {
        if (n == 0) {
            return Double.NaN;
        }
        double upper = select(values, n, n / 2);
        if (n % 2 == 1) {
            return upper;
        }
        double lower = values[0];
        for (int i = 1; i < n / 2; i++) {
            lower = Math.max(lower, values[i]);
        }
        return (lower + upper) / 2;
    }

    /** Hoare's selection: sorting for medians was a third of the time of a whole read. */
    private static double select(double[] values, int n, int k) {
        int low = 0;
        int high = n - 1;
        while (low < high) {
            double pivot = values[(low + high) >>> 1];
            int i = low;
            int j = high;
            while (i <= j) {
                while (values[i] < pivot) {
                    i++;
                }
                while (values[j] > pivot) {
                    j--;
                }
                if (i <= j) {
                    double swap = values[i];
                    values[i++] = values[j];
                    values[j--] = swap;
                }
            }
            if (k <= j) {
                high = j;
            } else if (k >= i) {
                low = i;
            } else {
                break;
            }
        }
        return values[k];
    }
}
