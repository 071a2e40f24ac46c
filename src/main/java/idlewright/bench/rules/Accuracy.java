package idlewright.bench.rules;

/**
 * What an instrument promises: plus or minus (a percentage of the reading + a number of last digits).
 *
 * @param percentOfReading 0.5 for half a per cent
 * @param digits counts of the last digit, 2 for "+ 2 digits"
 * @param resolution one last digit, in the unit shown
 */
public record Accuracy(double percentOfReading, double digits, double resolution) {
    public Accuracy {
        if (!(percentOfReading >= 0) || !(digits >= 0) || !(resolution >= 0)) {
            throw new Refusal("An accuracy cannot be negative: give per cent of reading, digits and the last digit.");
        }
    }

    /** No promise known: the reading counts as it was typed. */
    public static Accuracy unknown() {
        return new Accuracy(0, 0, 0);
    }

    /**
     * Expanded uncertainty of a reading, coverage factor 2. The promise and the last digit are taken as rectangular
     * (JCGM 100 type B, from memory): u² = a²/3 + r²/12.
     */
    public double expanded(double value) {
        return twice(percentOfReading / 100 * Math.abs(value) + digits * resolution);
    }

    /**
     * Expanded uncertainty of a difference of two readings of one meter at one moment: its error of scale bears on the
     * difference only, its digits on both readings.
     */
    public double expandedDifference(double difference) {
        double scale = percentOfReading / 100 * Math.abs(difference);
        return Math.hypot(twice(scale), Math.sqrt(2) * twice(digits * resolution));
    }

    private double twice(double halfWidth) {
        return 2 * Math.sqrt(halfWidth * halfWidth / 3 + resolution * resolution / 12);
    }
}
