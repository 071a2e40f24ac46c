package idlewright.intake;

import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.ReadOnce;
import idlewright.frame.Refused;
import idlewright.frame.Stale;
import idlewright.frame.Times;
import idlewright.intake.model.Symptom;
import idlewright.intake.model.SymptomRows;
import idlewright.intake.model.Ticket;
import idlewright.intake.model.TicketRows;
import idlewright.intake.rules.SymptomKinds;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.TicketStamp;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.people.Person;
import java.math.BigDecimal;
import java.sql.Date;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The front door for visits: opening them, what the customer said, the stamps, and who has the car in hand. */
@Component
@Transactional
public class Tickets {

    /** What the counter takes down to open a visit. */
    public record Opening(
            long vehicleId,
            BigDecimal distance,
            @Nullable String distanceRemark,
            @Nullable String keyTag,
            String oldParts,
            String roadTest) {}

    private final TicketRows rows;
    private final SymptomRows symptoms;
    private final TicketReads reads;
    private final Vehicles vehicles;
    private final People people;
    private final Journal journal;
    private final Sayings sayings;
    private final SymptomKinds kinds;
    private final JdbcClient jdbc;
    private final Clock clock;
    private final Times times;
    private final ReadOnce once;

    Tickets(
            TicketRows rows,
            SymptomRows symptoms,
            TicketReads reads,
            Vehicles vehicles,
            People people,
            Journal journal,
            Sayings sayings,
            SymptomKinds kinds,
            JdbcClient jdbc,
            Clock clock,
            Times times,
            ReadOnce once) {
        this.rows = rows;
        this.symptoms = symptoms;
        this.reads = reads;
        this.vehicles = vehicles;
        this.people = people;
        this.journal = journal;
        this.sayings = sayings;
        this.kinds = kinds;
        this.jdbc = jdbc;
        this.clock = clock;
        this.times = times;
        this.once = once;
    }

    @OnlyReads
    public TicketView get(TicketNumber number) {
        return once.of(
                number, () -> reads.one(number, times.today()).orElseThrow(() -> NotFound.of("ticket " + number)));
    }

    /** The vehicle of a visit, for those who need nothing else of it: of the page's ticket, else in one query. */
    @OnlyReads
    public VehicleView vehicle(TicketNumber number) {
        if (once.remembers()) {
            return get(number).vehicle();
        }
        return reads.vehicleOf(number).orElseThrow(() -> NotFound.of("ticket " + number));
    }

    /** Every ticket that waits for somebody, the longest wait first. */
    @OnlyReads
    public List<CounterLine> open() {
        return reads.open(times.today());
    }

    public TicketNumber open(Opening opening) {
        return open(opening, null);
    }

    private TicketNumber open(Opening opening, @Nullable TicketNumber comebackOf) {
        VehicleView vehicle = vehicles.get(opening.vehicleId());
        Person me = people.me();
        int number =
                jdbc.sql("select nextval('ticket_number')").query(Integer.class).single();
        var ticket = new Ticket(
                number,
                vehicle.id(),
                vehicle.customerId(),
                clock.instant(),
                me.name(),
                opening.keyTag(),
                opening.oldParts(),
                opening.roadTest());
        if (comebackOf != null) {
            ticket.comesBackFrom(comebackOf.value());
        }
        rows.saveAndFlush(ticket);
        var opened = new TicketNumber(number);
        vehicles.readOdometer(vehicle.id(), opened, opening.distance(), "IN", opening.distanceRemark());
        mark(opened, 0, TicketStamp.OPENED.name(), null, null);
        journal.note(
                "ticket opened",
                number,
                "Ticket %s opened for %s.".formatted(number, vehicle.name()),
                Map.of("vehicle", vehicle.id(), "distance", opening.distance().toPlainString()));
        return opened;
    }

    /** Opens the visit of a symptom that came back, linked to the thread that it came back from. */
    public TicketNumber openComeback(SymptomRef earlier, String words, Opening opening) {
        TicketView before = get(earlier.ticket());
        var symptom = before.symptom(earlier.place());
        TicketNumber opened = open(opening, earlier.ticket());
        SymptomRef again = hear(opened, symptom.kind(), words);
        symptoms.findById(id(again)).orElseThrow().returns(earlier.place());
        return opened;
    }

    /** Keeps the customer's words as they were said. */
    public SymptomRef hear(TicketNumber number, String kind, String words) {
        TicketView ticket = get(number);
        if (ticket.has(TicketStamp.BILLED)) {
            throw Refused.because(
                    "The invoice of ticket %s is issued. Open a new ticket for a new symptom.".formatted(number));
        }
        String kindName = kinds.name(kind);
        int place = ticket.symptoms().size() + 1;
        if (place > 20) {
            throw Refused.because("A ticket takes 20 symptoms at most.");
        }
        String who = people.me().name();
        symptoms.saveAndFlush(new Symptom(number.value(), place, kind, words, clock.instant(), who));
        var ref = new SymptomRef(number, place);
        mark(number, place, ThreadStamp.HEARD.name(), null, null);
        var facts = sayings.keep(ref, Sayings.What.WORDS, words, clock.instant(), who);
        facts.put("kind", kind);
        journal.note("symptom heard", number.value(), "Heard: %s.".formatted(kindName), facts);
        return ref;
    }

    /** Corrects the words or the kind; the earlier words stay readable beside them, a digest of both in the journal. */
    public void amend(SymptomRef ref, int version, String kind, String words) {
        Symptom symptom = symptoms.findById(id(ref)).orElseThrow(() -> NotFound.of("symptom " + ref));
        if (symptom.version() != version) {
            throw new Stale(
                    "The customer's words",
                    List.of(
                            new Stale.Clash("words", words, symptom.words()),
                            new Stale.Clash("kind", kinds.name(kind), kinds.name(symptom.kind()))),
                    "somebody else",
                    null,
                    ref.ticket().url());
        }
        kinds.name(kind);
        if (sayings.latest(ref, Sayings.What.WORDS).isEmpty()) {
            sayings.keep(ref, Sayings.What.WORDS, symptom.words(), symptom.heardAt(), symptom.heardBy());
        }
        var facts = sayings.keep(
                ref, Sayings.What.WORDS, words, clock.instant(), people.me().name());
        facts.put("kind before", symptom.kind());
        journal.note(
                "symptom amended", ref.ticket().value(), "The words of symptom %s were amended.".formatted(ref), facts);
        symptom.amend(kind, words);
        symptoms.saveAndFlush(symptom);
    }

    /** Keeps the answers to the questions of the symptom's kind; a later answer to a question takes the place of an earlier. */
    public void answer(SymptomRef ref, Map<String, String> answers) {
        var symptom = get(ref.ticket()).symptom(ref.place());
        var problems = new LinkedHashMap<String, String>();
        for (var question : kinds.questions(symptom.kind())) {
            String answer = answers.get(question.key());
            if (answer != null && answer.length() > 1000) {
                problems.put(question.key(), "Keep the answer under 1,000 characters.");
            }
        }
        Refused.ifAny(problems);
        if (!symptom.answers().isEmpty()
                && sayings.latest(ref, Sayings.What.ANSWERS).isEmpty()) {
            sayings.keep(ref, Sayings.What.ANSWERS, said(symptom.answers()), symptom.heardAt(), symptom.heardBy());
        }
        jdbc.sql("delete from symptom_answer where ticket_number = ? and place = ?")
                .params(ref.ticket().value(), ref.place())
                .update();
        var kept = new ArrayList<TicketView.Answer>();
        for (var question : kinds.questions(symptom.kind())) {
            String answer = answers.get(question.key());
            if (answer != null && !answer.isBlank()) {
                kept.add(new TicketView.Answer(question.key(), question.asks(), answer));
                jdbc.sql(
                                "insert into symptom_answer (ticket_number, place, question, asks, answer) values (?, ?, ?, ?, ?)")
                        .params(ref.ticket().value(), ref.place(), question.key(), question.asks(), answer)
                        .update();
            }
        }
        journal.note(
                "answers kept",
                ref.ticket().value(),
                "Answers to the questions about symptom %s.".formatted(ref.place()),
                sayings.keep(
                        ref,
                        Sayings.What.ANSWERS,
                        said(kept),
                        clock.instant(),
                        people.me().name()));
    }

    private static String said(List<TicketView.Answer> answers) {
        return answers.stream()
                .map(answer -> answer.asks().replaceAll("\\?$", "") + ": " + answer.answer())
                .collect(Collectors.joining("\n"));
    }

    public void stamp(SymptomRef ref, ThreadStamp kind, @Nullable String note) {
        stamp(ref, kind, note, null);
    }

    /** The same by somebody who does not sign in, like the customer behind a link. */
    public void stamp(SymptomRef ref, ThreadStamp kind, @Nullable String note, @Nullable String guest) {
        var symptom = get(ref.ticket()).symptom(ref.place());
        if (!kind.mayFollow(symptom.carried())) {
            throw Refused.because(kind.whyNot());
        }
        mark(ref.ticket(), ref.place(), kind.name(), note, null, guest);
        journal.note(
                "stamp",
                ref.ticket().value(),
                // Not the note: somebody may have put the customer's name or words into it.
                "Symptom %s: %s.".formatted(ref.place(), kind.words()),
                Map.of("place", ref.place(), "stamp", kind.name()));
    }

    public void stamp(TicketNumber number, TicketStamp kind, @Nullable String note) {
        stamp(number, kind, note, null);
    }

    /** The same by somebody who does not sign in, like the customer behind a link. */
    public void stamp(TicketNumber number, TicketStamp kind, @Nullable String note, @Nullable String guest) {
        get(number);
        mark(number, 0, kind.name(), note, null, guest);
        journal.note(
                "stamp",
                number.value(),
                "Ticket %s: %s%s.".formatted(number, kind.words(), note == null ? "" : ", " + note),
                Map.of("stamp", kind.name()));
    }

    /** Ends a thread without a repair: the cause was not found, or the customer wants it left. */
    public void end(SymptomRef ref, ThreadStamp how, @Nullable String reason) {
        if (how != ThreadStamp.UNTRACED && how != ThreadStamp.DECLINED) {
            throw new IllegalArgumentException("A thread is ended by UNTRACED or DECLINED, not " + how);
        }
        if (reason == null || reason.isBlank()) {
            throw Refused.at(
                    "reason",
                    how == ThreadStamp.DECLINED
                            ? "Say who decided to leave it, and what they were told."
                            : "Say what was tried and why it ends here.");
        }
        stamp(ref, how, reason);
    }

    /** Car and keys go back; the follow-up falls due so many days later. */
    public void handBack(TicketNumber number, BigDecimal distance, @Nullable String remark, int followUpInDays) {
        TicketView ticket = get(number);
        if (ticket.has(TicketStamp.HANDED_BACK)) {
            throw Refused.because("Ticket %s was handed back already.".formatted(number));
        }
        if (!ticket.has(TicketStamp.BILLED)) {
            throw Refused.because("Issue the invoice first: a car goes back with its paper.");
        }
        if (followUpInDays < 1 || followUpInDays > 365) {
            throw Refused.at("days", "Choose 1 to 365 days.");
        }
        vehicles.readOdometer(ticket.vehicle().id(), number, distance, "OUT", remark);
        LocalDate due = times.today().plusDays(followUpInDays);
        mark(number, 0, TicketStamp.HANDED_BACK.name(), null, due);
        putDown(number);
        journal.note(
                "handed back",
                number.value(),
                "Ticket %s handed back; the follow-up is due on %s.".formatted(number, times.day(due)),
                Map.of("distance", distance.toPlainString(), "due", due.toString()));
    }

    /** Nobody was reached after the car went back: the counter is reminded again on that day. */
    public void putOff(TicketNumber number, LocalDate due) {
        TicketView ticket = get(number);
        if (!ticket.has(TicketStamp.HANDED_BACK)) {
            throw Refused.because("Ticket %s is not handed back yet.".formatted(number));
        }
        mark(number, 0, TicketStamp.PUT_OFF.name(), null, due);
        journal.note(
                "follow-up put off",
                number.value(),
                "Ticket %s: to be asked again on %s.".formatted(number, times.day(due)),
                Map.of("due", due.toString()));
    }

    /** Two terminals at one ticket take turns from here to the end of the transaction. */
    public void takeTurns(TicketNumber number) {
        var held = jdbc.sql("select number from ticket where number = ? for update")
                .param(number.value())
                .query(Integer.class)
                .optional();
        if (held.isEmpty()) {
            throw NotFound.of("ticket " + number);
        }
    }

    /** Takes the car in hand. */
    public void take(TicketNumber number) {
        get(number);
        Person me = people.me();
        jdbc.sql("insert into hand (ticket_number, person_id, who, at) values (?, ?, ?, ?)")
                .params(number.value(), me.id(), me.name(), Timestamp.from(clock.instant()))
                .update();
    }

    public void putDown(TicketNumber number) {
        jdbc.sql("insert into hand (ticket_number, person_id, who, at) values (?, null, null, ?)")
                .params(number.value(), Timestamp.from(clock.instant()))
                .update();
    }

    /** The visits of one vehicle, the newest first. */
    @OnlyReads
    public List<TicketView.Visit> visits(long vehicleId) {
        return reads.visits(vehicleId);
    }

    private void mark(TicketNumber number, int place, String kind, @Nullable String note, @Nullable LocalDate due) {
        mark(number, place, kind, note, due, null);
    }

    private void mark(
            TicketNumber number,
            int place,
            String kind,
            @Nullable String note,
            @Nullable LocalDate due,
            @Nullable String guest) {
        Person me = guest == null ? people.me() : null;
        jdbc.sql(
                        "insert into stamp (ticket_number, place, kind, at, person_id, who, note, due) values (?, ?, ?, ?, ?, ?, ?, ?)")
                .param(number.value())
                .param(place == 0 ? null : place)
                .param(kind)
                .param(Timestamp.from(clock.instant()))
                .param(me == null ? null : me.id())
                .param(me == null ? guest : me.name())
                .param(note)
                .param(due == null ? null : Date.valueOf(due))
                .update();
    }

    private static Symptom.Id id(SymptomRef ref) {
        return new Symptom.Id(ref.ticket().value(), ref.place());
    }
}
