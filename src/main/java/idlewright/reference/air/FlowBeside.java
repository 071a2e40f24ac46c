package idlewright.reference.air;

import static idlewright.reference.bounds.Bounds.within;

import idlewright.reference.verdict.Judged;
import idlewright.reference.verdict.Verdict;
import java.util.Locale;

/**
 * A measured flow beside the one estimated from speed and density.
 *
 * @param measuredGps g/s
 * @param estimatedGps g/s
 */
public record FlowBeside(double measuredGps, double estimatedGps) {

    /** Beyond this the two disagree: the guessed filling alone may be off by so much. Common practice, no source. */
    private static final double AGREE_PERCENT = 20;

    public FlowBeside {
        within("measured airflow", measuredGps, 0, 2000, "g/s");
        within("estimated airflow", estimatedGps, 0.01, 2000, "g/s");
    }

    /** How far the measured flow lies above the estimate, % of the estimate. */
    public double differencePercent() {
        return 100 * (measuredGps / estimatedGps - 1);
    }

    /** Says whether the two agree, and what each disagreement points to. */
    public Judged judged() {
        double difference = differencePercent();
        String sums = String.format(
                Locale.ROOT,
                "Measured %.1f g/s, speed and density give %.1f g/s (%+.0f %%)",
                measuredGps,
                estimatedGps,
                difference);
        if (Math.abs(difference) <= AGREE_PERCENT) {
            return Judged.physics(Verdict.WITHIN, sums + ": they agree within what a guessed filling allows.");
        }
        return Judged.physics(
                Verdict.OUTSIDE,
                sums
                        + (difference < 0
                                ? ": the sensor under-reads, or air enters behind it, or exhaust gas fills the manifold."
                                : ": the sensor over-reads, or the manifold pressure sensor reads low."));
    }
}
