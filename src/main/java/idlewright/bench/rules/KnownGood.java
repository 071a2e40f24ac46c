package idlewright.bench.rules;

import idlewright.reference.units.Unit;
import java.util.Arrays;
import java.util.Optional;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.apache.commons.statistics.distribution.NormalDistribution;

/** The shop's own proven-good readings as a band. */
public final class KnownGood {
    /** Under this many vehicles or proofs the dots are shown and nothing is judged. */
    public static final int ENOUGH = 8;

    private static final double COVERAGE = 0.95;
    private static final double CONFIDENCE = 0.95;

    private KnownGood() {}

    /**
     * A band from known-good values.
     *
     * @param low and high are NaN while {@code judges} is false
     */
    public record Band(int count, double mean, double low, double high, boolean judges, String words) {

        /** The limit this band gives, if it judges at all. */
        public Optional<Limit> limit(Unit unit) {
            return judges
                    ? Optional.of(new Limit(low, high, unit, Ground.KNOWN_GOOD, count + " readings of this shop"))
                    : Optional.empty();
        }
    }

    /** A two-sided tolerance band: with 95 % confidence it holds 95 % of healthy vehicles. */
    public static Band band(double[] values) {
        double mean = Arrays.stream(values).average().orElse(Double.NaN);
        if (values.length < ENOUGH) {
            return new Band(
                    values.length,
                    mean,
                    Double.NaN,
                    Double.NaN,
                    false,
                    values.length + " known good, " + ENOUGH + " are needed before they judge: shown, not judged.");
        }
        double squares =
                Arrays.stream(values).map(value -> (value - mean) * (value - mean)).sum();
        double reach = howe(values.length) * Math.sqrt(squares / (values.length - 1));
        return new Band(
                values.length,
                mean,
                mean - reach,
                mean + reach,
                true,
                values.length + " known good: with 95 % confidence the band holds 95 % of healthy vehicles.");
    }

    /** Howe's factor for a two-sided normal tolerance interval (NIST/SEMATECH handbook 7.2.6.3). */
    static double howe(int count) {
        double z = NormalDistribution.of(0, 1).inverseCumulativeProbability((1 + COVERAGE) / 2);
        double chi = ChiSquaredDistribution.of(count - 1).inverseCumulativeProbability(1 - CONFIDENCE);
        return z * Math.sqrt((count - 1) * (1 + 1.0 / count) / chi);
    }
}
