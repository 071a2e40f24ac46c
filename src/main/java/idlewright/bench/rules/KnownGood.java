package idlewright.bench.rules;

import idlewright.reference.stats.Tolerance;
import idlewright.reference.units.Unit;
import idlewright.reference.verdict.Ground;
import java.util.Arrays;
import java.util.Optional;

/** The shop's own proven-good readings as a band. */
public final class KnownGood {
    /** Under this many vehicles or proofs the dots are shown and nothing is judged. */
    public static final int ENOUGH = Tolerance.FEWEST;

    private KnownGood() {}

    /**
     * A band from known-good values.
     *
     * @param low NaN while {@code judges} is false
     * @param high NaN while {@code judges} is false
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
        return band(values, 0);
    }

    /** The same, where the smallest step of the instrument is known: equal readings then still leave a band. */
    public static Band band(double[] values, double step) {
        return Tolerance.interval(values, step)
                .map(band -> new Band(band.n(), band.mean(), band.low(), band.high(), true, band.words() + "."))
                .orElseGet(() -> new Band(
                        values.length,
                        Arrays.stream(values).average().orElse(Double.NaN),
                        Double.NaN,
                        Double.NaN,
                        false,
                        values.length + " known good, " + ENOUGH
                                + " are needed before they judge: shown, not judged."));
    }
}
