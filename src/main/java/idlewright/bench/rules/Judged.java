package idlewright.bench.rules;

import idlewright.reference.verdict.Verdict;
import org.jspecify.annotations.Nullable;

/**
 * A verdict with its reason.
 *
 * @param uncertainty expanded uncertainty in the reading's own unit; 0 where the meter's accuracy is not known
 * @param limit the limit it was held against, or null where there was none
 */
public record Judged(
        Verdict verdict,
        Side side,
        double uncertainty,
        @Nullable Limit limit,
        String reason) {

    static Judged notJudged(String reason) {
        return new Judged(Verdict.NOT_JUDGED, Side.NONE, 0, null, reason);
    }

    static Judged seen(boolean good, String reason) {
        return new Judged(good ? Verdict.WITHIN : Verdict.OUTSIDE, Side.NONE, 0, null, reason);
    }
}
