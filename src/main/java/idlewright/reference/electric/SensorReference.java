package idlewright.reference.electric;

import static idlewright.reference.bounds.Bounds.within;

import idlewright.reference.verdict.Band;
import idlewright.reference.verdict.Judged;
import idlewright.reference.verdict.Verdict;
import java.util.Locale;

/** The reference voltage the computer feeds its sensors, and what rides on it. */
public final class SensorReference {

    private SensorReference() {}

    /**
     * Judges a 5 V reference: within 0.1 V (common practice, no source; a few vehicles use 8 or 12 V).
     *
     * @param volts -60 to 60 V, negative meaning swapped probes
     * @param nominalVolts 4 to 15 V, usually 5
     * @param uncertaintyVolts expanded, 0 to 5 V
     */
    public static Judged judge(double volts, double nominalVolts, double uncertaintyVolts) {
        within("nominal reference", nominalVolts, 4, 15, "V");
        within("uncertainty", uncertaintyVolts, 0, 5, "V");
        Probes probes = Probes.read(volts);
        double slack = 0.02 * nominalVolts + Supply.ROUNDING;
        Verdict verdict = new Band(nominalVolts - slack, nominalVolts + slack).hold(probes.volts(), uncertaintyVolts);
        return Judged.practice(
                verdict,
                Supply.noted(probes)
                        + String.format(
                                Locale.ROOT,
                                "Reference %.2f V; %.2f to %.2f V is good%s.",
                                probes.volts(),
                                nominalVolts - slack,
                                nominalVolts + slack,
                                verdict == Verdict.OUTSIDE
                                        ? ": unplug the sensors that share it one at a time and watch it recover"
                                        : ""));
    }
}
