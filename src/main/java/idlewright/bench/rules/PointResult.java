package idlewright.bench.rules;

import idlewright.reference.units.Unit;
import idlewright.reference.verdict.Verdict;
import java.math.BigDecimal;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
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

    /** Calculated from readings that cannot both be right; what is wrong and what to do, or nothing. */
    public Optional<String> doubt() {
        boolean doubted = point.isDerived()
                && judged.verdict() == Verdict.NOT_JUDGED
                && !point.doubt().isEmpty()
                && judged.reason().endsWith(point.doubt());
        return doubted ? Optional.of(point.doubt()) : Optional.empty();
    }

    /** The same as it is written: a calculated value carries no more digits than its uncertainty leaves. */
    PointResult rounded(BigDecimal written) {
        String unrounded = shown;
        String words = (written.toPlainString() + " " + (unit == null ? "" : unit.symbol())).strip();
        return new PointResult(point, place, value, unit, seen, words, judged, remark)
                .because(judged.reason().replaceFirst(Pattern.quote(unrounded), Matcher.quoteReplacement(words)));
    }

    /** The figure of {@link #shown}; null where no number was read. */
    public @Nullable BigDecimal figure() {
        return value == null ? null : new BigDecimal(shown.replaceFirst("^(\\S+).*$", "$1"));
    }

    /** The same with another reason for its verdict. */
    PointResult because(String reason) {
        return new PointResult(
                point,
                place,
                value,
                unit,
                seen,
                shown,
                new Judged(judged.verdict(), judged.side(), judged.uncertainty(), judged.limit(), reason),
                remark);
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
