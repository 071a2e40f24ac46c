package idlewright.reference.electric;

import idlewright.reference.bounds.Bounds;
import idlewright.reference.verdict.Band;
import idlewright.reference.verdict.Ground;
import idlewright.reference.verdict.Judged;
import idlewright.reference.verdict.Verdict;
import java.util.Locale;

/** Voltage lost along a path while its current flows. */
public final class VoltageDrop {

    private VoltageDrop() {}

    /** What lies between the probes, with the most it may lose, V. Common practice, no source. */
    public enum Path {
        GROUND("ground", 0.1),
        SENSOR_GROUND("sensor or computer ground", 0.05),
        CONNECTION("one connection", 0.1),
        SWITCH("switch or relay contact", 0.3),
        CABLE("wire or cable", 0.2),
        STARTER_POSITIVE("starter positive side", 0.5),
        STARTER_GROUND("starter or engine ground, cranking", 0.3);

        private final String words;
        private final double maxVolts;

        Path(String words, double maxVolts) {
            this.words = words;
            this.maxVolts = maxVolts;
        }

        public String words() {
            return words;
        }

        public double maxVolts() {
            return maxVolts;
        }
    }

    /**
     * Judges a drop. Its sign only tells which probe stood where.
     *
     * @param dropVolts -60 to 60 V
     * @param loaded the path carried its working current; without current there is no drop to see
     * @param uncertaintyVolts expanded, 0 to 5 V
     */
    public static Judged judge(Path path, double dropVolts, boolean loaded, double uncertaintyVolts) {
        Bounds.within("uncertainty", uncertaintyVolts, 0, 5, "V");
        double drop = Math.abs(Bounds.within("voltage drop", dropVolts, -60, 60, "V"));
        if (!loaded) {
            return Judged.not(
                    Ground.PHYSICS, "A drop shows only while current flows: switch the consumer on and read again.");
        }
        Verdict verdict = Band.atMost(path.maxVolts + Supply.ROUNDING).hold(drop, uncertaintyVolts);
        String sums = String.format(
                Locale.ROOT, "%.3f V lost on the %s; up to %.2f V is good", drop, path.words, path.maxVolts);
        return Judged.practice(
                verdict,
                sums
                        + switch (verdict) {
                            case OUTSIDE -> ". Move the probe from joint to joint: the step shows the bad one.";
                            case TOO_CLOSE -> ", and the meter cannot tell them apart.";
                            default -> ".";
                        });
    }
}
