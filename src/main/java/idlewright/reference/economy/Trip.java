package idlewright.reference.economy;

import static idlewright.reference.bounds.Bounds.within;

import idlewright.reference.bounds.Bounds;

/**
 * Something read per hour, added up over a log by trapezoids.
 *
 * @param total distance in km for km/h, fuel in L for L/h
 * @param secondsCounted time that the total covers
 * @param secondsMissing time in gaps too long to bridge, left out of the total
 */
public record Trip(double total, double secondsCounted, double secondsMissing) {

    /**
     * Adds up. The error of the trapezoid is small while the log is finer than the driving changes (a few seconds).
     *
     * @param seconds never falling; two points at least
     * @param perHour the same length, 0 to 1,000
     * @param longestGapSeconds a longer gap is not bridged, 0.1 to 3,600 s
     */
    public static Trip sum(double[] seconds, double[] perHour, double longestGapSeconds) {
        if (seconds.length != perHour.length || seconds.length < 2) {
            throw new IllegalArgumentException(
                    "at least 2 points with a time and a value each are needed, but there were " + seconds.length
                            + " times and " + perHour.length + " values");
        }
        within("longest gap", longestGapSeconds, 0.1, 3600, "s");
        Bounds.finite("times", seconds);
        within("value per hour", perHour[0], 0, 1000, "");
        double total = 0;
        double counted = 0;
        double missing = 0;
        for (int i = 1; i < seconds.length; i++) {
            within("value per hour", perHour[i], 0, 1000, "");
            double step = seconds[i] - seconds[i - 1];
            if (step < 0) {
                throw new IllegalArgumentException("times must not fall, but number %d goes back".formatted(i + 1));
            }
            if (step > longestGapSeconds) {
                missing += step;
            } else {
                total += (perHour[i] + perHour[i - 1]) / 2 * step / 3600;
                counted += step;
            }
        }
        return new Trip(total, counted, missing);
    }
}
