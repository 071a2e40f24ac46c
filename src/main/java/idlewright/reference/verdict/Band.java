package idlewright.reference.verdict;

import idlewright.reference.bounds.Bounds;

/** A limit with two ends, in the unit of the reading; an end may be infinite. */
public record Band(double low, double high) {

    public Band {
        if (!(low < high)) {
            throw new IllegalArgumentException(
                    "the lower end of a limit must lie below its upper end, but they were %s and %s"
                            .formatted(Bounds.plain(low), Bounds.plain(high)));
        }
    }

    public static Band atMost(double high) {
        return new Band(Double.NEGATIVE_INFINITY, high);
    }

    public static Band atLeast(double low) {
        return new Band(low, Double.POSITIVE_INFINITY);
    }

    /**
     * Holds a reading against the band: a limit that lies inside the reading's uncertainty is too close to call
     * (guard band of one expanded uncertainty, JCGM 106:2012, from memory).
     *
     * @param uncertainty expanded uncertainty, unit of the reading, 0 and up
     */
    public Verdict hold(double value, double uncertainty) {
        Bounds.finite("the reading", value);
        Bounds.within("the uncertainty of the reading", uncertainty, 0, Double.MAX_VALUE, "");
        boolean spansAnEnd = Math.abs(value - low) < uncertainty || Math.abs(value - high) < uncertainty;
        if (spansAnEnd) {
            return Verdict.TOO_CLOSE;
        }
        return value >= low && value <= high ? Verdict.WITHIN : Verdict.OUTSIDE;
    }

    public Verdict hold(double value) {
        return hold(value, 0);
    }
}
