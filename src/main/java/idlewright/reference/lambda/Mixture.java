package idlewright.reference.lambda;

import static idlewright.reference.bounds.Bounds.within;

import idlewright.reference.verdict.Band;
import idlewright.reference.verdict.Ground;
import idlewright.reference.verdict.Judged;
import idlewright.reference.verdict.Verdict;
import java.util.Locale;

/** Lambda and air-fuel ratio. Lambda 0.3 to 10: richer does not burn, leaner is a fuel cut. */
public final class Mixture {

    /** Lambda of a hot petrol engine in closed loop. Common practice, no source. */
    public static final Band CLOSED_LOOP = new Band(0.97, 1.03);

    private Mixture() {}

    /**
     * Lambda of an air-fuel ratio by mass.
     *
     * @param airFuelRatio 3 to 200
     */
    public static double lambda(double airFuelRatio, Fuel fuel) {
        return within("air-fuel ratio", airFuelRatio, 3, 200, "") / fuel.stoichiometric();
    }

    /** Air-fuel ratio by mass of a lambda of 0.3 to 10. */
    public static double airFuelRatio(double lambda, Fuel fuel) {
        return within("lambda", lambda, 0.3, 10, "") * fuel.stoichiometric();
    }

    /**
     * Judges lambda at hot idle or 2,500 rpm.
     *
     * @param lambda 0.3 to 10
     * @param closedLoop open loop is rich or lean on purpose
     * @param uncertainty expanded, 0 to 0.5
     */
    public static Judged judge(double lambda, Fuel fuel, boolean closedLoop, double uncertainty) {
        within("lambda", lambda, 0.3, 10, "");
        within("uncertainty", uncertainty, 0, 0.5, "");
        if (!fuel.throttled()) {
            return Judged.not(
                    Ground.PHYSICS, "A diesel runs lean by design: lambda 0.97 to 1.03 does not hold for it.");
        }
        if (!closedLoop) {
            return Judged.not(
                    Ground.COMMON_PRACTICE,
                    "Not in closed loop: cold, full throttle and overrun are off 1 on purpose. Read it hot and steady.");
        }
        Verdict verdict = CLOSED_LOOP.hold(lambda, uncertainty);
        return Judged.practice(
                verdict,
                String.format(
                        Locale.ROOT,
                        "Lambda %.3f (%.1f to 1 on %s); 0.97 to 1.03 is good%s",
                        lambda,
                        airFuelRatio(lambda, fuel),
                        fuel.name(),
                        verdict == Verdict.OUTSIDE
                                ? lambda < 1 ? ". Rich." : ". Lean, or air got in ahead of the probe."
                                : verdict == Verdict.TOO_CLOSE ? ", and the tester cannot tell." : "."));
    }
}
