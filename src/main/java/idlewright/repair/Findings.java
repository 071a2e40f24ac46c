package idlewright.repair;

import idlewright.bench.rules.Catalogue;
import idlewright.bench.rules.Cause;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Tuple;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.journal.Journal;
import idlewright.people.People;
import java.sql.Timestamp;
import java.time.Clock;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The cause a technician decides on. Causes are ranked by the bench; deciding is done here, by a person. */
@Component
@Transactional
public class Findings {

    static final String OF_TICKET = """
            select f.*, exists (select from finding g where g.replaces = f.id) replaced
            from finding f where f.ticket_number = :ticket order by f.id""";

    private final Tickets tickets;
    private final RepairReads reads;
    private final Catalogue catalogue;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    Findings(
            Tickets tickets,
            RepairReads reads,
            Catalogue catalogue,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock) {
        this.reads = reads;
        this.tickets = tickets;
        this.catalogue = catalogue;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Decides the cause of a thread for the first time. */
    public void decide(SymptomRef ref, String causeKey, String words, String correctionPlanned) {
        decide(ref, causeKey, words, correctionPlanned, null);
    }

    /**
     * Decides the cause; a later finding takes the place of an earlier one, which stays readable.
     *
     * @param reason why the earlier finding is replaced; needed when there is one
     */
    public void decide(
            SymptomRef ref, String causeKey, String words, String correctionPlanned, @Nullable String reason) {
        var problems = new LinkedHashMap<String, String>();
        Optional<Cause> known = catalogue.cause(causeKey);
        if (known.isEmpty()) {
            problems.put("cause", "Choose the cause; “something else” is in the list too.");
        }
        within(problems, "words", words, "Say what you saw, like: filter oil on the film.");
        within(problems, "correction", correctionPlanned, "Say what is to be done.");
        Optional<FindingView> earlier = of(ref);
        if (earlier.isPresent() && (reason == null || reason.isBlank())) {
            problems.put("reason", "Say what changed since the earlier finding; both stay readable.");
        }
        Refused.ifAny(problems);
        Cause cause = known.orElseThrow();
        long id = jdbc.sql("""
                insert into finding (ticket_number, place, cause, cause_name, plain, words, correction, at, who, replaces, reason)
                values (:ticket, :place, :cause, :name, :plain, :words, :correction, :at, :who, :replaces, :reason) returning id""")
                .param("ticket", ref.ticket().value())
                .param("place", ref.place())
                .param("cause", cause.key())
                .param("name", cause.name())
                .param("plain", cause.plainWords())
                .param("words", words.strip())
                .param("correction", correctionPlanned.strip())
                .param("at", Timestamp.from(clock.instant()))
                .param("who", people.me().name())
                .param("replaces", earlier.map(FindingView::id).orElse(null))
                .param("reason", earlier.isPresent() ? reason : null)
                .query(Long.class)
                .single();
        tickets.stamp(ref, ThreadStamp.TRACED, note(cause, words.strip()));
        journal.note(
                "cause found",
                ref.ticket().value(),
                "Symptom %d: %s.".formatted(ref.place(), cause.name()),
                Map.of("finding", id, "place", ref.place(), "cause", cause.key()));
    }

    /** The finding that counts. */
    @OnlyReads
    public Optional<FindingView> of(SymptomRef ref) {
        return all(ref.ticket()).stream()
                .filter(finding -> finding.place() == ref.place() && !finding.replaced())
                .findFirst();
    }

    /** Every finding of a ticket, also those that were replaced, the oldest first. */
    @OnlyReads
    public List<FindingView> all(TicketNumber number) {
        return reads.of(number).findings();
    }

    /** "air-flow sensor reads too low, filter oil on the film". */
    private static String note(Cause cause, String words) {
        return cause.isSomethingElse()
                ? words
                : cause.name().substring(0, 1).toLowerCase(Locale.ROOT)
                        + cause.name().substring(1) + ", " + words;
    }

    private static void within(Map<String, String> problems, String field, String text, String ifBlank) {
        if (text.isBlank()) {
            problems.put(field, ifBlank);
        } else if (text.strip().length() > 400) {
            problems.put(field, "Keep it under 400 characters.");
        }
    }

    static FindingView view(Tuple r) {
        return new FindingView(
                r.getLong("id"),
                r.getInt("place"),
                r.getString("cause"),
                r.getString("cause_name"),
                r.getString("plain"),
                r.getString("words"),
                r.getString("correction"),
                r.getInstant("at"),
                r.getString("who"),
                r.getString("reason"),
                r.getBoolean("replaced"));
    }
}
