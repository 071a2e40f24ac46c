package idlewright.reference.obd.log;

import java.util.Arrays;

/**
 * The latest value of every quantity with its time. Tools poll one quantity after the other, so a value stands until the
 * next one is due: three of its usual intervals, 5 to 20 s.
 */
final class Held {
    static final int SIZE = LogQuantity.values().length;

    final double[] value = new double[SIZE];
    private final double[] at = new double[SIZE];
    private final double[] interval = new double[SIZE];
    private final double[] until = new double[SIZE];

    /** One bit per quantity that came with the present row. */
    long fresh;

    Held() {
        Arrays.fill(value, Double.NaN);
        Arrays.fill(at, Double.NEGATIVE_INFINITY);
        Arrays.fill(until, Double.NEGATIVE_INFINITY);
    }

    void put(int quantity, double time, double now) {
        double step = time - at[quantity];
        if (step > 0 && step < 60) {
            interval[quantity] += (step - interval[quantity]) * (interval[quantity] == 0 ? 1 : 0.1);
        }
        value[quantity] = now;
        at[quantity] = time;
        until[quantity] = time + Math.min(20, Math.max(5, 3 * interval[quantity]));
        fresh |= 1L << quantity;
    }

    /** The value, or NaN when it never came or is too old. */
    double get(LogQuantity quantity, double time) {
        int q = quantity.ordinal();
        return time <= until[q] ? value[q] : Double.NaN;
    }

    boolean isFresh(LogQuantity quantity) {
        return (fresh & 1L << quantity.ordinal()) != 0;
    }

    /** After a break in time nothing old may stand beside anything new. */
    void forget() {
        Arrays.fill(at, Double.NEGATIVE_INFINITY);
        Arrays.fill(until, Double.NEGATIVE_INFINITY);
        Arrays.fill(value, Double.NaN);
    }
}
