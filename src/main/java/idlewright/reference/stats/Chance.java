package idlewright.reference.stats;

import java.util.Locale;

/** How a p value is written: two figures, never zero. */
final class Chance {

    private Chance() {}

    static String words(double p) {
        if (p < 0.001) {
            return "under 0.001";
        }
        return String.format(Locale.ROOT, p < 0.1 ? "%.3f" : "%.2f", p);
    }
}
