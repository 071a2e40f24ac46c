package idlewright.proof;

import idlewright.bench.KnownGoods;
import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.frame.Tuple;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.TicketView.SymptomView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.TicketStamp;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.proof.rules.Outcome;
import idlewright.proof.rules.ReturnReason;
import idlewright.proof.rules.Turn;
import java.math.BigDecimal;
import java.sql.Date;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** What the customer says some days after the car was handed back, and what follows when a symptom came back. */
@Component
@Transactional
public class FollowUps {

    /** A customer to be asked. */
    public record Due(
            TicketNumber ticket,
            String vehicle,
            @Nullable String plate,
            String customer,
            @Nullable String phone,
            @Nullable String email,
            String contactBy,
            Instant handedBackAt,
            LocalDate due,
            Turn turn,
            String words,
            int asked,
            boolean answered) {

        public String contactWords() {
            return switch (contactBy) {
                case "TEXT" -> "by text message" + (phone == null ? "" : ", " + phone);
                case "EMAIL" -> "by e-mail" + (email == null ? "" : ", " + email);
                case "NONE" -> "not to be contacted";
                default -> "by phone" + (phone == null ? "" : ", " + phone);
            };
        }
    }

    /** What was said about one symptom when somebody asked. */
    public record Said(int place, Outcome outcome, @Nullable String note, boolean byLink, Instant at, String who) {

        public String title() {
            String words = outcome.words();
            return Character.toUpperCase(words.charAt(0)) + words.substring(1);
        }

        public String by() {
            return byLink ? "the customer, by link; " + who : who;
        }
    }

    /** Why a symptom came back, as the owner sees it. */
    public record Explained(int place, ReturnReason reason, String words, Instant at, String who) {}

    /** The visit that followed from a symptom that came back. */
    public record Comeback(int place, TicketNumber ticket) {}

    static final String SAID = """
            select o.place, o.outcome, f.note, f.by_link, f.at, f.who from follow_up f
            join follow_up_outcome o on o.follow_up_id = f.id where f.ticket_number = :ticket order by f.id, o.place""";
    static final String EXPLAINED = "select * from return_reason where ticket_number = :ticket order by id";
    static final String COMEBACKS = "select place, comeback_number from comeback_visit where ticket_number = :ticket";

    private final ProofReads reads;
    private final KnownGoods knownGoods;
    private final Tickets tickets;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;
    private final Times times;

    FollowUps(
            ProofReads reads,
            KnownGoods knownGoods,
            Tickets tickets,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock,
            Times times) {
        this.reads = reads;
        this.knownGoods = knownGoods;
        this.tickets = tickets;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
        this.times = times;
    }

    /** Who is to be asked, the longest due first. */
    @OnlyReads
    public List<Due> due() {
        LocalDate today = times.today();
        return jdbc.sql("select * from follow_up_due where due is not null order by due, number")
                .query((r, n) -> {
                    LocalDate due = r.getObject("due", LocalDate.class);
                    return new Due(
                            new TicketNumber(r.getInt("number")),
                            r.getString("vehicle"),
                            r.getString("plate"),
                            r.getString("customer"),
                            r.getString("phone"),
                            r.getString("email"),
                            r.getString("contact_by"),
                            r.getTimestamp("handed_back_at").toInstant(),
                            due,
                            Turn.of(due, today),
                            r.getString("words"),
                            r.getInt("asked"),
                            r.getBoolean("answered"));
                })
                .list();
    }

    /** Symptoms the customer can still be asked about: ended by a repair or untraced, and not come back yet. */
    @OnlyReads
    public List<SymptomView> asked(TicketNumber number) {
        return handedBack(number).symptoms().stream()
                .filter(symptom ->
                        symptom.ended() && !symptom.has(ThreadStamp.DECLINED) && !symptom.has(ThreadStamp.RETURNED))
                .toList();
    }

    /** Whether anything of a ticket waits for the customer's word. */
    @OnlyReads
    public boolean waits(TicketView ticket) {
        return ticket.has(TicketStamp.HANDED_BACK)
                && ticket.symptoms().stream()
                        .anyMatch(symptom -> symptom.ended()
                                && !symptom.has(ThreadStamp.DECLINED)
                                && !symptom.has(ThreadStamp.RETURNED)
                                && !symptom.has(ThreadStamp.WATCHED));
    }

    /**
     * Keeps what the customer said.
     *
     * @param outcomes by the symptom's place
     * @param byLink whether the customer answered on the page behind the link and the counter confirms it
     * @param againInDays when to ask again; needed where somebody was not reached
     */
    public void record(
            TicketNumber number,
            Map<Integer, Outcome> outcomes,
            String note,
            boolean byLink,
            @Nullable Integer againInDays) {
        Map<Integer, SymptomView> asked = new LinkedHashMap<>();
        asked(number).forEach(symptom -> asked.put(symptom.place(), symptom));
        var problems = new LinkedHashMap<String, String>();
        if (outcomes.isEmpty()) {
            problems.put("", "Say what the customer said about at least one symptom.");
        }
        outcomes.forEach((place, outcome) -> {
            SymptomView symptom = asked.get(place);
            if (symptom == null) {
                throw NotFound.of("symptom %d to ask about on ticket %s".formatted(place, number));
            }
            if (symptom.has(ThreadStamp.WATCHED) && outcome != Outcome.RETURNED) {
                problems.put("outcome-" + place, "That is kept already; only a return can still be added.");
            }
        });
        boolean back = outcomes.containsValue(Outcome.RETURNED);
        boolean missed = outcomes.containsValue(Outcome.NOT_REACHED);
        if (back && note.isBlank()) {
            problems.put("note", "Write down in the customer's words how it came back.");
        }
        if (note.length() > 1000) {
            problems.put("note", "Keep it under 1,000 characters.");
        }
        if (missed && (againInDays == null || againInDays < 1 || againInDays > 90)) {
            problems.put("again", "Say in how many days to ask again, from 1 to 90.");
        }
        Refused.ifAny(problems);
        LocalDate again = missed && againInDays != null ? times.today().plusDays(againInDays) : null;
        long id = jdbc.sql("""
                insert into follow_up (ticket_number, by_link, note, again_on, at, who)
                values (:ticket, :link, :note, :again, :at, :who) returning id""")
                .param("ticket", number.value())
                .param("link", byLink)
                .param("note", note.isBlank() ? null : note)
                .param("again", again == null ? null : Date.valueOf(again))
                .param("at", now())
                .param("who", people.me().name())
                .query(Long.class)
                .single();
        outcomes.forEach((place, outcome) -> {
            jdbc.sql("insert into follow_up_outcome (follow_up_id, ticket_number, place, outcome) values (?, ?, ?, ?)")
                    .params(id, number.value(), place, outcome.name())
                    .update();
            stamp(new SymptomRef(number, place), outcome, byLink);
        });
        if (again != null) {
            tickets.putOff(number, again);
        }
        journal.note(
                "followed up",
                number.value(),
                "Asked about ticket %s: %s."
                        .formatted(
                                number,
                                String.join(
                                        ", ",
                                        outcomes.values().stream()
                                                .map(Outcome::words)
                                                .distinct()
                                                .toList())),
                Map.of("follow-up", id, "by link", byLink));
    }

    private void stamp(SymptomRef ref, Outcome outcome, boolean byLink) {
        String by = byLink ? "the customer, by link" : null;
        switch (outcome) {
            case STAYED_AWAY -> tickets.stamp(ref, ThreadStamp.WATCHED, by);
            case BETTER ->
                tickets.stamp(ref, ThreadStamp.WATCHED, Outcome.BETTER.words() + (by == null ? "" : ", says " + by));
            case RETURNED -> {
                tickets.stamp(ref, ThreadStamp.RETURNED, by);
                knownGoods.leave(ref);
            }
            case NOT_REACHED -> {}
        }
    }

    /** Opens the visit of a symptom that came back; old parts and road test as on the first visit. */
    public TicketNumber openComeback(
            SymptomRef earlier, String words, BigDecimal distance, @Nullable String distanceRemark) {
        TicketView before = handedBack(earlier.ticket());
        SymptomView symptom = before.symptom(earlier.place());
        if (!symptom.has(ThreadStamp.RETURNED)) {
            throw Refused.because("Record first that it came back.");
        }
        Optional<Comeback> already = comebacks(earlier.ticket()).stream()
                .filter(comeback -> comeback.place() == earlier.place())
                .findFirst();
        if (already.isPresent()) {
            throw Refused.because(
                    "Ticket %s is open for it already.".formatted(already.get().ticket()));
        }
        if (words.isBlank()) {
            throw Refused.at("words", "Write down what the customer says now.");
        }
        return tickets.openComeback(
                earlier,
                words,
                new Tickets.Opening(
                        before.vehicle().id(), distance, distanceRemark, null, before.oldParts(), before.roadTest()));
    }

    /** The owner says why a symptom came back; a later word takes the place of an earlier, and both stay. */
    public void explain(SymptomRef ref, ReturnReason reason, String words) {
        if (words.isBlank() || words.length() > 1000) {
            throw Refused.at("words", "Say in a few words how it came about, in up to 1,000 characters.");
        }
        tickets.stamp(ref, ThreadStamp.EXPLAINED, reason.words());
        jdbc.sql("insert into return_reason (ticket_number, place, reason, words, at, who) values (?, ?, ?, ?, ?, ?)")
                .params(
                        ref.ticket().value(),
                        ref.place(),
                        reason.name(),
                        words,
                        now(),
                        people.me().name())
                .update();
        journal.note(
                "return explained",
                ref.ticket().value(),
                "Symptom %d came back: %s.".formatted(ref.place(), reason.words()),
                Map.of("place", ref.place(), "reason", reason.name()));
    }

    /** All that was said about the symptoms of a ticket, the oldest first. */
    @OnlyReads
    public List<Said> said(TicketNumber number) {
        return reads.of(number).said();
    }

    @OnlyReads
    public List<Explained> explained(TicketNumber number) {
        return reads.of(number).explained();
    }

    @OnlyReads
    public List<Comeback> comebacks(TicketNumber number) {
        return reads.of(number).comebacks();
    }

    static Said said(Tuple r) {
        return new Said(
                r.getInt("place"),
                Outcome.valueOf(r.getString("outcome")),
                r.getString("note"),
                r.getBoolean("by_link"),
                r.getInstant("at"),
                r.getString("who"));
    }

    static Explained explained(Tuple r) {
        return new Explained(
                r.getInt("place"),
                ReturnReason.valueOf(r.getString("reason")),
                r.getString("words"),
                r.getInstant("at"),
                r.getString("who"));
    }

    static Comeback comeback(Tuple r) {
        return new Comeback(r.getInt("place"), new TicketNumber(r.getInt("comeback_number")));
    }

    private TicketView handedBack(TicketNumber number) {
        TicketView ticket = tickets.get(number);
        if (!ticket.has(TicketStamp.HANDED_BACK)) {
            throw NotFound.of("follow-up of ticket " + number + ": it is not handed back yet");
        }
        return ticket;
    }

    private Timestamp now() {
        return Timestamp.from(clock.instant());
    }
}
