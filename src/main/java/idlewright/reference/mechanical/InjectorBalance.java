package idlewright.reference.mechanical;

import static idlewright.reference.bounds.Bounds.within;

import idlewright.reference.bounds.Bounds;
import idlewright.reference.verdict.Judged;
import idlewright.reference.verdict.Verdict;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Injector balance: rail pressure each injector takes for the same pulse. */
public final class InjectorBalance {

    /** Largest distance from the mean, kPa (1.5 psi). Common practice, no source. */
    public static final double MAX_FROM_MEAN_KPA = 10;

    private InjectorBalance() {}

    /**
     * Judges each drop against the mean of all.
     *
     * @param dropKpa by cylinder, 0 to 500 kPa, 2 to 16 of them
     * @param uncertaintyKpa expanded, of one drop, 0 to 50 kPa
     */
    public static Judged judge(double[] dropKpa, double uncertaintyKpa) {
        Bounds.within("number of injectors read", dropKpa.length, 2, 16);
        within("uncertainty", uncertaintyKpa, 0, 50, "kPa");
        double sum = 0;
        for (double drop : dropKpa) {
            sum += within("pressure drop", drop, 0, 500, "kPa");
        }
        double mean = sum / dropKpa.length;
        List<String> out = new ArrayList<>();
        boolean close = false;
        for (int i = 0; i < dropKpa.length; i++) {
            double distance = dropKpa[i] - mean;
            if (Math.abs(Math.abs(distance) - MAX_FROM_MEAN_KPA) < uncertaintyKpa) {
                close = true;
            } else if (Math.abs(distance) > MAX_FROM_MEAN_KPA + 1e-9) {
                out.add(String.format(
                        Locale.ROOT,
                        "%d gives too %s (%.0f kPa)",
                        i + 1,
                        distance < 0 ? "little, restricted" : "much, leaking or worn",
                        dropKpa[i]));
            }
        }
        String sums = String.format(
                Locale.ROOT, "Mean drop %.0f kPa; within %.0f kPa of it is good", mean, MAX_FROM_MEAN_KPA);
        if (!out.isEmpty()) {
            return Judged.practice(Verdict.OUTSIDE, sums + ". Injector " + String.join("; injector ", out) + ".");
        }
        return close
                ? Judged.practice(Verdict.TOO_CLOSE, sums + ", and the gauge cannot tell them all.")
                : Judged.practice(Verdict.WITHIN, sums + ". All are.");
    }
}
