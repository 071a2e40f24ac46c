package idlewright.bench;

import idlewright.bench.rules.Side;
import idlewright.frame.rules.BandPlot;
import idlewright.frame.rules.LinePlot;
import idlewright.reference.units.Unit;
import idlewright.reference.verdict.Verdict;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * One reading as a person sees it.
 *
 * @param id 0 where it was calculated from others, or assumed
 * @param spot bank or cylinder from 1, or 0
 * @param shown with its unit: "9.6 g/s", "clogged", "P0171"
 * @param unitWritten whether the unit was typed after the number
 * @param ground why the limit is believed and what it is, with its citation; empty where there is none
 * @param reason the verdict in a sentence
 * @param meaning what the verdict means at this point; may be empty
 * @param note what else must be known of it: "probes swapped", a meaning of a code; may be empty
 * @param plot the band picture of a number
 * @param curve the picture of a series
 * @param struckBecause why it no longer counts; null while it does
 */
public record ReadingView(
        long id,
        String point,
        int spot,
        String label,
        String shown,
        @Nullable BigDecimal value,
        @Nullable Unit unit,
        boolean unitWritten,
        Verdict verdict,
        Side side,
        String ground,
        String reason,
        String meaning,
        String note,
        @Nullable BandPlot plot,
        @Nullable LinePlot curve,
        @Nullable Instant at,
        @Nullable String who,
        @Nullable String struckBecause) {

    /** "outside, low", "within", "too close to call"; for what was only seen "in order" or "not in order". */
    public String called() {
        if (value == null && judged()) {
            return verdict == Verdict.WITHIN ? "in order" : "not in order";
        }
        return verdict == Verdict.OUTSIDE && side != Side.NONE
                ? verdict.words() + ", " + side.words()
                : verdict.words();
    }

    ReadingView noting(String more) {
        return new ReadingView(
                id,
                point,
                spot,
                label,
                shown,
                value,
                unit,
                unitWritten,
                verdict,
                side,
                ground,
                reason,
                meaning,
                note.isEmpty() ? more : note + " " + more,
                plot,
                curve,
                at,
                who,
                struckBecause);
    }

    public boolean derived() {
        return id == 0;
    }

    public boolean judged() {
        return verdict != Verdict.NOT_JUDGED;
    }

    /** All there is to say beside the picture, joined. */
    public String beside() {
        return String.join(
                " ",
                List.of(meaning, note).stream()
                        .filter(words -> !words.isEmpty())
                        .toList());
    }
}
