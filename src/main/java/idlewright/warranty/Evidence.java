package idlewright.warranty;

import idlewright.frame.Paper;
import idlewright.frame.rules.LinePlot;
import idlewright.frame.rules.PlotPicture;
import idlewright.intake.Chapter;
import idlewright.intake.Knot;
import idlewright.intake.TicketView.SymptomView;
import idlewright.journal.Exhibit;
import idlewright.journal.Marked;
import idlewright.journal.rules.Entry;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/** All that one dossier says, already without what its receiver is not to see. */
record Evidence(
        String code,
        @Nullable String replaces,
        Instant sealedAt,
        String sealedBy,
        String fingerprint,
        boolean named,
        List<Fact> facts,
        SymptomView symptom,
        String words,
        String circumstances,
        List<Told> story,
        List<Taken> readings,
        List<Part> parts,
        List<Agreed> agreements,
        List<Photo> photos,
        List<Photo> originals,
        List<Line> journal,
        @Nullable String journalGap,
        String head) {

    /** A line of the table on top. */
    public record Fact(String name, String value) {}

    /** One thing that was told of the thread. */
    public record Told(Chapter chapter, Instant at, String who, String title, String said, List<Knot.Figure> figures) {}

    /** A reading with its verdict and what it was held against; a recorded one with its curve. */
    public record Taken(
            String test,
            String label,
            String value,
            String unit,
            String shown,
            boolean after,
            String verdict,
            String ground,
            String conditions,
            Instant at,
            String who,
            @Nullable LinePlot curve) {

        /** The recorded curve as the source of an image. */
        public String picture() {
            return Paper.dataUri("image/png", PlotPicture.png(Objects.requireNonNull(curve)));
        }
    }

    /** A part taken out and a part put in, each thing that was checked, and how it was answered. */
    public record Part(String title, String state, List<Fact> facts, List<Fact> checks, Instant at, String who) {}

    /** What was agreed. */
    public record Agreed(
            Instant at,
            String kind,
            String amount,
            String channel,
            String byWhom,
            String words,
            String takenBy,
            boolean replaced) {}

    /**
     * A file that travels along.
     *
     * @param marked the picture with its marks as they may be read; null for what is no picture
     */
    public record Photo(
            Exhibit exhibit,
            String file,
            String caption,
            Path path,
            @Nullable Marked marked) {

        public boolean hasMarks() {
            return marked != null && !marked.marks().isEmpty();
        }

        /** The name of the drawing beside the photo. */
        public String drawing() {
            return file.replaceAll("\\.[a-z]+$", "-marks.svg");
        }
    }

    /**
     * A link of the journal's chain.
     *
     * @param entry null when another ticket's, or when it names somebody whom this dossier does not
     * @param sentence as it may be read, null when the entry is another ticket's
     */
    public record Line(
            long id,
            Instant at,
            String who,
            @Nullable String sentence,
            String previousHash,
            String hash,
            @Nullable Entry entry) {}

    /** What was told of a chapter, in order of time. */
    public List<Told> of(String chapter) {
        return story.stream()
                .filter(told -> told.chapter().name().equals(chapter))
                .toList();
    }

    /** A reading before the repair beside the same after it; a side may not have been read. */
    public record Pair(
            String test,
            String label,
            @Nullable Taken before,
            @Nullable Taken after) {

        public String ground() {
            return after != null && !after.ground().isEmpty() ? after.ground() : before == null ? "" : before.ground();
        }
    }

    /** All readings, side by side, in the order they were first taken. */
    public List<Pair> pairs() {
        var befores = new LinkedHashMap<List<String>, List<Taken>>();
        var afters = new HashMap<List<String>, List<Taken>>();
        for (Taken taken : readings) {
            var key = List.of(taken.test(), taken.label());
            befores.computeIfAbsent(key, k -> new ArrayList<>());
            (taken.after() ? afters.computeIfAbsent(key, k -> new ArrayList<>()) : befores.get(key)).add(taken);
        }
        var pairs = new ArrayList<Pair>();
        befores.forEach((key, before) -> {
            List<Taken> after = afters.getOrDefault(key, List.of());
            for (int i = 0; i < Math.max(before.size(), after.size()); i++) {
                pairs.add(new Pair(
                        key.get(0),
                        key.get(1),
                        i < before.size() ? before.get(i) : null,
                        i < after.size() ? after.get(i) : null));
            }
        });
        return pairs;
    }

    /** Readings that are a recorded curve, those before the repair first. */
    public List<Taken> curves() {
        return pairs().stream()
                .flatMap(pair -> Stream.of(Optional.ofNullable(pair.before()), Optional.ofNullable(pair.after())))
                .flatMap(Optional::stream)
                .filter(taken -> taken.curve() != null)
                .toList();
    }

    /** The ticket's own entries. */
    public List<Line> ownLines() {
        return journal.stream().filter(line -> line.sentence() != null).toList();
    }
}
