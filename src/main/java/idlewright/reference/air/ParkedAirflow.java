package idlewright.reference.air;

import idlewright.reference.bounds.Bounds;
import idlewright.reference.verdict.Band;
import idlewright.reference.verdict.Ground;
import idlewright.reference.verdict.Judged;
import idlewright.reference.verdict.Verdict;
import java.util.Locale;
import java.util.Optional;

/**
 * Airflow of a parked vehicle with a hot engine, judged on absolute load. "Grams per second equal litres" and the like hold
 * for no engine in particular; air per stroke against what the stroke could hold does.
 */
public final class ParkedAirflow {

    private ParkedAirflow() {}

    /** Where the flow was read, with the speeds that count as that point and the load a healthy engine shows there. */
    public enum Point {
        /** Warm idle, everything switched off. */
        IDLE("idle", 400, 1200, 12, 32),
        /** Held at 2,500 rpm without load. */
        RPM_2500("2,500 rpm", 2250, 2750, 13, 32);

        private final String words;
        private final double lowRpm;
        private final double highRpm;
        // Absolute load, %: common practice, no source; a shop's own known-good readings are better.
        private final double lowPercent;
        private final double highPercent;

        Point(String words, double lowRpm, double highRpm, double lowPercent, double highPercent) {
            this.words = words;
            this.lowRpm = lowRpm;
            this.highRpm = highRpm;
            this.lowPercent = lowPercent;
            this.highPercent = highPercent;
        }

        public double lowPercent() {
            return lowPercent;
        }

        public double highPercent() {
            return highPercent;
        }
    }

    /**
     * How the sample was taken.
     *
     * @param hot engine at operating temperature
     * @param steady speed held still for some seconds
     * @param simultaneous flow and speed belong to the same moment
     */
    public record Sample(boolean hot, boolean steady, boolean simultaneous) {
        public static final Sample PROPER = new Sample(true, true, true);
    }

    /** The flow band, g/s, that the load band of a point means for this engine at this speed. */
    public static Band bandGps(Engine engine, Point point, double engineRpm) {
        double full = Airflow.idealGps(engine, engineRpm, Atmosphere.LOAD_REFERENCE.densityGPerL());
        return new Band(full * point.lowPercent / 100, full * point.highPercent / 100);
    }

    /**
     * Judges idle or 2,500 rpm flow by absolute load. Boost changes nothing here: parked, such an engine is throttled like
     * any other.
     *
     * @param massFlowGps 0 to 2,000 g/s
     * @param engineRpm 1 to 20,000 rpm
     */
    public static Judged judge(Engine engine, Point point, double massFlowGps, double engineRpm, Sample sample) {
        double load = Airflow.absoluteLoadPercent(engine, massFlowGps, engineRpm);
        if (!engine.throttled()) {
            return Judged.not(
                    Ground.PHYSICS,
                    "A diesel is not throttled: its parked airflow is judged against known-good readings only.");
        }
        if (!sample.hot()) {
            return Judged.not(Ground.PHYSICS, "The engine was not hot: repeat at operating temperature.");
        }
        if (!sample.steady()) {
            return Judged.not(Ground.PHYSICS, "The speed was not steady: hold it ten seconds and read again.");
        }
        if (!sample.simultaneous()) {
            return Judged.not(
                    Ground.PHYSICS,
                    "Flow and speed were not read at the same moment: read both from one screen or log.");
        }
        if (engineRpm < point.lowRpm || engineRpm > point.highRpm) {
            return Judged.not(
                    Ground.PHYSICS,
                    "%s rpm is not %s: read between %s and %s rpm."
                            .formatted(
                                    Bounds.plain(engineRpm),
                                    point.words,
                                    Bounds.plain(point.lowRpm),
                                    Bounds.plain(point.highRpm)));
        }
        String sums = String.format(
                Locale.ROOT,
                "%.1f g/s at %s rpm fills %.0f %% of the engine (absolute load); a healthy hot petrol engine shows %.0f to"
                        + " %.0f %% at %s",
                massFlowGps,
                Bounds.plain(Math.rint(engineRpm)),
                load,
                point.lowPercent,
                point.highPercent,
                point.words);
        if (load < point.lowPercent) {
            return Judged.physics(
                    Verdict.OUTSIDE,
                    sums
                            + ". Low: the sensor under-reads, or air enters behind it; check displacement and speed first.");
        }
        if (load > point.highPercent) {
            return Judged.physics(
                    Verdict.OUTSIDE,
                    sums
                            + ". High: the sensor over-reads, or something loads the engine (accessories, gear, late timing).");
        }
        return Judged.physics(Verdict.WITHIN, sums + ".");
    }

    /**
     * A word on a tool's "calculated load" that cannot be the load SAE J1979 defines. Without boost no engine draws more
     * than it holds, so calculated load, a share of the peak flow, never lies below absolute load, a share of the full
     * cylinder. Some tools show another figure under the same name.
     *
     * @param toolLoadPercent as shown, 0 to 100 %
     * @return the note, or nothing when the figure may be what its name says
     */
    public static Optional<String> noteOnToolLoad(
            Engine engine, double toolLoadPercent, double massFlowGps, double engineRpm) {
        Bounds.within("the tool's calculated load", toolLoadPercent, 0, 100, "%");
        double absolute = Airflow.absoluteLoadPercent(engine, massFlowGps, engineRpm);
        // 15 % of slack: air of the day, rounding of one byte, displacement as printed.
        if (engine.boosted() || !engine.throttled() || toolLoadPercent >= 0.85 * absolute) {
            return Optional.empty();
        }
        return Optional.of(String.format(
                Locale.ROOT,
                "The tool shows %s %% as calculated load, but air mass and speed give an absolute load of %.0f %%. Calculated"
                        + " load, a share of the peak flow, cannot lie below that without boost: the tool's figure is another"
                        + " one under the same name. Compare it only with the same tool on the same engine.",
                Bounds.plain(toolLoadPercent),
                absolute));
    }
}
