package idlewright.proof;

import idlewright.bench.MeasurementView;
import idlewright.bench.ReadingView;
import idlewright.intake.SymptomRef;
import idlewright.proof.rules.Monitors;
import idlewright.proof.rules.RoadTest;
import java.time.Instant;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;

/**
 * How far the proof of a thread has come.
 *
 * @param missing sentences saying what still stands in the way of a measured proof; empty when nothing does
 * @param recordedCodes codes read before the repair, in words; empty where there were none
 * @param noted codes and monitors on both sides, whatever was found
 * @param driven what a road test on this ticket showed, or null
 * @param proved the proof, once it is had
 */
public record ProofView(
        SymptomRef thread,
        List<ComparedView> compared,
        List<String> missing,
        String recordedCodes,
        List<Told> noted,
        @Nullable RoadTest driven,
        @Nullable Proved proved) {

    /** A test before the repair and its repetition. */
    public record ComparedView(
            MeasurementView before,
            @Nullable MeasurementView after,
            boolean proved,
            String words,
            List<String> reasons,
            List<Pair> pairs,
            String repeatUrl) {}

    /** What the vehicle said of itself on one side. */
    public record Word(long test, Instant at, String shown) {}

    /** A point of codes or monitors on both sides; null where it was not read. */
    public record Told(
            String point,
            String label,
            @Nullable Word before,
            @Nullable Word after) {}

    /** One point, before and after; after is null where it was not read again. */
    public record Pair(ReadingView before, @Nullable ReadingView after) {}

    /** A pair as it was frozen with the proof. */
    public record Frozen(
            String procedure,
            String label,
            String beforeShown,
            String beforeCalled,
            String afterShown,
            String afterCalled,
            String ground) {

        static final String NOTED = "noted";

        /** "9.6 g/s, outside, low, before; 12.8 g/s, within, after", and what is only noted without a verdict. */
        public String words() {
            return beforeCalled.equals(NOTED)
                    ? "%s: %s before; %s after".formatted(label, beforeShown, afterShown)
                    : "%s: %s, %s, before; %s, %s, after"
                            .formatted(label, beforeShown, beforeCalled, afterShown, afterCalled);
        }

        boolean mended() {
            return (beforeCalled.startsWith("outside") || beforeCalled.equals("not in order"))
                    && !beforeCalled.equals(afterCalled);
        }
    }

    /** The proof as it stands. */
    public record Proved(
            int place,
            boolean measured,
            @Nullable String reason,
            String codes,
            String monitors,
            String roadTest,
            @Nullable String verifiedBy,
            String statement,
            Instant at,
            String who,
            List<Frozen> pairs) {

        /** For a letter: the readings stand in its table, so one sentence is enough; and what the customer must know. */
        public String onPaper() {
            long mended = pairs.stream().filter(Frozen::mended).count();
            String shown = measured
                    ? "The same tests under the same conditions after the repair find in order what was not: %d %s."
                            .formatted(mended, mended == 1 ? "reading" : "readings")
                    : statement + (statement.endsWith(".") ? "" : ".");
            return monitors.startsWith(Monitors.SOME_NOT_READY.words())
                    ? shown + " The vehicle's own self-tests: " + monitors + "."
                    : shown;
        }

        /** What was done besides measuring, as one sentence. */
        public String besides() {
            return "Codes: %s; monitors: %s; road test: %s%s"
                    .formatted(codes, monitors, roadTest, verifiedBy == null ? "" : "; verified by " + verifiedBy);
        }
    }

    public boolean measured() {
        return missing.isEmpty();
    }

    /** How the monitors stood when they were last read after the repair; null where nobody has read them. */
    public @Nullable Monitors monitors() {
        String not = after(Noted.NOT_READY);
        if (not != null) return not.equals("0") ? Monitors.READY : Monitors.SOME_NOT_READY;
        String read = after(Noted.MONITORS);
        return read == null ? null : read.equals("all ready") ? Monitors.READY : Monitors.SOME_NOT_READY;
    }

    /** Whether codes and monitors were read after the repair. */
    public boolean notedAfter() {
        return noted.stream().anyMatch(each -> each.after() != null);
    }

    private @Nullable String after(String point) {
        return noted.stream()
                .filter(each -> each.point().equals(point))
                .map(Told::after)
                .filter(Objects::nonNull)
                .map(Word::shown)
                .findFirst()
                .orElse(null);
    }
}
