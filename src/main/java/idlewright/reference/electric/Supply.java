package idlewright.reference.electric;

import idlewright.reference.bounds.Bounds;
import idlewright.reference.verdict.Band;
import idlewright.reference.verdict.Ground;
import idlewright.reference.verdict.Judged;
import idlewright.reference.verdict.Verdict;
import java.util.Locale;
import java.util.OptionalDouble;

/**
 * The feed of a sensor or actuator. It can only be as good as the battery at that moment, so it is judged as a drop from
 * it, never by a rest-voltage table: 12.04 V with the key on is a good feed on a battery at 12.1 V.
 */
public final class Supply {

    /** Largest drop from battery to feed, V. Common practice, no source. */
    public static final double MAX_DROP_VOLTS = 0.2;

    private Supply() {}

    /**
     * Judges a feed against the battery.
     *
     * @param supplyVolts at the plug, against a good ground, -60 to 60 V; negative means swapped probes
     * @param batteryVolts at the battery posts at the same moment, or empty when it was not read
     * @param uncertaintyVolts expanded uncertainty of the difference, 0 to 5 V
     */
    public static Judged judge(double supplyVolts, OptionalDouble batteryVolts, double uncertaintyVolts) {
        Bounds.within("uncertainty", uncertaintyVolts, 0, 5, "V");
        Probes supply = Probes.read(supplyVolts);
        if (batteryVolts.isEmpty()) {
            return Judged.not(
                    Ground.COMMON_PRACTICE,
                    String.format(
                            Locale.ROOT,
                            "%.2f V of feed means nothing alone: measure the battery at the same moment.",
                            supply.volts()));
        }
        Probes battery = Probes.read(batteryVolts.getAsDouble());
        if (battery.volts() < 6 || battery.volts() > 18) {
            return Judged.not(
                    Ground.COMMON_PRACTICE,
                    String.format(
                            Locale.ROOT,
                            "%.2f V is no working 12 V battery: put that right before judging a feed.",
                            battery.volts()));
        }
        double drop = battery.volts() - supply.volts();
        String sums = noted(supply, battery)
                + String.format(
                        Locale.ROOT,
                        "Feed %.2f V, battery %.2f V at the same moment: drop %.2f V, at most %.1f V is good",
                        supply.volts(),
                        battery.volts(),
                        drop,
                        MAX_DROP_VOLTS);
        if (drop < -MAX_DROP_VOLTS - uncertaintyVolts) {
            return Judged.not(
                    Ground.PHYSICS,
                    sums
                            + ". A feed cannot stand above its battery: the two were not read at the same moment or place.");
        }
        Verdict verdict = Band.atMost(MAX_DROP_VOLTS + ROUNDING).hold(drop, uncertaintyVolts);
        return Judged.practice(
                verdict,
                sums
                        + switch (verdict) {
                            case OUTSIDE ->
                                ". The wiring loses it: test feed and ground one at a time before buying a part.";
                            case TOO_CLOSE -> ", and the meter cannot tell them apart: read again on a finer range.";
                            default -> ".";
                        });
    }

    /** Judges with an exact meter. */
    public static Judged judge(double supplyVolts, OptionalDouble batteryVolts) {
        return judge(supplyVolts, batteryVolts, 0);
    }

    // 12.6 - 12.4 is a hair above 0.2 in binary; a limit met exactly is met.
    static final double ROUNDING = 1e-9;

    static String noted(Probes... probes) {
        StringBuilder notes = new StringBuilder();
        for (Probes each : probes) {
            each.note().ifPresent(note -> notes.append(note).append(' '));
        }
        return notes.toString();
    }
}
