package idlewright.warranty;

import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Together;
import idlewright.frame.Tuple;
import idlewright.intake.Finds.Hit;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.journal.Journal;
import idlewright.journal.ShopKey;
import idlewright.journal.rules.Seal;
import idlewright.people.People;
import idlewright.warranty.model.Vault;
import idlewright.warranty.rules.Bundle;
import idlewright.warranty.rules.Checked;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.security.PublicKey;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.event.EventListener;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The front door for sealed evidence: sealed once, kept by its hash, checked by anybody. */
@Component
@Transactional
public class Dossiers {

    private static final String SEALED =
            "select d.*, (select n.code from dossier n where n.replaces = d.code) replaced_by from dossier d ";

    /** A ticket's dossiers in the order in which they were sealed; read by {@link #view}. */
    static final String OF_TICKET = SEALED + "where d.ticket_number = :ticket order by d.sealed_at, d.place, d.version";

    private final Together together;
    private final Tickets tickets;
    private final Gathering gathering;
    private final Binding binding;
    private final Vault vault;
    private final ShopKey key;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    Dossiers(
            Together together,
            Tickets tickets,
            Gathering gathering,
            Binding binding,
            Vault vault,
            ShopKey key,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock) {
        this.together = together;
        this.tickets = tickets;
        this.gathering = gathering;
        this.binding = binding;
        this.vault = vault;
        this.key = key;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Seals what is known of a thread now; a thread that was sealed before gets a new version that names the old one. */
    public DossierView seal(SymptomRef thread, boolean named, boolean originals) {
        var symptom = tickets.get(thread.ticket()).symptom(thread.place());
        // One dossier of a thread at a time: the version is counted.
        tickets.takeTurns(thread.ticket());
        var before = newest(thread);
        int version = before.map(DossierView::version).orElse(0) + 1;
        String code = "D-%s-%d-v%d".formatted(thread.ticket(), thread.place(), version);
        Instant at = clock.instant().truncatedTo(ChronoUnit.SECONDS);
        String by = people.me().name();
        var pair = key.pair();
        String fingerprint = Seal.fingerprint(pair.getPublic());
        know(pair.getPublic(), at);
        Evidence evidence = gathering.of(
                thread, code, before.map(DossierView::code).orElse(null), named, originals, at, by, fingerprint);
        var data = binding.data(evidence);
        byte[] pdf = binding.paper(evidence, data);
        var keptPdf = vault.keep(out -> out.write(pdf));
        var pieces = binding.pieces(evidence, pdf, data, Seal.pem(pair.getPublic()));
        var keptZip = vault.keep(out -> Bundle.write(out, pieces, pair.getPrivate(), at));
        jdbc.sql("""
                insert into dossier (code, ticket_number, place, version, replaces, sealed_at, sealed_by, named, originals, vehicle,
                    complaint, pdf_sha256, pdf_size, zip_sha256, zip_size, journal_head, fingerprint)
                values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)""")
                .param(code)
                .param(thread.ticket().value())
                .param(thread.place())
                .param(version)
                .param(evidence.replaces())
                .param(Timestamp.from(at))
                .param(by)
                .param(named)
                .param(originals)
                .param(tickets.get(thread.ticket()).vehicle().name())
                .param(symptom.kindName())
                .param(keptPdf.sha256())
                .param(keptPdf.size())
                .param(keptZip.sha256())
                .param(keptZip.size())
                .param(evidence.head())
                .param(fingerprint)
                .update();
        var facts = new LinkedHashMap<String, @Nullable Object>();
        facts.put("code", code);
        facts.put("replaces", evidence.replaces());
        facts.put("zip", keptZip.sha256());
        facts.put("pdf", keptPdf.sha256());
        facts.put("head", evidence.head());
        facts.put("named", named);
        journal.note("dossier sealed", thread.ticket().value(), "Sealed dossier %s.".formatted(code), facts);
        return get(code);
    }

    private void know(PublicKey ours, Instant at) {
        jdbc.sql("insert into seal_key (fingerprint, pem, first_used) values (?, ?, ?) on conflict do nothing")
                .params(Seal.fingerprint(ours), Seal.pem(ours), Timestamp.from(at))
                .update();
    }

    /** The checking page names the key from the first start on. */
    @EventListener(ApplicationReadyEvent.class)
    void knowTheKey() {
        try {
            know(key.pair().getPublic(), clock.instant().truncatedTo(ChronoUnit.SECONDS));
        } catch (UncheckedIOException | IllegalArgumentException unreadable) {
            // Said in the log where the key is read.
        }
    }

    @OnlyReads
    public DossierView get(String code) {
        return read(Map.of("code", code.toUpperCase(Locale.ROOT).replace("V", "v")), SEALED + "where d.code = :code")
                .findFirst()
                .orElseThrow(() -> NotFound.of("dossier " + code));
    }

    /** A ticket's dossiers in the order in which they were sealed. */
    @OnlyReads
    public List<DossierView> of(TicketNumber number) {
        return read(Map.of("ticket", number.value()), OF_TICKET).toList();
    }

    @OnlyReads
    public Optional<DossierView> newest(SymptomRef thread) {
        return read(Map.of("ticket", thread.ticket().value(), "place", thread.place()), SEALED + """
                where d.ticket_number = :ticket and d.place = :place order by d.version desc limit 1""")
                .findFirst();
    }

    /** The newest dossiers, a page at a time; before is the code the last page ended with. */
    @OnlyReads
    public List<DossierView> latest(@Nullable String before, int limit) {
        return read(Map.of("before", before == null ? "" : before, "limit", limit), SEALED + """
                where :before = ''
                   or (d.sealed_at, d.code) < (select b.sealed_at, b.code from dossier b where b.code = :before)
                order by d.sealed_at desc, d.code desc limit :limit""")
                .toList();
    }

    List<Hit> find(String words) {
        if (!words.toUpperCase(Locale.ROOT).startsWith("D-")) {
            return List.of();
        }
        return read(
                        Map.of("words", words),
                        SEALED + "where starts_with(upper(d.code), upper(:words)) order by d.code limit 5")
                .map(one -> new Hit(
                        "dossier",
                        "Dossier " + one.code(),
                        one.vehicle() + ", " + one.complaint(),
                        "/dossiers/" + one.code()))
                .toList();
    }

    /** The sealed ZIP as it lies in the folder; not to be written to. */
    @OnlyReads
    public Path zip(String code) {
        return there(get(code).zipSha256(), code);
    }

    @OnlyReads
    public Path pdf(String code) {
        return there(get(code).pdfSha256(), code);
    }

    /** The shop's keys by which a seal is known, the newest first. */
    @OnlyReads
    public List<String> fingerprints() {
        return jdbc.sql("select fingerprint from seal_key order by first_used desc, fingerprint")
                .query(String.class)
                .list();
    }

    /** Says of a ZIP that anybody sent whether it is whole, and signed by this shop. */
    @OnlyReads
    public Checked check(InputStream zip) {
        var ours = new ArrayList<PublicKey>();
        jdbc.sql("select pem from seal_key order by first_used desc")
                .query(String.class)
                .list()
                .forEach(pem -> ours.add(Seal.publicKey(pem)));
        Path sent = null;
        try {
            sent = Files.createTempFile("sent", ".zip");
            Files.copy(zip, sent, StandardCopyOption.REPLACE_EXISTING);
            return Checked.of(sent, ours);
        } catch (IOException e) {
            throw Refused.at("file", "The file could not be taken in. Send it again.");
        } finally {
            forget(sent);
        }
    }

    private static void forget(@Nullable Path sent) {
        try {
            if (sent != null) {
                Files.deleteIfExists(sent);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** What the owner chose for a dossier whose customer was forgotten, and why. */
    public record Choice(boolean kept, String reason, Instant at, String who) {}

    @OnlyReads
    public Optional<Choice> choice(String code) {
        return jdbc.sql("select choice, reason, at, who from dossier_choice where code = ? order by id desc limit 1")
                .param(code)
                .query((r, n) -> new Choice(
                        r.getString(1).equals("KEPT"),
                        r.getString(2),
                        r.getTimestamp(3).toInstant(),
                        r.getString(4)))
                .optional();
    }

    private Path there(String sha256, String code) {
        choice(get(code).code()).filter(choice -> !choice.kept()).ifPresent(choice -> {
            throw Refused.because("Dossier %s was destroyed: its customer is forgotten.".formatted(code));
        });
        Path place = vault.place(sha256);
        if (!Files.exists(place)) {
            throw Refused.because(
                    "The file of dossier %s is not in this machine's home folder. Bring it back from the backup."
                            .formatted(code));
        }
        return place;
    }

    private Stream<DossierView> read(Map<String, ?> values, String query) {
        return together.read(values, query).get(0).stream().map(Dossiers::view);
    }

    static DossierView view(Tuple r) {
        return new DossierView(
                r.getString("code"),
                new TicketNumber(r.getInt("ticket_number")),
                r.getInt("place"),
                r.getInt("version"),
                r.getString("replaces"),
                r.getString("replaced_by"),
                r.getInstant("sealed_at"),
                r.getString("sealed_by"),
                r.getBoolean("named"),
                r.getBoolean("originals"),
                r.getString("vehicle"),
                r.getString("complaint"),
                r.getString("pdf_sha256"),
                r.getLong("pdf_size"),
                r.getString("zip_sha256"),
                r.getLong("zip_size"),
                r.getString("journal_head"),
                r.getString("fingerprint"));
    }
}
