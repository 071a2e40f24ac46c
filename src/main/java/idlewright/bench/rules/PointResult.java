package idlewright.bench.rules;

import idlewright.reference.units.Unit;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * One reading with its verdict.
 *
 * @param place bank or cylinder from 1, or 0
 * @param value as read, in {@code unit}; null where no number was read
 * @param seen keys of choices, series marks or codes; empty for numbers
 * @param shown as a person reads it: "12.04 V", "clogged", "P0171"
 * @param remark what else must be said of it, or empty
 */
public record PointResult(
        Point point,
        int place,
        @Nullable Double value,
        @Nullable Unit unit,
        Set<String> seen,
        String shown,
        Judged judged,
        String remark) {

    public PointResult {
        seen = Set.copyOf(seen);
    }

    /** "Compression, cylinder 3". */
    public String label() {
        return point.labelAt(place);
    }

    /** What the verdict means here; empty where there is nothing to add. */
    public String meaning() {
        return point.meaning(judged);
    }

    double valueIn(Unit wanted) {
        if (value == null || unit == null) throw new Refusal(label() + " has no number.");
        return Judge.convert(value, unit, wanted);
    }

    double uncertaintyIn(Unit wanted) {
        if (value == null || unit == null || judged.uncertainty() == 0) return 0;
        double middle = Judge.convert(value, unit, wanted);
        return Math.abs(Judge.convert(value + judged.uncertainty(), unit, wanted) - middle);
    }
}
