package idlewright.reference.mechanical;

import static idlewright.reference.bounds.Bounds.within;

import idlewright.reference.verdict.Band;
import idlewright.reference.verdict.Ground;
import idlewright.reference.verdict.Judged;
import idlewright.reference.verdict.Verdict;
import java.util.Locale;

/** Fuel pressure of port injection against its maker's value, how it holds, and what the regulator does. kPa gauge. */
public final class FuelPressure {

    private FuelPressure() {}

    /**
     * Judges running pressure: the maker's value plus or minus a share, 5 % where the maker prints none (common practice).
     *
     * @param pressureKpa 0 to 30,000 kPa
     * @param makersKpa 10 to 30,000 kPa
     * @param tolerancePercent 1 to 30 %
     * @param uncertaintyKpa expanded, 0 to 500 kPa
     */
    public static Judged judge(double pressureKpa, double makersKpa, double tolerancePercent, double uncertaintyKpa) {
        within("fuel pressure", pressureKpa, 0, 30_000, "kPa");
        within("maker's fuel pressure", makersKpa, 10, 30_000, "kPa");
        within("tolerance", tolerancePercent, 1, 30, "%");
        within("uncertainty", uncertaintyKpa, 0, 500, "kPa");
        double slack = makersKpa * tolerancePercent / 100 + 1e-9;
        Verdict verdict = new Band(makersKpa - slack, makersKpa + slack).hold(pressureKpa, uncertaintyKpa);
        String sums = String.format(
                Locale.ROOT,
                "%.0f kPa; the maker's value is %.0f kPa, %.0f to %.0f kPa is good",
                pressureKpa,
                makersKpa,
                makersKpa - slack,
                makersKpa + slack);
        return new Judged(
                verdict,
                Ground.PUBLISHED,
                sums
                        + switch (verdict) {
                            case OUTSIDE ->
                                pressureKpa < makersKpa
                                        ? ". Low: filter, pump, its supply volts, regulator."
                                        : ". High: regulator or return line.";
                            case TOO_CLOSE -> ", and the gauge cannot tell.";
                            default -> ".";
                        });
    }

    /**
     * Judges how pressure holds after key-off: at most 34.5 kPa (5 psi) lost in the first 5 minutes. Common practice, no
     * source.
     *
     * @param startKpa 10 to 1,500 kPa
     * @param endKpa 0 to 1,500 kPa
     * @param minutes between the two, 1 to 60; under 5 only a loss can be seen, not that it holds
     */
    public static Judged holding(double startKpa, double endKpa, double minutes) {
        within("fuel pressure at key-off", startKpa, 10, 1500, "kPa");
        within("fuel pressure at the end", endKpa, 0, 1500, "kPa");
        within("time held", minutes, 1, 60, "min");
        double lost = startKpa - endKpa;
        String sums = String.format(Locale.ROOT, "%.0f kPa lost in %.0f min", lost, minutes);
        // Longer than 5 min the loss slows down; the same 34.5 kPa then is the stricter test and passes it too.
        if (lost <= 34.5 && minutes >= 5) {
            return Judged.practice(Verdict.WITHIN, sums + "; up to 35 kPa in 5 min is good.");
        }
        if (lost > 34.5 && minutes <= 5) {
            return Judged.practice(
                    Verdict.OUTSIDE,
                    sums
                            + "; up to 35 kPa in 5 min is good. Pinch feed and return in turn: pump check valve, regulator, or an"
                            + " injector leaks.");
        }
        return Judged.not(Ground.COMMON_PRACTICE, sums + ": read it again 5 min after key-off.");
    }

    /**
     * Judges a return-line regulator: pressure rises 55 to 69 kPa (8 to 10 psi) when its vacuum hose comes off at idle.
     * Common practice, no source.
     *
     * @param withVacuumKpa 10 to 1,500 kPa
     * @param withoutVacuumKpa 10 to 1,500 kPa
     */
    public static Judged regulator(double withVacuumKpa, double withoutVacuumKpa) {
        within("fuel pressure with vacuum", withVacuumKpa, 10, 1500, "kPa");
        within("fuel pressure without vacuum", withoutVacuumKpa, 10, 1500, "kPa");
        double rise = withoutVacuumKpa - withVacuumKpa;
        // Gauges are read to a few kPa, so the ends carry 3 kPa of slack.
        Verdict verdict = new Band(52, 72).hold(rise);
        return Judged.practice(
                verdict,
                String.format(
                        Locale.ROOT,
                        "%.0f kPa of rise with the vacuum hose off; 55 to 69 kPa is usual%s.",
                        rise,
                        verdict == Verdict.WITHIN
                                ? ""
                                : rise < 52
                                        ? ": regulator stuck, or no vacuum at its hose; fuel in the hose means a torn diaphragm"
                                        : ": check vacuum at idle and the regulator"));
    }
}
