package idlewright.repair;

import idlewright.billing.WorkRates;
import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.frame.Together;
import idlewright.frame.Tuple;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.rules.TicketStamp;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.repair.rules.Clocking;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The clocks at the bay: each technician has one, and it runs at one car. */
@Component
@Transactional
public class Clocks {

    /** A time somebody worked on a thread, as it counts now. */
    public record Span(
            long id,
            SymptomRef thread,
            String vehicle,
            String kind,
            long personId,
            String technician,
            Instant startedAt,
            @Nullable Instant stoppedAt,
            long seconds,
            boolean pastMidnight,
            @Nullable String correctedBecause,
            @Nullable Long labour) {

        public boolean running() {
            return stoppedAt == null;
        }

        /** Hours and minutes. */
        public String words() {
            return Clocking.words(seconds);
        }
    }

    static final String OF_TICKET =
            "select s.* from clock_line s where s.ticket_number = :ticket order by s.started_at, s.id";

    /** The only one of a person that can run: who starts a clock stops the one before it. */
    private static final String LAST =
            "(select max(c.id) from clocked c where c.person_id = :person and c.stopped_at is null)";

    private final RepairReads reads;
    private final Together together;
    private final Tickets tickets;
    private final WorkRates workRates;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;
    private final Times times;

    Clocks(
            RepairReads reads,
            Together together,
            Tickets tickets,
            WorkRates workRates,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock,
            Times times) {
        this.reads = reads;
        this.together = together;
        this.tickets = tickets;
        this.workRates = workRates;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
        this.times = times;
    }

    /** Starts my clock at a thread; the one that ran elsewhere stops. Where it runs there already, nothing happens. */
    public void start(SymptomRef ref, String kind) {
        var ticket = tickets.get(ref.ticket());
        var thread = ticket.symptom(ref.place());
        if (ticket.has(TicketStamp.BILLED)) {
            throw Refused.because(
                    "The invoice of ticket %s is issued; no clock is started on it.".formatted(ref.ticket()));
        }
        if (thread.ended()) {
            throw Refused.because("This symptom has ended; it takes no work any more.");
        }
        if (workRates.card().kinds().stream().noneMatch(each -> each.name().equals(kind))) {
            throw Refused.at("kind", "Choose the kind of work.");
        }
        Person me = people.me();
        lock(me.id());
        var mine = mine();
        if (mine.isPresent()
                && mine.get().thread().equals(ref)
                && mine.get().kind().equals(kind)) {
            return;
        }
        mine.ifPresent(this::end);
        Instant now = clock.instant();
        jdbc.sql("""
                insert into clocked (ticket_number, place, kind, person_id, technician, started_at, at, who)
                values (?, ?, ?, ?, ?, ?, ?, ?)""")
                .params(
                        ref.ticket().value(),
                        ref.place(),
                        kind,
                        me.id(),
                        me.name(),
                        Timestamp.from(now),
                        Timestamp.from(now),
                        me.name())
                .update();
        journal.note(
                "clock started",
                ref.ticket().value(),
                "%s began: %s.".formatted(me.name(), kind),
                Map.of("place", ref.place(), "kind", kind));
    }

    /** Stops my clock; pressed twice, or at two terminals, it stops once. */
    public Optional<Span> stop() {
        lock(people.me().id());
        var mine = mine();
        mine.ifPresent(this::end);
        return mine;
    }

    private void end(Span span) {
        jdbc.sql("insert into clock_stop (clocked_id, at, who) values (?, ?, ?)")
                .params(span.id(), Timestamp.from(clock.instant()), people.me().name())
                .update();
        journal.note(
                "clock stopped",
                span.thread().ticket().value(),
                "%s stopped: %s, %s.".formatted(span.technician(), span.kind(), span.words()),
                Map.of("clock", span.id(), "seconds", span.seconds()));
    }

    /** Puts another time in the place of one that is wrong; both stay readable. */
    public void correct(long id, Instant from, Instant to, String reason) {
        Span span = get(id);
        Person me = people.me();
        if (span.personId() != me.id() && !me.is(Role.OWNER)) {
            throw Refused.because("Only %s or the owner corrects this clock.".formatted(span.technician()));
        }
        lock(span.personId());
        span = get(id);
        if (span.labour() != null) {
            throw Refused.because("This time is written down as labour already; it is corrected there.");
        }
        var problems = new LinkedHashMap<String, String>();
        Instant now = clock.instant();
        if (!to.isAfter(from)) {
            problems.put("to", "Enter an end after the start.");
        } else if (Duration.between(from, to).toHours() >= 24) {
            problems.put("to", "That is a day or more. Enter the end of the same working day.");
        } else if (to.isAfter(now)) {
            problems.put("to", "Enter an end that is not in the future.");
        } else {
            var typed = new Clocking(from, to);
            Span corrected = span;
            read(
                            Map.of("person", span.personId(), "from", Timestamp.from(from.minusSeconds(864_000))),
                            "where s.person_id = :person and s.started_at > :from")
                    .stream()
                    .filter(other -> other.id() != corrected.id())
                    .filter(other -> typed.overlaps(new Clocking(other.startedAt(), other.stoppedAt()), now))
                    .findFirst()
                    .ifPresent(other -> problems.put(
                            "from",
                            "%s worked on ticket %s then, from %s to %s."
                                    .formatted(
                                            other.technician(),
                                            other.thread().ticket(),
                                            times.shortly(other.startedAt()),
                                            other.stoppedAt() == null ? "now" : times.shortly(other.stoppedAt()))));
        }
        if (reason.isBlank() || reason.length() > 400) {
            problems.put("reason", "Say why it is corrected, in up to 400 letters: forgot to stop it.");
        }
        Refused.ifAny(problems);
        jdbc.sql("""
                insert into clocked (ticket_number, place, kind, person_id, technician, started_at, stopped_at, replaces, reason, at, who)
                values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)""")
                .params(
                        span.thread().ticket().value(),
                        span.thread().place(),
                        span.kind(),
                        span.personId(),
                        span.technician(),
                        Timestamp.from(from),
                        Timestamp.from(to),
                        span.id(),
                        reason.strip(),
                        Timestamp.from(now),
                        me.name())
                .update();
        journal.note(
                "clock corrected",
                span.thread().ticket().value(),
                "The clock of %s now says %s instead of %s."
                        .formatted(
                                span.technician(), Clocking.words(new Clocking(from, to).seconds(now)), span.words()),
                Map.of("clock", span.id()));
    }

    /** The clock of mine that runs. */
    @OnlyReads
    public Optional<Span> mine() {
        return read(Map.of("person", people.me().id()), "where s.id = " + LAST + " and s.stopped_at is null").stream()
                .findFirst();
    }

    /** All that was clocked on a ticket, and the clock of mine that runs, wherever. */
    @OnlyReads
    public List<Span> ofAndMine(TicketNumber number) {
        return read(Map.of("ticket", number.value(), "person", people.me().id()), """
                where s.ticket_number = :ticket or s.id = %s and s.stopped_at is null
                order by s.started_at, s.id""".formatted(LAST));
    }

    /** A time as it counts; one that was replaced is not found. */
    @OnlyReads
    public Span get(long id) {
        return read(Map.of("id", id), "where s.id = :id").stream()
                .findFirst()
                .orElseThrow(() -> NotFound.of("clock " + id + " (it may have been corrected meanwhile)"));
    }

    /** All that was clocked on a ticket, the oldest first. */
    @OnlyReads
    public List<Span> of(TicketNumber number) {
        return reads.of(number).spans();
    }

    /** Times of the last so many days, those that run first, then the newest. */
    @OnlyReads
    public List<Span> latest(int days) {
        return read(Map.of("since", Timestamp.from(clock.instant().minus(Duration.ofDays(days)))), """
                where s.stopped_at is null or s.started_at >= :since
                order by s.stopped_at is not null, s.started_at desc limit 300""");
    }

    /** Both terminals of one technician come one after the other. */
    private void lock(long person) {
        jdbc.sql("select pg_advisory_xact_lock(hashtextextended('clock', ?))")
                .param(person)
                .query((r, n) -> 0)
                .single();
    }

    private List<Span> read(Map<String, ?> values, String where) {
        return together.read(values, "select s.* from clock_line s " + where).get(0).stream()
                .map(r -> span(r, clock.instant(), times))
                .toList();
    }

    static Span span(Tuple r, Instant now, Times times) {
        var clocking = new Clocking(r.getInstant("started_at"), r.getInstant("stopped_at"));
        return new Span(
                r.getLong("id"),
                new SymptomRef(new TicketNumber(r.getInt("ticket_number")), r.getInt("place")),
                r.getString("vehicle"),
                r.getString("kind"),
                r.getLong("person_id"),
                r.getString("technician"),
                clocking.from(),
                clocking.to(),
                clocking.seconds(now),
                clocking.pastMidnight(times.zone(), now),
                r.getString("reason"),
                r.getLongOrNull("labour_id"));
    }
}
