package idlewright.journal;

import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.journal.model.Pictures;
import idlewright.journal.rules.FileKind;
import idlewright.journal.rules.ImageMark;
import idlewright.journal.rules.ImageMark.Kind;
import idlewright.journal.rules.Sketch;
import idlewright.people.People;
import idlewright.people.Person;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Circles, arrows and words drawn beside a picture; the picture itself is never touched. */
@Component
public class Marks {

    /** A mark that is no longer drawn, with the reason. */
    public record Removed(ImageMark mark, String reason, String by, Instant at) {}

    private static final int MOST = 40;
    private static final BigDecimal HUNDRED = new BigDecimal(100);
    /** Where a circle's rim or an arrow's beginning lies when nobody said so, in percent. */
    private static final BigDecimal ASIDE = new BigDecimal(12);

    private final JdbcClient jdbc;
    private final Exhibits exhibits;
    private final Pictures pictures;
    private final Journal journal;
    private final People people;
    private final Clock clock;

    Marks(JdbcClient jdbc, Exhibits exhibits, Pictures pictures, Journal journal, People people, Clock clock) {
        this.jdbc = jdbc;
        this.exhibits = exhibits;
        this.pictures = pictures;
        this.journal = journal;
        this.people = people;
        this.clock = clock;
    }

    /**
     * Draws a mark beside a picture.
     *
     * @param x across, 0 to 100 percent of the picture
     * @param y down, 0 to 100 percent
     * @param toX where the rim or the arrow's beginning lies; null draws it a little aside
     * @param words up to 80 characters; needed for words alone
     * @return its id
     */
    @Transactional
    public long add(
            long exhibitId,
            Kind kind,
            BigDecimal x,
            BigDecimal y,
            @Nullable BigDecimal toX,
            @Nullable BigDecimal toY,
            String words) {
        Exhibit exhibit = picture(exhibitId);
        var problems = new LinkedHashMap<String, String>();
        within(problems, "x", x);
        within(problems, "y", y);
        within(problems, "toX", toX);
        within(problems, "toY", toY);
        if ((toX == null) != (toY == null)) {
            problems.putIfAbsent(toX == null ? "toX" : "toY", "Give both numbers of the second point, or neither.");
        }
        String written = words.strip().replaceAll("\\p{Cntrl}+", " ");
        if (written.length() > 80) {
            problems.put("words", "Keep it under 80 characters.");
        } else if (kind == Kind.WORDS && written.isEmpty()) {
            problems.put("words", "Write what is to stand there.");
        }
        Refused.ifAny(problems);
        if (of(exhibitId).marks().size() >= MOST) {
            throw Refused.because("A picture takes %d marks at most. Take another photo.".formatted(MOST));
        }
        boolean second = kind != Kind.WORDS;
        var who = people.signedIn();
        long id = jdbc.sql("""
                        insert into image_mark (exhibit_id, kind, x, y, to_x, to_y, words, made_by_id, made_by, made_at)
                        values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) returning id""")
                .param(exhibitId)
                .param(kind.name())
                .param(hundredths(x))
                .param(hundredths(y))
                .param(second ? hundredths(toX == null ? aside(x) : toX) : null)
                .param(second ? hundredths(toY == null ? kind == Kind.ARROW ? aside(y) : y : toY) : null)
                .param(written)
                .param(who.map(Person::id).orElse(null))
                .param(who.map(Person::name).orElse(Journal.THE_SYSTEM))
                .param(now().atOffset(ZoneOffset.UTC))
                .query(Long.class)
                .single();
        // Not the words: somebody may have written a customer's name there.
        var facts = new LinkedHashMap<String, @Nullable Object>();
        facts.put("exhibit", exhibitId);
        facts.put("mark", id);
        facts.put("sha256", exhibit.sha256());
        facts.put("x", hundredths(x));
        facts.put("y", hundredths(y));
        journal.note("mark", exhibit.ticket(), "Marked exhibit %d: %s.".formatted(exhibitId, kind.word()), facts);
        return id;
    }

    /** Stops drawing a mark; the row stays, with the reason. */
    @Transactional
    public void remove(long exhibitId, long markId, String reason) {
        Exhibit exhibit = exhibits.get(exhibitId);
        get(exhibitId, markId);
        String words = reason.strip();
        if (words.isEmpty() || words.length() > 400) {
            throw Refused.at("reason", "Say in up to 400 letters why the mark is taken away.");
        }
        var who = people.signedIn();
        jdbc.sql("""
                        insert into image_mark_removal (mark_id, reason, removed_by_id, removed_by, removed_at)
                        values (?, ?, ?, ?, ?) on conflict do nothing""")
                .param(markId)
                .param(words)
                .param(who.map(Person::id).orElse(null))
                .param(who.map(Person::name).orElse(Journal.THE_SYSTEM))
                .param(now().atOffset(ZoneOffset.UTC))
                .update();
        journal.note(
                "mark",
                exhibit.ticket(),
                "Took a mark away from exhibit %d.".formatted(exhibitId),
                Map.of("exhibit", exhibitId, "mark", markId));
    }

    /** A mark that is drawn. */
    @OnlyReads
    public ImageMark get(long exhibitId, long markId) {
        return of(exhibitId).marks().stream()
                .filter(mark -> mark.id() == markId)
                .findFirst()
                .orElseThrow(() -> NotFound.of("mark " + markId));
    }

    /** A picture with its marks, the oldest first. */
    @OnlyReads
    public Marked of(long exhibitId) {
        Exhibit exhibit = picture(exhibitId);
        return Objects.requireNonNull(on(List.of(exhibit)).get(exhibitId));
    }

    /** The pictures among these exhibits with their marks, by the exhibit's id. */
    @OnlyReads
    public Map<Long, Marked> on(List<Exhibit> all) {
        var shown = all.stream().filter(Exhibit::picture).toList();
        if (shown.isEmpty()) {
            return Map.of();
        }
        var marks = new HashMap<Long, List<ImageMark>>();
        jdbc.sql("""
                select m.exhibit_id, m.id, m.kind, m.x, m.y, m.to_x, m.to_y, coalesce(m.words, case m.kind when 'WORDS' then '–' else '' end), m.made_by, m.made_at
                from image_mark m
                where m.exhibit_id in (:exhibits)
                  and not exists (select from image_mark_removal r where r.mark_id = m.id)
                order by m.id""")
                .param("exhibits", shown.stream().map(Exhibit::id).toList())
                .query((ResultSet row) -> {
                    marks.computeIfAbsent(row.getLong(1), any -> new ArrayList<>())
                            .add(mark(row));
                });
        var found = new LinkedHashMap<Long, Marked>();
        for (Exhibit exhibit : shown) {
            var own = List.copyOf(marks.getOrDefault(exhibit.id(), List.of()));
            var size = pictures.sizeOf(exhibit.sha256(), kind(exhibit));
            found.put(exhibit.id(), new Marked(exhibit, Sketch.of(size.width, size.height, own), own));
        }
        return found;
    }

    /** The marks that were taken away from a picture. */
    @OnlyReads
    public List<Removed> removed(long exhibitId) {
        return jdbc.sql("""
                select m.exhibit_id, m.id, m.kind, m.x, m.y, m.to_x, m.to_y, coalesce(m.words, case m.kind when 'WORDS' then '–' else '' end), m.made_by, m.made_at,
                       r.reason, r.removed_by, r.removed_at
                from image_mark m join image_mark_removal r on r.mark_id = m.id
                where m.exhibit_id = ? order by m.id""")
                .param(exhibitId)
                .query((row, n) -> new Removed(mark(row), row.getString(11), row.getString(12), instant(row, 13)))
                .list();
    }

    /** The picture with its marks painted into a copy, as JPEG, for paper. */
    public byte[] painted(Marked marked) {
        return pictures.painted(marked.exhibit().sha256(), kind(marked.exhibit()), marked.sketch());
    }

    private Exhibit picture(long exhibitId) {
        Exhibit exhibit = exhibits.get(exhibitId);
        if (!exhibit.picture()) {
            throw NotFound.of("picture of exhibit " + exhibitId);
        }
        return exhibit;
    }

    private static FileKind kind(Exhibit exhibit) {
        return FileKind.of(exhibit.mime()).orElseThrow();
    }

    private static void within(Map<String, String> problems, String field, @Nullable BigDecimal percent) {
        if (percent != null && (percent.signum() < 0 || percent.compareTo(HUNDRED) > 0)) {
            problems.put(field, "A place in the picture is 0 to 100 %.");
        }
    }

    /** Towards the middle of the picture, so that it stays within. */
    private static BigDecimal aside(BigDecimal from) {
        return from.compareTo(new BigDecimal(50)) < 0 ? from.add(ASIDE) : from.subtract(ASIDE);
    }

    private static BigDecimal hundredths(BigDecimal percent) {
        return percent.setScale(2, RoundingMode.HALF_UP);
    }

    private Instant now() {
        return clock.instant().truncatedTo(ChronoUnit.MICROS);
    }

    private static ImageMark mark(ResultSet row) throws SQLException {
        return new ImageMark(
                row.getLong(2),
                Kind.valueOf(row.getString(3)),
                row.getBigDecimal(4),
                row.getBigDecimal(5),
                row.getBigDecimal(6),
                row.getBigDecimal(7),
                row.getString(8),
                row.getString(9),
                instant(row, 10));
    }

    private static Instant instant(ResultSet row, int column) throws SQLException {
        return row.getObject(column, OffsetDateTime.class).toInstant();
    }
}
