package idlewright.reference.mechanical;

import static idlewright.reference.bounds.Bounds.within;

import idlewright.reference.bounds.Bounds;
import idlewright.reference.verdict.Judged;
import idlewright.reference.verdict.Verdict;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.stream.Collectors;

/** Cranking compression by cylinder, dry and wet. Pressures kPa gauge, 0 to 6,000 (a diesel reaches about 4,000). */
public final class Compression {

    /** A rise by oil that counts, share of the dry reading. Common practice, no source. */
    private static final double WET_RISE = 0.10;

    private Compression() {}

    /**
     * The rule of this vehicle; the maker's own comes first.
     *
     * @param lowestShare of the highest cylinder that the lowest must reach, 0.3 to 1
     * @param floorKpa that every cylinder must reach, if there is one
     * @param maxSpreadKpa between highest and lowest, if there is one
     */
    public record Rule(double lowestShare, OptionalDouble floorKpa, OptionalDouble maxSpreadKpa) {

        /** Lowest at least 75 % of highest. Source: several makers' service texts. */
        public static final Rule USUAL = new Rule(0.75, OptionalDouble.empty(), OptionalDouble.empty());

        public Rule {
            within("lowest share of the highest cylinder", lowestShare, 0.3, 1, "");
            floorKpa.ifPresent(floor -> within("lowest allowed compression", floor, 100, 5000, "kPa"));
            maxSpreadKpa.ifPresent(spread -> within("largest allowed spread", spread, 1, 2000, "kPa"));
        }
    }

    /**
     * Holds the cylinders of one engine against its rule.
     *
     * @param kpaByCylinder in the order of the block, 2 to 16 cylinders, so that neighbours can be seen
     * @param uncertaintyKpa expanded, of the gauge, 0 to 200 kPa
     */
    public static Judged judge(double[] kpaByCylinder, Rule rule, double uncertaintyKpa) {
        check(kpaByCylinder);
        within("uncertainty", uncertaintyKpa, 0, 200, "kPa");
        double high = 0;
        double low = Double.MAX_VALUE;
        for (double kpa : kpaByCylinder) {
            high = Math.max(high, kpa);
            low = Math.min(low, kpa);
        }
        if (high < 50) {
            return Judged.practice(
                    Verdict.OUTSIDE,
                    "No cylinder builds compression: check cam drive, throttle held open, cranking speed and the gauge.");
        }
        double limit = limit(high, rule);
        List<Integer> bad = new ArrayList<>();
        boolean close = false;
        for (int i = 0; i < kpaByCylinder.length; i++) {
            double margin = kpaByCylinder[i] - limit;
            if (Math.abs(margin) < uncertaintyKpa) {
                close = true;
            } else if (margin < -1e-9) {
                bad.add(i + 1);
            }
        }
        String sums = String.format(
                Locale.ROOT,
                "Lowest %.0f kPa, highest %.0f kPa: lowest is %.0f %% of highest; at least %.0f kPa is asked of every cylinder",
                low,
                high,
                100 * low / high,
                limit);
        if (!bad.isEmpty()) {
            return Judged.practice(Verdict.OUTSIDE, sums + ". Low: " + cylinders(bad) + "." + neighbours(bad));
        }
        if (close) {
            return Judged.practice(Verdict.TOO_CLOSE, sums + ", and the gauge cannot tell: repeat with another gauge.");
        }
        return Judged.practice(Verdict.WITHIN, sums + ".");
    }

    /** The pressure, kPa, that a rule asks of every cylinder when the best one reaches this much. */
    public static double limit(double highestKpa, Rule rule) {
        double limit = within("highest compression", highestKpa, 0, 6000, "kPa") * rule.lowestShare();
        limit = Math.max(limit, rule.floorKpa().orElse(0));
        return rule.maxSpreadKpa().isPresent()
                ? Math.max(limit, highestKpa - rule.maxSpreadKpa().getAsDouble())
                : limit;
    }

    /** What a spoon of oil did to one cylinder. */
    public enum WetFinding {
        RINGS("pressure rises with oil: rings or bore leak"),
        VALVES_OR_GASKET("oil changes nothing: valves or head gasket leak"),
        NOT_LOW("the dry reading was not low: the wet test says nothing");

        private final String words;

        WetFinding(String words) {
            this.words = words;
        }

        public String words() {
            return words;
        }
    }

    /**
     * Reads the wet test. Source: makers' service texts for the meaning; 10 % as a rise that counts is common practice.
     *
     * @param limitKpa what the rule asks of this cylinder
     */
    public static WetFinding wet(double dryKpa, double wetKpa, double limitKpa) {
        within("dry compression", dryKpa, 0, 6000, "kPa");
        within("wet compression", wetKpa, 0, 6000, "kPa");
        within("limit", limitKpa, 1, 6000, "kPa");
        if (dryKpa >= limitKpa) {
            return WetFinding.NOT_LOW;
        }
        // A dead cylinder has no percentage: 10 % of the limit counts there.
        return wetKpa - dryKpa >= WET_RISE * Math.max(dryKpa, limitKpa / 2)
                ? WetFinding.RINGS
                : WetFinding.VALVES_OR_GASKET;
    }

    private static String neighbours(List<Integer> bad) {
        for (int i = 1; i < bad.size(); i++) {
            if (bad.get(i) - bad.get(i - 1) == 1) {
                return " Two neighbours low: the gasket between them is suspect.";
            }
        }
        return "";
    }

    private static String cylinders(List<Integer> numbers) {
        return (numbers.size() == 1 ? "cylinder " : "cylinders ")
                + numbers.stream().map(String::valueOf).collect(Collectors.joining(", "));
    }

    private static void check(double[] kpaByCylinder) {
        Bounds.within("number of cylinders read", kpaByCylinder.length, 2, 16);
        for (double kpa : kpaByCylinder) {
            within("compression", kpa, 0, 6000, "kPa");
        }
    }
}
