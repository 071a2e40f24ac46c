package idlewright.bench.rules;

import idlewright.reference.units.Unit;
import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;

/** How the rules write numbers into sentences: four significant digits, no exponent, unit always beside it. */
final class Figures {
    private Figures() {}

    static String plain(double value) {
        if (value == 0) return "0";
        var rounded = BigDecimal.valueOf(value)
                .round(new MathContext(Math.abs(value) >= 1000 ? 5 : 4, RoundingMode.HALF_EVEN))
                .stripTrailingZeros();
        return rounded.scale() < 0 ? rounded.setScale(0).toPlainString() : rounded.toPlainString();
    }

    /**
     * What was calculated: three figures (four from 100 up), and no digit beyond the first of its uncertainty. Rounded by less
     * than that, it stays on its side of every limit it was told apart from.
     */
    static BigDecimal calculated(double value, double uncertainty) {
        BigDecimal rounded =
                BigDecimal.valueOf(value).round(new MathContext(Math.abs(value) >= 100 ? 4 : 3, RoundingMode.HALF_UP));
        int told = uncertainty > 0 ? (int) -Math.floor(Math.log10(uncertainty)) : Integer.MAX_VALUE;
        if (told < rounded.scale()) rounded = rounded.setScale(Math.max(0, told), RoundingMode.HALF_UP);
        rounded = rounded.stripTrailingZeros();
        return rounded.scale() < 0 ? rounded.setScale(0) : rounded;
    }

    /** Three figures, for what was converted from another unit. */
    static double converted(double value) {
        return value == 0
                ? 0
                : BigDecimal.valueOf(value)
                        .round(new MathContext(Math.abs(value) >= 1000 ? 4 : 3, RoundingMode.HALF_UP))
                        .doubleValue();
    }

    /** Two ends with as many decimals: "10.9 to 13.0". */
    static String alike(double low, double high) {
        var a = new BigDecimal(plain(low));
        var b = new BigDecimal(plain(high));
        int decimals = Math.max(a.scale(), b.scale());
        return a.setScale(decimals).toPlainString() + " to "
                + b.setScale(decimals).toPlainString();
    }

    static String of(double value, Unit unit) {
        return (plain(value) + " " + unit.symbol()).strip();
    }

    /** An uncertainty: two significant digits, more would be made up (JCGM 100). */
    static String unsure(double value, Unit unit) {
        return of(
                BigDecimal.valueOf(value)
                        .round(new MathContext(2, RoundingMode.HALF_UP))
                        .doubleValue(),
                unit);
    }

    static String percent(double share) {
        double percent = share * 100;
        if (percent > 0 && percent < 1) return "under 1 %";
        if (percent >= 99.5 && percent < 100) return "over 99 %";
        return Math.round(percent) + " %";
    }
}
