package idlewright.reference.mechanical;

import static idlewright.reference.bounds.Bounds.within;

import idlewright.reference.verdict.Band;
import idlewright.reference.verdict.Judged;
import idlewright.reference.verdict.Verdict;
import java.util.Locale;

/** Back pressure ahead of the catalyst, kPa gauge. */
public final class ExhaustPressure {

    private ExhaustPressure() {}

    /** Where it was read, with the most it may be, kPa. Common practice, no source. */
    public enum Point {
        IDLE("idle", 9),
        RPM_2500("2,500 rpm", 20);

        private final String words;
        private final double maxKpa;

        Point(String words, double maxKpa) {
            this.words = words;
            this.maxKpa = maxKpa;
        }
    }

    /**
     * Judges a parked engine's back pressure.
     *
     * @param pressureKpa 0 to 200 kPa
     * @param uncertaintyKpa expanded, 0 to 20 kPa
     */
    public static Judged judge(Point point, double pressureKpa, double uncertaintyKpa) {
        within("back pressure", pressureKpa, 0, 200, "kPa");
        within("uncertainty", uncertaintyKpa, 0, 20, "kPa");
        Verdict verdict = Band.atMost(point.maxKpa).hold(pressureKpa, uncertaintyKpa);
        return Judged.practice(
                verdict,
                String.format(
                        Locale.ROOT,
                        "%.0f kPa at %s; up to %.0f kPa is good%s.",
                        pressureKpa,
                        point.words,
                        point.maxKpa,
                        verdict == Verdict.OUTSIDE ? ": catalyst or silencer is restricted" : ""));
    }
}
