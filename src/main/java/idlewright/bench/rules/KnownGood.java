package idlewright.bench.rules;

import idlewright.reference.stats.Tolerance;
import idlewright.reference.units.Unit;
import idlewright.reference.verdict.Ground;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.TreeMap;

/** The shop's own proven-good readings as a band. */
public final class KnownGood {
    /** Under this many cars the dots are shown and nothing is judged. */
    public static final int ENOUGH = Tolerance.FEWEST;

    /** Nothing is typed finer; what was converted from another unit has no step of its own. */
    private static final int MOST_DECIMALS = 4;

    private KnownGood() {}

    /**
     * A known-good value.
     *
     * @param test the number of the test it was read in; a later test has a higher one
     */
    public record Seen(long vehicle, long test, double value) {}

    /**
     * One value a car: a car proved twice is still one car, and its last proved test counts. Several cylinders or banks of that
     * test count by their mean.
     */
    public static double[] perCar(List<Seen> seen) {
        var cars = new TreeMap<Long, List<Seen>>();
        seen.stream()
                .sorted(java.util.Comparator.comparingLong(Seen::test))
                .forEach(each -> cars.merge(each.vehicle(), List.of(each), (before, now) -> {
                    boolean same = before.get(0).test() == each.test();
                    return same
                            ? java.util.stream.Stream.concat(before.stream(), now.stream())
                                    .toList()
                            : now;
                }));
        return cars.values().stream()
                .mapToDouble(
                        of -> of.stream().mapToDouble(Seen::value).average().orElseThrow())
                .toArray();
    }

    /**
     * A band from known-good values.
     *
     * @param low NaN while {@code judges} is false
     * @param high NaN while {@code judges} is false
     * @param decimals with which its ends are written; they are rounded to them, outwards
     */
    public record Band(int count, double mean, double low, double high, int decimals, boolean judges, String words) {

        /** The limit this band gives, if it judges at all. */
        public Optional<Limit> limit(Unit unit) {
            return judges
                    ? Optional.of(new Limit(low, high, unit, Ground.KNOWN_GOOD, count + " cars of this shop"))
                    : Optional.empty();
        }

        /** "11.0 to 14.2"; empty while it does not judge. */
        public String span() {
            return judges ? figure(low) + " to " + figure(high) : "";
        }

        private String figure(double value) {
            return BigDecimal.valueOf(value)
                    .setScale(decimals, RoundingMode.HALF_EVEN)
                    .toPlainString();
        }
    }

    /**
     * A two-sided tolerance band of one value a car: with 95 % confidence it holds 95 % of healthy cars. Equal readings of a
     * coarse instrument still leave a band, as wide as its step hides. Its ends carry the digits that so many cars can tell: a
     * step is at most a third of the spread, and no digit is more than one beyond those that were read.
     */
    public static Band band(double[] values) {
        int read = decimals(values);
        return Tolerance.interval(values, Math.pow(10, -read))
                .map(band -> {
                    int decimals = Math.max(0, Math.min(read + 1, (int) -Math.floor(Math.log10(band.s() / 3))));
                    double low = outwards(band.low(), decimals, RoundingMode.FLOOR);
                    double high = outwards(band.high(), decimals, RoundingMode.CEILING);
                    var written = new Band(band.n(), band.mean(), low, high, decimals, true, "");
                    return new Band(
                            band.n(),
                            band.mean(),
                            low,
                            high,
                            decimals,
                            true,
                            band.n() + " known-good cars: 95 of 100 healthy ones lie from " + written.span()
                                    + ", 95 % sure.");
                })
                .orElseGet(() -> new Band(
                        values.length,
                        Arrays.stream(values).average().orElse(Double.NaN),
                        Double.NaN,
                        Double.NaN,
                        0,
                        false,
                        values.length + (values.length == 1 ? " known-good car, " : " known-good cars, ") + ENOUGH
                                + " are needed before they judge: shown, not judged."));
    }

    /** Twelve digits: the way to SI and back, or 3.1 - 0.1, leaves a hair that the instrument did not show. */
    public static double tidy(double value) {
        return BigDecimal.valueOf(value).round(new java.math.MathContext(12)).doubleValue();
    }

    private static double outwards(double value, int decimals, RoundingMode mode) {
        return BigDecimal.valueOf(tidy(value)).setScale(decimals, mode).doubleValue();
    }

    /** With how many decimals the values were read, as far as they still show it. */
    private static int decimals(double[] values) {
        for (int decimals = 0; decimals < MOST_DECIMALS; decimals++) {
            double step = Math.pow(10, decimals);
            if (Arrays.stream(values).allMatch(value -> Math.abs(value * step - Math.rint(value * step)) < 1e-6))
                return decimals;
        }
        return MOST_DECIMALS;
    }
}
