package idlewright.reference.lambda;

import static idlewright.reference.bounds.Bounds.within;

import idlewright.reference.bounds.Bounds;
import idlewright.reference.verdict.Ground;
import idlewright.reference.verdict.Judged;
import idlewright.reference.verdict.Verdict;
import java.util.Locale;

/**
 * What a narrow-band oxygen sensor did over some seconds.
 *
 * @param lowVolts lowest
 * @param highVolts highest
 * @param meanVolts mean
 * @param switches crossings of 0.45 V, rich to lean and back each count once
 * @param seconds watched
 * @param judged as an upstream sensor
 */
public record NarrowBand(
        double lowVolts, double highVolts, double meanVolts, int switches, double seconds, Judged judged) {

    /** Crossing point and the strip around it that noise may wander in, V. Common practice, no source. */
    private static final double MIDDLE = 0.45;

    private static final double STRIP = 0.05;

    /** A healthy upstream sensor swings below and above these, V, and switches so often in 10 s. Common practice. */
    private static final double REACHES_LOW = 0.25;

    private static final double REACHES_HIGH = 0.70;
    private static final double SWITCHES_IN_TEN = 5;

    /** Switches in ten seconds. */
    public double switchesInTenSeconds() {
        return 10 * switches / seconds;
    }

    /**
     * Reads an upstream sensor, hot and in closed loop: 0.1 to 0.9 V, quick, mean near 0.45 V (common practice, no source).
     *
     * @param seconds rising, the same length as volts, at least 5 s in all
     * @param volts -0.2 to 1.3 V; a service 01 sensor shows 0 to 1.275 V
     */
    public static NarrowBand read(double[] seconds, double[] volts) {
        if (seconds.length != volts.length || seconds.length < 10) {
            throw new IllegalArgumentException(
                    "at least 10 points with a time and a voltage each are needed, but there were " + seconds.length
                            + " times and " + volts.length + " voltages");
        }
        Bounds.finite("times", seconds);
        double low = Double.MAX_VALUE;
        double high = -Double.MAX_VALUE;
        double sum = 0;
        int switches = 0;
        int side = 0;
        for (int i = 0; i < volts.length; i++) {
            double v = within("oxygen sensor voltage", volts[i], -0.2, 1.3, "V");
            if (i > 0 && seconds[i] < seconds[i - 1]) {
                throw new IllegalArgumentException("times must rise, but number %d goes back".formatted(i + 1));
            }
            low = Math.min(low, v);
            high = Math.max(high, v);
            sum += v;
            int now = v > MIDDLE + STRIP ? 1 : v < MIDDLE - STRIP ? -1 : side;
            switches += side != 0 && now != side ? 1 : 0;
            side = now;
        }
        double watched = within("time watched", seconds[seconds.length - 1] - seconds[0], 5, 3600, "s");
        double mean = sum / volts.length;
        double everySeconds = watched / (seconds.length - 1);
        return new NarrowBand(
                low, high, mean, switches, watched, judge(low, high, mean, switches, watched, everySeconds));
    }

    private static Judged judge(
            double low, double high, double mean, int switches, double watched, double everySeconds) {
        String sums = String.format(
                Locale.ROOT, "%.2f to %.2f V, mean %.2f V, %d switches in %.0f s", low, high, mean, switches, watched);
        boolean swings = low <= REACHES_LOW && high >= REACHES_HIGH;
        boolean quick = 10 * switches / watched >= SWITCHES_IN_TEN;
        if (swings && quick) {
            return Judged.practice(Verdict.WITHIN, sums + ": it swings wide and quickly.");
        }
        if (high - low < 0.1) {
            String stuck = mean > MIDDLE + STRIP
                    ? "it stays rich: force lean (open a vacuum hose) to see whether the sensor can move."
                    : mean < MIDDLE - STRIP
                            ? "it stays lean: force rich (add propane) to see whether the sensor can move."
                            : "it stays in the middle: cold, unheated or not connected.";
            return Judged.practice(Verdict.OUTSIDE, sums + ": " + stuck);
        }
        if (!quick && everySeconds > 0.4) {
            return Judged.not(
                    Ground.COMMON_PRACTICE,
                    sums + ". The tool reads too seldom to count switches: show fewer values or use a scope.");
        }
        return Judged.practice(
                Verdict.OUTSIDE,
                sums + (swings ? ": it swings wide but slowly, a lazy sensor." : ": it does not swing wide."));
    }

    /**
     * Reads the same series as the sensor behind the catalyst, which should be steady while the upstream one switches.
     * Common practice, no source.
     *
     * @param upstream of the same seconds
     */
    public Judged judgedBehindCatalyst(NarrowBand upstream) {
        if (upstream.switchesInTenSeconds() < SWITCHES_IN_TEN) {
            return Judged.not(
                    Ground.COMMON_PRACTICE,
                    "The upstream sensor hardly switches: the catalyst cannot be seen that way.");
        }
        double share = switchesInTenSeconds() / upstream.switchesInTenSeconds();
        String sums = String.format(
                Locale.ROOT, "%d switches behind the catalyst against %d ahead of it", switches, upstream.switches);
        if (share < 0.3) {
            return Judged.practice(Verdict.WITHIN, sums + ": steady, as it should be.");
        }
        return Judged.practice(
                share > 0.7 ? Verdict.OUTSIDE : Verdict.TOO_CLOSE,
                sums + ": it follows the upstream sensor, so the catalyst stores little oxygen, or the exhaust leaks.");
    }
}
