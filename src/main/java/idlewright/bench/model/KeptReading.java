package idlewright.bench.model;

import idlewright.bench.rules.Accuracy;
import idlewright.bench.rules.Judged;
import idlewright.bench.rules.Point;
import idlewright.bench.rules.Series;
import idlewright.reference.units.Unit;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * One reading as it stands in its table.
 *
 * @param spot bank or cylinder from 1, or 0
 * @param typed as it was typed, or the key of the choice
 * @param seen keys of the choice, codes, or marks of the series
 * @param replaces the reading it corrects
 * @param replacedBy the reading that corrects it; null while it counts
 */
public record KeptReading(
        long id,
        long measurementId,
        String point,
        int spot,
        Point.Kind kind,
        String typed,
        @Nullable BigDecimal value,
        @Nullable Unit unit,
        List<String> seen,
        @Nullable Series series,
        @Nullable Long exhibitId,
        Accuracy accuracy,
        Stood stood,
        @Nullable String note,
        boolean confirmed,
        Instant at,
        String who,
        @Nullable Long replaces,
        @Nullable String replaceReason,
        @Nullable Long replacedBy) {

    /** The verdict as it stood when the reading was kept. */
    public record Stood(
            idlewright.reference.verdict.Verdict verdict,
            idlewright.bench.rules.Side side,
            String reason,
            @Nullable String ground) {

        static Stood of(Judged judged) {
            return new Stood(
                    judged.verdict(),
                    judged.side(),
                    judged.reason(),
                    judged.limit() == null ? null : judged.limit().groundWords());
        }
    }

    public boolean counts() {
        return replacedBy == null;
    }

    /** The same, asked about and confirmed. */
    public KeptReading asConfirmed() {
        return new KeptReading(
                id,
                measurementId,
                point,
                spot,
                kind,
                typed,
                value,
                unit,
                seen,
                series,
                exhibitId,
                accuracy,
                stood,
                note,
                true,
                at,
                who,
                replaces,
                replaceReason,
                replacedBy);
    }
}
