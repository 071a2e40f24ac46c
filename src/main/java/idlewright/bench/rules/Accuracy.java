package idlewright.bench.rules;

/**
 * What an instrument promises: plus or minus (a percentage of the reading + a number of last digits).
 *
 * @param percentOfReading 0.5 for half a per cent
 * @param digits counts of the last digit, 2 for "+ 2 digits"
 * @param resolution one last digit, in the unit shown
 * @param finest the last digit the instrument is known to have, which typing more digits cannot pass; 0 where not known
 */
public record Accuracy(double percentOfReading, double digits, double resolution, double finest) {
    public Accuracy {
        if (!(percentOfReading >= 0) || !(digits >= 0) || !(resolution >= 0) || !(finest >= 0)) {
            throw new Refusal("An accuracy cannot be negative: give per cent of reading, digits and the last digit.");
        }
    }

    public Accuracy(double percentOfReading, double digits, double resolution) {
        this(percentOfReading, digits, resolution, 0);
    }

    /** The same, with the last digit the instrument is known to have. */
    public Accuracy notFinerThan(double lastDigit) {
        return new Accuracy(percentOfReading, digits, resolution, lastDigit);
    }

    /** As if one digit more had been typed; the same where the instrument has no more. */
    Accuracy finer() {
        return resolution > finest * (1 + 1e-9)
                ? new Accuracy(percentOfReading, digits, Math.max(finest, resolution / 10), finest)
                : this;
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
        return expandedDifference(difference, this);
    }

    /** The same, where the two were typed to another last digit. */
    double expandedDifference(double difference, Accuracy other) {
        double scale = percentOfReading / 100 * Math.abs(difference);
        return Math.hypot(
                twice(scale), Math.hypot(twice(digits * resolution), other.twice(other.digits * other.resolution)));
    }

    /** Whether it is the same instrument, for all that is known. */
    boolean sameInstrument(Accuracy other) {
        return percentOfReading == other.percentOfReading && digits == other.digits;
    }

    private double twice(double halfWidth) {
        return 2 * Math.sqrt(halfWidth * halfWidth / 3 + resolution * resolution / 12);
    }
}
