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
