package idlewright.reference.mechanical;

import static idlewright.reference.bounds.Bounds.within;

import idlewright.reference.verdict.Judged;
import idlewright.reference.verdict.Verdict;
import java.util.Locale;

/** Cylinder leak-down: the share of the air fed in at top dead centre that escapes. */
public final class LeakDown {

    private LeakDown() {}

    /**
     * Under 10 % is good, to 20 % acceptable, over 20 % wants repair, over 30 % is serious. Common practice, no source;
     * testers differ, so compare cylinders on one tester.
     *
     * @param leakPercent 0 to 100 %
     */
    public static Judged judge(double leakPercent) {
        within("leak-down", leakPercent, 0, 100, "%");
        String sums = String.format(Locale.ROOT, "%.0f %% leaks", leakPercent);
        if (leakPercent < 10) {
            return Judged.practice(Verdict.WITHIN, sums + ": good, under 10 %.");
        }
        if (leakPercent <= 20) {
            return Judged.practice(Verdict.WITHIN, sums + ": acceptable, 10 to 20 %.");
        }
        return Judged.practice(
                Verdict.OUTSIDE,
                sums
                        + (leakPercent <= 30 ? ": over 20 % wants repair." : ": over 30 % is serious.")
                        + " Listen where: " + Escape.all());
    }

    /** Where the air comes out, and what that means. Common practice, no source. */
    public enum Escape {
        INTAKE("intake", "intake valve"),
        EXHAUST("tailpipe", "exhaust valve"),
        OIL_FILLER("oil filler", "rings or bore"),
        COOLANT("bubbles in the coolant", "head gasket or crack"),
        NEXT_PLUG_HOLE("next plug hole", "gasket between two cylinders");

        private final String place;
        private final String meaning;

        Escape(String place, String meaning) {
            this.place = place;
            this.meaning = meaning;
        }

        public String words() {
            return place + ": " + meaning;
        }

        private static String all() {
            StringBuilder all = new StringBuilder();
            for (Escape each : values()) {
                all.append(all.length() == 0 ? "" : "; ").append(each.words());
            }
            return all.append('.').toString();
        }
    }
}
