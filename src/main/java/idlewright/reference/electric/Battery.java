package idlewright.reference.electric;

import static idlewright.reference.bounds.Bounds.within;

import idlewright.reference.verdict.Band;
import idlewright.reference.verdict.Ground;
import idlewright.reference.verdict.Judged;
import idlewright.reference.verdict.Verdict;
import java.util.Locale;
import java.util.OptionalDouble;

/** A 12 V battery at rest, cranking and being charged. Volts -60 to 60; negative means swapped probes. */
public final class Battery {

    private Battery() {}

    /** How the battery is built; the rest table holds for flooded cells only. */
    public enum Build {
        FLOODED,
        AGM,
        GEL
    }

    /**
     * How long the battery had stood.
     *
     * @param keyOff everything off, also the key
     * @param hoursAtRest since it was last charged or discharged
     * @param surfaceChargeRemoved by a load, when it has not rested 6 hours
     */
    public record Rest(boolean keyOff, double hoursAtRest, boolean surfaceChargeRemoved) {
        public Rest {
            within("hours at rest", hoursAtRest, 0, 100_000, "h");
        }
    }

    /**
     * State of charge, when it could be told.
     *
     * @param percent of full, rounded to whole 5 %, or empty
     */
    public record Charge(Judged judged, OptionalDouble percent) {}

    // At 26.7 degC. Source: reference sheet crediting BCI.
    private static final double[] REST_VOLTS = {11.89, 12.06, 12.24, 12.45, 12.65};
    private static final double[] REST_PERCENT = {0, 25, 50, 75, 100};

    // Common practice (from memory): the colder, the less a sound battery holds while cranking.
    private static final double[] CRANK_C = {-18, -12, -7, -1, 4, 10, 16, 21};
    private static final double[] CRANK_VOLTS = {8.5, 8.7, 8.9, 9.1, 9.3, 9.4, 9.5, 9.6};

    /**
     * State of charge from rest voltage, only for a flooded battery truly at rest. Source: reference sheet crediting BCI,
     * 26.7 degC; a 10 % step is about 80 mV, so a 1 % meter is good to about 15 % of charge.
     *
     * @param temperatureC of the battery, -40 to 70 degC
     */
    public static Charge atRest(double volts, Rest rest, Build build, double temperatureC) {
        within("battery temperature", temperatureC, -40, 70, "degC");
        Probes battery = Probes.read(volts);
        if (!rest.keyOff()) {
            return unknown(
                    "The key was on: the rest table holds only at rest. Judge feeds against the battery instead.");
        }
        if (rest.hoursAtRest() < 6 && !rest.surfaceChargeRemoved()) {
            return unknown("Not at rest: wait 6 hours or take the surface charge off with a load, then read again.");
        }
        if (build != Build.FLOODED) {
            return unknown("The rest table is for flooded batteries; %s ones differ: use the maker's table."
                    .formatted(build == Build.AGM ? "AGM" : "gel"));
        }
        if (battery.volts() > 13.2) {
            return unknown(String.format(
                    Locale.ROOT,
                    "%.2f V is more than a resting battery holds: surface charge, or a charger is on.",
                    battery.volts()));
        }
        double percent = interpolate(REST_VOLTS, REST_PERCENT, battery.volts());
        double rounded = 5 * Math.rint(percent / 5);
        Verdict verdict = percent >= 75 ? Verdict.WITHIN : percent >= 50 ? Verdict.TOO_CLOSE : Verdict.OUTSIDE;
        String words = Supply.noted(battery)
                + String.format(
                        Locale.ROOT,
                        "%.2f V at rest: about %.0f %% charged%s.%s",
                        battery.volts(),
                        rounded,
                        verdict == Verdict.WITHIN ? "" : ", charge it before judging anything else",
                        Math.abs(temperatureC - 26.7) > 15
                                ? " The table is for 27 °C; far from it the figure is only a hint."
                                : "");
        return new Charge(
                new Judged(verdict, Ground.COMMON_PRACTICE, words + " Table: reference sheet crediting BCI."),
                OptionalDouble.of(rounded));
    }

    private static Charge unknown(String reason) {
        return new Charge(Judged.not(Ground.COMMON_PRACTICE, reason), OptionalDouble.empty());
    }

    /**
     * The lowest voltage while cranking: 9.6 V near 21 degC, less in the cold. Common practice, no source.
     *
     * @param temperatureC of the battery, -40 to 70 degC
     */
    public static double crankingLimitVolts(double temperatureC) {
        return interpolate(CRANK_C, CRANK_VOLTS, within("battery temperature", temperatureC, -40, 70, "degC"));
    }

    /**
     * Judges the voltage held while cranking.
     *
     * @param temperatureC of the battery, -40 to 70 degC
     * @param uncertaintyVolts expanded, 0 to 5 V
     */
    public static Judged cranking(double volts, double temperatureC, double uncertaintyVolts) {
        within("uncertainty", uncertaintyVolts, 0, 5, "V");
        Probes battery = Probes.read(volts);
        double limit = crankingLimitVolts(temperatureC);
        Verdict verdict = Band.atLeast(limit).hold(battery.volts(), uncertaintyVolts);
        return Judged.practice(
                verdict,
                Supply.noted(battery)
                        + String.format(
                                Locale.ROOT,
                                "%.2f V while cranking; at %.0f °C at least %.1f V is good%s.",
                                battery.volts(),
                                temperatureC,
                                limit,
                                verdict == Verdict.OUTSIDE
                                        ? ": charge the battery and repeat before blaming battery or starter"
                                        : ""));
    }

    /**
     * Judges the charging voltage with the engine running: 13.5 to 14.8 V is usual, under 13.2 V is weak, over 15.0 V
     * overcharges. Common practice, no source. A smart alternator may rest between 12.5 and 15 V and be well.
     *
     * @param smart the vehicle controls its charging voltage
     */
    public static Judged charging(double volts, boolean smart, double uncertaintyVolts) {
        within("uncertainty", uncertaintyVolts, 0, 5, "V");
        Probes battery = Probes.read(volts);
        double v = battery.volts();
        String sums = Supply.noted(battery) + String.format(Locale.ROOT, "%.2f V with the engine running", v);
        Verdict usual = new Band(13.5, 14.8).hold(v, uncertaintyVolts);
        if (usual == Verdict.WITHIN) {
            return Judged.practice(Verdict.WITHIN, sums + "; 13.5 to 14.8 V is usual.");
        }
        if (v > 15 + uncertaintyVolts) {
            return Judged.practice(Verdict.OUTSIDE, sums + ": over 15.0 V it overcharges.");
        }
        if (smart && v >= 12.5 - uncertaintyVolts) {
            return Judged.not(
                    Ground.COMMON_PRACTICE,
                    sums
                            + ". Smart charging may rest anywhere from 12.5 to 15 V: switch on lamps and blower and see whether"
                            + " it rises above 13.5 V.");
        }
        if (v < 13.2 - uncertaintyVolts) {
            return Judged.practice(Verdict.OUTSIDE, sums + ": under 13.2 V the charging is weak.");
        }
        return Judged.practice(Verdict.TOO_CLOSE, sums + "; 13.5 to 14.8 V is usual: read again after some minutes.");
    }

    private static double interpolate(double[] xs, double[] ys, double x) {
        if (x <= xs[0]) {
            return ys[0];
        }
        for (int i = 1; i < xs.length; i++) {
            if (x <= xs[i]) {
                return ys[i - 1] + (ys[i] - ys[i - 1]) * (x - xs[i - 1]) / (xs[i] - xs[i - 1]);
            }
        }
        return ys[ys.length - 1];
    }
}
