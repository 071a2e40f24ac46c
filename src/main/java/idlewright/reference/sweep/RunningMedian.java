package idlewright.reference.sweep;

import java.util.Arrays;

/**
 * Running median with a window that shrinks evenly towards the ends, so that a rising series passes unchanged and its ends
 * are not bent.
 */
final class RunningMedian {

    private RunningMedian() {}

    /** Half width of the window at a place: up to {@code half}, less near the ends. */
    static int halfAt(int place, int length, int half) {
        return Math.min(half, Math.min(place, length - 1 - place));
    }

    static double[] of(double[] y, int half) {
        int n = y.length;
        double[] medians = new double[n];
        double[] window = new double[2 * half + 2];
        int size = 0;
        int from = 0;
        int to = -1;
        for (int i = 0; i < n; i++) {
            int reach = halfAt(i, n, half);
            while (to < i + reach) {
                size = insert(window, size, y[++to]);
            }
            while (from < i - reach) {
                size = remove(window, size, y[from++]);
            }
            medians[i] = window[size / 2];
        }
        return medians;
    }

    private static int insert(double[] window, int size, double value) {
        int place = Arrays.binarySearch(window, 0, size, value);
        place = place < 0 ? -place - 1 : place;
        System.arraycopy(window, place, window, place + 1, size - place);
        window[place] = value;
        return size + 1;
    }

    private static int remove(double[] window, int size, double value) {
        int place = Arrays.binarySearch(window, 0, size, value);
        System.arraycopy(window, place + 1, window, place, size - place - 1);
        return size - 1;
    }
}
