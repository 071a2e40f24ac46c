package idlewright.reference.economy;

import java.util.List;
import java.util.Locale;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.apache.commons.statistics.distribution.TDistribution;

/**
 * Fuel economy before a repair against after it.
 *
 * @param before distance-weighted
 * @param after distance-weighted
 * @param savedLPer100Km before less after, so plus is better
 * @param savedLow lower end of the 95 % interval of the saving
 * @param savedHigh upper end
 */
public record Change(Consumption before, Consumption after, double savedLPer100Km, double savedLow, double savedHigh) {

    /** How well a pump's first click repeats, standard uncertainty in litres. Common practice, no source. */
    private static final double CLICK_LITRES = 0.5;

    /** How much driving and weather alone move one tank, standard, as a share. Common practice, no source. */
    private static final double DRIVING = 0.03;

    private record Uncertainty(double standard, double degrees) {}

    /**
     * Compares spans from full tank to full tank. With three tanks or more a side, their own scatter is the uncertainty
     * (ratio estimator, then Welch); with fewer, the pump's click at both ends and an allowance for driving.
     *
     * @throws IllegalArgumentException when a side has no span
     */
    public static Change between(Tanks before, Tanks after) {
        Consumption old = before.total().orElseThrow(() -> missing("before"));
        Consumption now = after.total().orElseThrow(() -> missing("after"));
        Uncertainty one = uncertainty(before.spans(), old);
        Uncertainty two = uncertainty(after.spans(), now);
        double saved = old.litresPer100Km() - now.litresPer100Km();
        double half = quantile(one, two) * Math.hypot(one.standard, two.standard);
        return new Change(old, now, saved, saved - half, saved + half);
    }

    /** The interval leaves zero out: the change is more than chance. */
    public boolean real() {
        return savedLow > 0 || savedHigh < 0;
    }

    /** The sentence, metric. */
    public String words() {
        return String.format(
                Locale.ROOT,
                "%.1f to %.1f L/100 km: %s, likely between %.1f %s and %.1f %s. %s",
                before.litresPer100Km(),
                after.litresPer100Km(),
                amount(savedLPer100Km, "L/100 km"),
                Math.abs(savedLow),
                better(savedLow),
                Math.abs(savedHigh),
                better(savedHigh),
                conclusion());
    }

    /** The sentence in miles per US gallon. */
    public String wordsUs() {
        return inMiles(before.mpgUs(), after.mpgUs(), "mpg US");
    }

    /** The sentence in miles per imperial gallon. */
    public String wordsImperial() {
        return inMiles(before.mpgImperial(), after.mpgImperial(), "mpg imperial");
    }

    private String inMiles(double old, double now, String unit) {
        return String.format(
                Locale.ROOT,
                "%.1f to %.1f %s: %.0f %% %s fuel. %s",
                old,
                now,
                unit,
                100 * Math.abs(savedLPer100Km) / before.litresPer100Km(),
                savedLPer100Km >= 0 ? "less" : "more",
                conclusion());
    }

    private String conclusion() {
        if (!real()) {
            return "That could be chance: more tanks would tell.";
        }
        return savedLPer100Km > 0 ? "That is more than chance." : "That is worse by more than chance.";
    }

    private static String amount(double saved, String unit) {
        return String.format(Locale.ROOT, "%.1f %s %s", Math.abs(saved), unit, better(saved));
    }

    private static String better(double saved) {
        return saved >= 0 ? "better" : "worse";
    }

    private static Uncertainty uncertainty(List<Consumption> spans, Consumption total) {
        double click = 100 * Math.sqrt(2) * CLICK_LITRES / total.km();
        int n = spans.size();
        if (n < 3) {
            double driving = DRIVING * total.litresPer100Km() / Math.sqrt(n);
            return new Uncertainty(Math.hypot(click, driving), Double.POSITIVE_INFINITY);
        }
        double squares = 0;
        for (Consumption span : spans) {
            double offset = span.km() / total.km() * (span.litresPer100Km() - total.litresPer100Km());
            squares += offset * offset;
        }
        double scatter = Math.sqrt(squares * n / (n - 1));
        return scatter > click ? new Uncertainty(scatter, n - 1) : new Uncertainty(click, Double.POSITIVE_INFINITY);
    }

    /** Welch and Satterthwaite, as the GUM (JCGM 100, G.4) uses them. */
    private static double quantile(Uncertainty one, Uncertainty two) {
        double a = one.standard * one.standard;
        double b = two.standard * two.standard;
        double spread = a * a / one.degrees + b * b / two.degrees;
        if (spread == 0) {
            return NormalDistribution.of(0, 1).inverseCumulativeProbability(0.975);
        }
        return TDistribution.of((a + b) * (a + b) / spread).inverseCumulativeProbability(0.975);
    }

    private static IllegalArgumentException missing(String side) {
        return new IllegalArgumentException("two full tanks %s the repair are needed".formatted(side));
    }
}
