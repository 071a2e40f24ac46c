package idlewright.reference.sweep;

/**
 * The rising part of a sweep over time.
 *
 * @param from first place, the rest before the rise included
 * @param to place after the last, the rest before the fall included
 */
record Ramp(int from, int to) {

    /** A turn counts when it is this share of the whole range. */
    private static final double TURN = 0.4;

    /** The leg that rises most, between turns that are no dropouts. */
    static Ramp rising(Curve curve) {
        double[] level = curve.level();
        double range = Curve.range(level);
        int n = curve.size();
        Ramp best = new Ramp(0, 0);
        double bestRise = 0;
        int low = 0;
        int start = 0;
        int high = 0;
        for (int i = 1; i < n; i++) {
            if (level[i] > level[high]) {
                high = i;
            }
            if (level[high] - level[low] < TURN * range && level[i] < level[low]) {
                low = i;
                high = i;
                continue;
            }
            boolean turned = level[high] - level[low] >= TURN * range && level[high] - level[i] >= TURN * range;
            int over = turned ? afterGlitch(curve, level, high, i, range) : -1;
            if (over >= 0) {
                i = over;
                high = over;
            } else if (turned) {
                double rise = level[high] - level[low];
                if (rise > bestRise) {
                    bestRise = rise;
                    best = new Ramp(
                            afterFall(curve, level, start, low, range), lastHigh(curve, level, high, i, range) + 1);
                }
                // On to the bottom of the fall, where the next leg may start.
                low = i;
                while (i < n && level[i] - level[low] < TURN * range) {
                    if (level[i] < level[low]) {
                        low = i;
                    }
                    i++;
                }
                start = low;
                high = low;
                i = low;
            }
        }
        return level[high] - level[low] > bestRise ? new Ramp(afterFall(curve, level, start, low, range), n) : best;
    }

    /**
     * A sudden fall that is made good as suddenly soon after (a dropout), or came after a rise as sudden soon before (a
     * spike), is no turn: where to go on after it, or -1 for a turn.
     */
    private static int afterGlitch(Curve curve, double[] level, int high, int fallen, double range) {
        double[] x = curve.x();
        double little = 0.1 * range;
        int brink = high;
        for (int i = high; i < fallen; i++) {
            brink = level[i] >= level[high] - little ? i : brink;
        }
        double sudden = Math.max(0.025 * curve.width(), 1.5 * curve.width() / curve.size());
        if (x[fallen] - x[brink] > sudden) {
            return -1;
        }
        double soon = 0.3 * curve.width();
        for (int i = fallen + 1; i < level.length && x[i] - x[fallen] < soon; i++) {
            if (level[i] >= level[high] - little) {
                int foot = i;
                while (level[foot] > level[high] - TURN * range) {
                    foot--;
                }
                if (x[i] - x[foot] <= sudden) {
                    return i;
                }
                break;
            }
        }
        // How far it fell in all.
        double bottom = level[fallen];
        for (int i = fallen; i < level.length && x[i] - x[brink] <= sudden; i++) {
            bottom = Math.min(bottom, level[i]);
        }
        for (int i = brink; i >= 0 && x[brink] - x[i] < soon / 2; i--) {
            if (level[i] <= bottom + little) {
                int head = i;
                while (level[head] < level[high] - little) {
                    head++;
                }
                return x[head] - x[i] <= sudden ? fallen : -1;
            }
        }
        return -1;
    }

    /** A record that begins on its way down starts where that fall has ended. */
    private static int afterFall(Curve curve, double[] level, int start, int low, double range) {
        int top = start;
        for (int i = start; i <= low; i++) {
            if (level[i] > level[top]) {
                top = i;
            }
        }
        if (level[top] - level[low] < TURN * range) {
            return start;
        }
        // A dropout on the way up is no way down.
        int fallen = top;
        while (level[top] - level[fallen] < TURN * range) {
            fallen++;
        }
        if (afterGlitch(curve, level, top, fallen, range) >= 0) {
            return start;
        }
        int bottom = top;
        while (level[bottom] > level[low] + 0.02 * range) {
            bottom++;
        }
        return bottom;
    }

    /** Where the rest at the top ends. In a short record the level cuts a sharp turn off, so the points themselves count. */
    private static int lastHigh(Curve curve, double[] level, int high, int fallen, double range) {
        boolean shortRecord = curve.half() <= 4;
        double[] y = shortRecord ? curve.y() : level;
        int from = shortRecord ? Math.max(0, high - curve.half()) : high;
        double most = y[from];
        for (int i = from; i <= fallen; i++) {
            most = Math.max(most, y[i]);
        }
        int last = high;
        for (int i = from; i <= fallen; i++) {
            double slack = shortRecord
                    ? 3 * curve.sigma()[i] + curve.step()
                    : Math.max(0.005 * range, 2 * curve.levelError(i));
            last = y[i] >= most - slack ? i : last;
        }
        return last;
    }
}
