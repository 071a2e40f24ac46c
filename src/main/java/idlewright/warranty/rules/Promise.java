package idlewright.warranty.rules;

import java.math.BigDecimal;
import org.jspecify.annotations.Nullable;

/**
 * How long something is covered, whichever ends first.
 *
 * @param months 0 for not at all
 * @param distance null when only the time counts
 * @param unit of the distance, km or mi
 * @param falling whether the share that is borne falls evenly to nothing until the end (pro rata); else it is borne in full
 */
public record Promise(int months, @Nullable BigDecimal distance, String unit, boolean falling) {

    public Promise {
        if (months < 0 || (distance != null && distance.signum() <= 0) || !(unit.equals("km") || unit.equals("mi"))) {
            throw new IllegalArgumentException("No promise: %s months, %s %s".formatted(months, distance, unit));
        }
    }

    /** A promise in full. */
    public Promise(int months, @Nullable BigDecimal distance, String unit) {
        this(months, distance, unit, false);
    }

    /** "12 months or 20,000 km, whichever comes first". */
    public String words() {
        if (months == 0) {
            return "no warranty";
        }
        String time = months == 1 ? "1 month" : months + " months";
        String ends = distance == null
                ? time + ", any distance"
                : "%s or %,.0f %s, whichever comes first".formatted(time, distance, unit);
        return falling ? ends + "; the share falls evenly to nothing" : ends;
    }
}
