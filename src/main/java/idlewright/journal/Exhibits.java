package idlewright.journal;

import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.journal.model.Pictures;
import idlewright.journal.model.Pictures.Size;
import idlewright.journal.model.Shelf;
import idlewright.journal.model.Shelf.Arrived;
import idlewright.journal.rules.FileKind;
import idlewright.journal.rules.FileNames;
import idlewright.people.People;
import idlewright.people.Person;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.apache.tika.Tika;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Keeps files as evidence: byte for byte, known by their hash, never deleted. */
@Component
public class Exhibits {

    /** An exhibit that no longer counts, with the reason. */
    public record Struck(Exhibit exhibit, String reason, String by, Instant at) {}

    private static final String COLUMNS =
            "e.id, e.sha256, e.name, e.mime, e.size, e.ticket, e.place, e.what, coalesce(e.caption, '') caption, e.kept_by, e.kept_at";

    private final JdbcClient jdbc;
    private final Shelf shelf;
    private final Pictures pictures;
    private final Journal journal;
    private final People people;
    private final Clock clock;
    private final Tika tika = new Tika();

    Exhibits(JdbcClient jdbc, Shelf shelf, Pictures pictures, Journal journal, People people, Clock clock) {
        this.jdbc = jdbc;
        this.shelf = shelf;
        this.pictures = pictures;
        this.journal = journal;
        this.people = people;
        this.clock = clock;
    }

    /**
     * Keeps a file for a ticket.
     *
     * @param fileName as the sender calls it; it is cleaned and never believed
     * @param place the symptom's place on the ticket; null for the whole ticket
     * @param what what it is, in a word: photo, log, document
     * @throws Refused at the field {@code file}: empty, over 25 MB, not a JPEG, PNG, WebP, PDF, CSV or plain text, a picture
     *     of over 50 million pixels or one that can't be read, or no room on the disk
     */
    @Transactional
    public Exhibit keep(
            InputStream bytes, String fileName, int ticket, @Nullable Integer place, String what, String caption) {
        return keep(bytes, Shelf.LARGEST, fileName, ticket, place, what, caption);
    }

    /** Keeps a scan tool's log, which may be larger than other files are: 150 MB as long as it is text. */
    @Transactional
    public Exhibit keepLog(InputStream bytes, String fileName, int ticket, @Nullable Integer place, String caption) {
        return keep(bytes, Shelf.LARGEST_LOG, fileName, ticket, place, "log", caption);
    }

    private Exhibit keep(
            InputStream bytes,
            long largest,
            String fileName,
            int ticket,
            @Nullable Integer place,
            String what,
            String caption) {
        try (var arrived = shelf.take(bytes, largest)) {
            var kind = kind(arrived.file(), fileName);
            if (arrived.size() > Shelf.LARGEST && !kind.mime().startsWith("text/")) {
                throw Shelf.tooLarge(Shelf.LARGEST);
            }
            if (kind.picture()) {
                pictures.make(arrived, kind);
            }
            arrived.keep();
            return enter(arrived, kind, FileNames.clean(fileName, kind), ticket, place, what, caption);
        }
    }

    private FileKind kind(Path file, String fileName) {
        try (var in = Files.newInputStream(file)) {
            String found = tika.detect(in);
            if (found.startsWith("image/heic") || found.startsWith("image/heif") || found.equals("image/avif")) {
                throw Refused.at(
                        "file",
                        "Phones keep photos this way to save room, and not everybody can open them. In the phone's "
                                + "camera settings choose the most compatible format (JPEG) and take it again, or send "
                                + "the photo to yourself by mail: most phones turn it into a JPEG on the way.");
            }
            return FileKind.of(found, fileName)
                    .orElseThrow(() -> Refused.at(
                            "file",
                            "Only JPEG, PNG and WebP pictures, PDF, CSV and plain text are kept, and by its content "
                                    + "this is none of them. Save it as one of these and send it again."));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private Exhibit enter(
            Arrived arrived,
            FileKind kind,
            String name,
            int ticket,
            @Nullable Integer place,
            String what,
            String caption) {
        var who = people.signedIn();
        var at = clock.instant().truncatedTo(ChronoUnit.MICROS);
        var by = who.map(Person::name).orElse(Journal.THE_SYSTEM);
        var id = jdbc.sql("""
                        insert into exhibit (sha256, name, mime, size, ticket, place, what, caption, kept_by_id, kept_by,
                            kept_at)
                        values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) returning id""")
                .param(arrived.sha256())
                .param(name)
                .param(kind.mime())
                .param(arrived.size())
                .param(ticket)
                .param(place)
                .param(what)
                .param(caption)
                .param(who.map(Person::id).orElse(null))
                .param(by)
                .param(at.atOffset(ZoneOffset.UTC))
                .query(Long.class)
                .single();
        // Neither name nor caption: somebody may have put a customer's name into them.
        var facts = new LinkedHashMap<String, @Nullable Object>();
        facts.put("exhibit", id);
        facts.put("sha256", arrived.sha256());
        facts.put("mime", kind.mime());
        facts.put("size", arrived.size());
        facts.put("place", place);
        journal.note("exhibit", ticket, "Kept exhibit %d: %s.".formatted(id, what), facts);
        return new Exhibit(
                id, arrived.sha256(), name, kind.mime(), arrived.size(), ticket, place, what, caption, by, at);
    }

    /** A ticket's exhibits, oldest first, without those that were struck out. */
    @OnlyReads
    public List<Exhibit> of(int ticket) {
        return jdbc.sql("select " + COLUMNS + """
                         from exhibit e
                        where e.ticket = ? and not exists (select from exhibit_strike s where s.exhibit_id = e.id)
                        order by e.id""")
                .param(ticket)
                .query(Exhibits::exhibit)
                .list();
    }

    /** A ticket's exhibits that no longer count. */
    @OnlyReads
    public List<Struck> struck(int ticket) {
        return jdbc.sql("select " + COLUMNS + """
                        , s.reason, s.struck_by, s.struck_at
                         from exhibit e join exhibit_strike s on s.exhibit_id = e.id
                        where e.ticket = ? order by e.id""")
                .param(ticket)
                .query((row, n) -> new Struck(exhibit(row, n), row.getString(12), row.getString(13), instant(row, 14)))
                .list();
    }

    @OnlyReads
    public Exhibit get(long id) {
        return jdbc.sql("select " + COLUMNS + " from exhibit e where e.id = ?")
                .param(id)
                .query(Exhibits::exhibit)
                .optional()
                .orElseThrow(() -> NotFound.of("exhibit " + id));
    }

    /** The original bytes; the caller closes the stream. */
    public InputStream open(long id) {
        return shelf.open(get(id).sha256());
    }

    /** The original file; not to be written to. */
    public Path file(long id) {
        return shelf.place(get(id).sha256());
    }

    /** What the picture for looking at is: JPEG or PNG. */
    public String pictureMime(Exhibit exhibit) {
        return FileKind.of(exhibit.mime())
                .map(FileKind::shown)
                .map(FileKind::mime)
                .orElse(exhibit.mime());
    }

    /** A picture for looking at, without location data, at most 1600 pixels wide and high (320 when small). */
    public Path picture(long id, boolean small) {
        var exhibit = get(id);
        var kind = FileKind.of(exhibit.mime()).filter(FileKind::picture);
        return pictures.of(
                exhibit.sha256(),
                kind.orElseThrow(() -> NotFound.of("picture of exhibit " + id)),
                small ? Size.SMALL : Size.LARGE);
    }

    /** Strikes out an exhibit that belongs elsewhere or shows the wrong thing; file and row stay. */
    @Transactional
    public void strike(long id, String reason) {
        var exhibit = get(id);
        var words = reason.strip();
        if (words.isEmpty() || words.length() > 400) {
            throw Refused.at("reason", "Say in up to 400 letters why this exhibit no longer counts.");
        }
        var who = people.signedIn();
        var struck = jdbc.sql("""
                        insert into exhibit_strike (exhibit_id, reason, struck_by_id, struck_by, struck_at)
                        values (?, ?, ?, ?, ?) on conflict do nothing""")
                .param(id)
                .param(words)
                .param(who.map(Person::id).orElse(null))
                .param(who.map(Person::name).orElse(Journal.THE_SYSTEM))
                .param(clock.instant().truncatedTo(ChronoUnit.MICROS).atOffset(ZoneOffset.UTC))
                .update();
        if (struck == 0) {
            throw Refused.because("Exhibit " + id + " was struck out before.");
        }
        journal.note(
                "exhibit",
                exhibit.ticket(),
                "Struck out exhibit %d: %s.".formatted(id, exhibit.what()),
                Map.of("exhibit", id, "sha256", exhibit.sha256()));
    }

    private static Exhibit exhibit(ResultSet row, int number) throws SQLException {
        return new Exhibit(
                row.getLong(1),
                row.getString(2),
                row.getString(3),
                row.getString(4),
                row.getLong(5),
                row.getInt(6),
                row.getObject(7, Integer.class),
                row.getString(8),
                row.getString(9),
                row.getString(10),
                instant(row, 11));
    }

    private static Instant instant(ResultSet row, int column) throws SQLException {
        return row.getObject(column, OffsetDateTime.class).toInstant();
    }
}
