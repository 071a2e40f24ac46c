package idlewright.repair;

import idlewright.billing.Charges;
import idlewright.billing.Rates;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.TicketStamp;
import idlewright.journal.Exhibit;
import idlewright.journal.Exhibits;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.reference.money.Money;
import idlewright.repair.SwapReads.Side;
import idlewright.repair.rules.Answer;
import idlewright.repair.rules.Check;
import idlewright.repair.rules.Finality;
import idlewright.repair.rules.FittedPart;
import idlewright.repair.rules.NumberGround;
import idlewright.repair.rules.PartNumbers;
import idlewright.repair.rules.Pay;
import idlewright.repair.rules.RemovedPart;
import idlewright.repair.rules.Went;
import java.io.InputStream;
import java.math.BigDecimal;
import java.sql.Timestamp;
import java.time.Clock;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Parts removed and fitted. Nothing is final until the number is accounted for and every check is answered. */
@Component
@Transactional
public class Swaps {

    private final Tickets tickets;
    private final Charges charges;
    private final Rates rates;
    private final Exhibits exhibits;
    private final RepairReads reads;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    Swaps(
            Tickets tickets,
            Charges charges,
            Rates rates,
            Exhibits exhibits,
            RepairReads reads,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock) {
        this.tickets = tickets;
        this.charges = charges;
        this.rates = rates;
        this.exhibits = exhibits;
        this.reads = reads;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Keeps what came out and what went in; it is not final yet, and nothing is charged. */
    public long start(SymptomRef ref, RemovedPart removed, FittedPart fitted, boolean trial, Pay pay) {
        TicketView ticket = tickets.get(ref.ticket());
        var thread = ticket.symptom(ref.place());
        if (!ticket.has(TicketStamp.AGREED)) {
            throw Refused.because(
                    "Nothing is agreed on ticket %s yet; no part is fitted before that.".formatted(ref.ticket()));
        }
        if (!thread.has(ThreadStamp.TRACED)) {
            throw Refused.because("Record the cause first: a part is fitted for a reason.");
        }
        if (thread.ended()) {
            throw Refused.because("This symptom has ended; it takes no part any more.");
        }
        check(removed, fitted, pay);
        long id = jdbc.sql("""
                insert into swap (ticket_number, place, what, removed_number, removed_maker, removed_date_code, removed_condition,
                    fitted_number, fitted_bare, fitted_maker, fitted_serial, fitted_supplier, fitted_cost,
                    trial, estimate_line_id, price, free_because, at, who)
                values (:ticket, :place, :what, :oldNumber, :oldMaker, :oldDate, :oldCondition,
                    :number, :bare, :maker, :serial, :supplier, :cost,
                    :trial, :line, :price, :free, :at, :who) returning id""")
                .param("ticket", ref.ticket().value())
                .param("place", ref.place())
                .param("what", fitted.what())
                .param("oldNumber", removed.number())
                .param("oldMaker", removed.maker())
                .param("oldDate", removed.dateCode())
                .param("oldCondition", removed.condition())
                .param("number", fitted.number())
                .param("bare", PartNumbers.bare(fitted.number()))
                .param("maker", fitted.maker())
                .param("serial", fitted.serial())
                .param("supplier", fitted.supplier())
                .param("cost", fitted.cost() == null ? null : fitted.cost().amount())
                .param("trial", trial)
                .param("line", pay instanceof Pay.ByEstimate by ? by.estimateLineId() : null)
                .param("price", pay instanceof Pay.ByHand by ? by.each().amount() : null)
                .param("free", pay instanceof Pay.Free free ? free.because() : null)
                .param("at", now())
                .param("who", people.me().name())
                .query(Long.class)
                .single();
        step(id, "WENT", removed.went(), "", null);
        journal.note(
                "swap started",
                ref.ticket().value(),
                "%s %s fitted%s.".formatted(fitted.what(), fitted.number(), trial ? " on trial" : ""),
                Map.of(
                        "swap", id,
                        "place", ref.place(),
                        "removed", removed.number() == null ? "not readable" : removed.number(),
                        "fitted", fitted.number(),
                        "likeness",
                                PartNumbers.compare(removed.number(), fitted.number())
                                        .name()));
        return id;
    }

    /** Says why a part with another number is the right one. */
    public void account(long id, NumberGround ground) {
        SwapView swap = standing(id);
        var problems = new LinkedHashMap<String, String>();
        if (ground instanceof NumberGround.Supersession s) {
            within(
                    problems,
                    "source",
                    s.source(),
                    400,
                    "Name the source, like: supplier's catalogue of 2 March, page 14.");
        }
        if (ground instanceof NumberGround.Consent c) {
            within(problems, "reason", c.reason(), 400, "Say why another part is fitted.");
            within(problems, "byWhom", c.byWhom(), 200, "Say who agreed to it for the owner of the vehicle.");
            within(problems, "how", c.how(), 200, "Say how they agreed: in person, by phone, in writing.");
        }
        Refused.ifAny(problems);
        jdbc.sql(
                        "insert into swap_ground (swap_id, source, reason, by_whom, how, at, who) values (:swap, :source, :reason, :by, :how, :at, :who)")
                .param("swap", id)
                .param("source", ground instanceof NumberGround.Supersession s ? s.source() : null)
                .param("reason", ground instanceof NumberGround.Consent c ? c.reason() : null)
                .param("by", ground instanceof NumberGround.Consent c ? c.byWhom() : null)
                .param("how", ground instanceof NumberGround.Consent c ? c.how() : null)
                .param("at", now())
                .param("who", people.me().name())
                .update();
        journal.note(
                "part number accounted for",
                swap.thread().ticket().value(),
                "%s instead of %s."
                        .formatted(
                                swap.fitted().number(),
                                swap.removed().number() == null
                                        ? "a number nobody could read"
                                        : swap.removed().number()),
                Map.of("swap", id, "kind", ground instanceof NumberGround.Supersession ? "supersession" : "consent"));
    }

    /** Keeps answers to checks; a later answer takes the place of an earlier one. */
    public void answer(long id, Map<Check, Answer> answers) {
        SwapView swap = standing(id);
        var all = new LinkedHashMap<>(swap.answers());
        all.putAll(answers);
        var problems = Finality.wrong(all, swap.went(), oldParts(swap));
        answers.forEach((check, answer) -> {
            if (answer.words().length() > 400) {
                problems.put(Finality.field(check), "Keep it under 400 characters.");
            }
        });
        Refused.ifAny(problems);
        answers.forEach((check, answer) -> {
            if (!answer.equals(swap.answers().get(check))) {
                jdbc.sql("insert into swap_answer (swap_id, item, seen, words, at, who) values (?, ?, ?, ?, ?, ?)")
                        .params(
                                id,
                                check.name(),
                                answer.seen().name(),
                                answer.words(),
                                now(),
                                people.me().name())
                        .update();
            }
        });
        journal.note(
                "swap checked",
                swap.thread().ticket().value(),
                "Checks answered for %s.".formatted(swap.fitted().what()),
                Map.of("swap", id, "answers", answers.size()));
    }

    /** Keeps a photo of one of the two parts as an exhibit of the thread. */
    public Exhibit photograph(long id, boolean removedPart, InputStream bytes, String fileName) {
        SwapView swap = get(id);
        String part = removedPart ? "old" : "fitted";
        Exhibit kept = exhibits.keep(
                bytes,
                fileName,
                swap.thread().ticket().value(),
                swap.thread().place(),
                "photo",
                "%s %s".formatted(part, swap.fitted().what()));
        if (!kept.picture()) {
            throw Refused.at("file", "That is no picture. Choose a JPEG, PNG or WebP.");
        }
        jdbc.sql("insert into swap_photo (swap_id, exhibit_id, part) values (?, ?, ?)")
                .params(id, kept.id(), removedPart ? Side.REMOVED.name() : Side.FITTED.name())
                .update();
        return kept;
    }

    /** Calls the part final: charges it and marks the thread as repaired; refused while anything stands against it. */
    public void makeFinal(long id) {
        SwapView swap = standing(id);
        Refused.ifAny(Finality.against(swap.likeness(), swap.ground(), swap.answers(), swap.went(), oldParts(swap)));
        Long charge = charge(swap);
        step(id, "FINAL", null, "", charge);
        tickets.stamp(
                swap.thread(),
                ThreadStamp.MENDED,
                "%s %s".formatted(swap.fitted().what(), swap.fitted().number()));
        journal.note(
                "swap final",
                swap.thread().ticket().value(),
                "%s %s is final.".formatted(swap.fitted().what(), swap.fitted().number()),
                Map.of("swap", id, "place", swap.thread().place()));
    }

    /** Takes a part out again: it did not help, or it was written down wrongly. */
    public void takeBack(long id, String reason) {
        SwapView swap = standing(id);
        if (reason.isBlank() || reason.length() > 400) {
            throw Refused.at(
                    "because", "Say why it is taken back, in up to 400 letters: it made no difference, wrong part.");
        }
        step(id, "TAKEN_BACK", null, reason, null);
        journal.note(
                "swap taken back",
                swap.thread().ticket().value(),
                "%s %s was taken back."
                        .formatted(swap.fitted().what(), swap.fitted().number()),
                Map.of("swap", id));
    }

    /** The old part is somewhere else now; also after the swap is final. */
    public void moveOldPart(long id, Went went, String words) {
        SwapView swap = get(id);
        if (words.length() > 400) {
            throw Refused.at("where", "Keep it under 400 characters.");
        }
        step(id, "WENT", went, words, null);
        journal.note(
                "old part moved",
                swap.thread().ticket().value(),
                "The old %s: %s.".formatted(swap.fitted().what(), went.words()),
                Map.of("swap", id, "went", went.name()));
    }

    @OnlyReads
    public SwapView get(long id) {
        return jdbc.sql("select ticket_number from swap where id = ?")
                .param(id)
                .query(Integer.class)
                .optional()
                .flatMap(number -> of(new TicketNumber(number)).stream()
                        .filter(swap -> swap.id() == id)
                        .findFirst())
                .orElseThrow(() -> NotFound.of("swap " + id));
    }

    /** The swaps of a ticket, the oldest first. */
    @OnlyReads
    public List<SwapView> of(TicketNumber number) {
        return reads.of(number).swaps();
    }

    /** What stands against calling it final, by field; empty when nothing does. */
    @OnlyReads
    public Map<String, String> against(SwapView swap) {
        return Finality.against(swap.likeness(), swap.ground(), swap.answers(), swap.went(), oldParts(swap));
    }

    private String oldParts(SwapView swap) {
        return tickets.get(swap.thread().ticket()).oldParts();
    }

    private SwapView standing(long id) {
        SwapView swap = get(id);
        if (!swap.open()) {
            throw Refused.because("This swap is %s already.".formatted(swap.state()));
        }
        TicketView ticket = tickets.get(swap.thread().ticket());
        if (ticket.has(TicketStamp.BILLED)) {
            throw Refused.because("The invoice of ticket %s is issued.".formatted(ticket.number()));
        }
        return swap;
    }

    /** Parts of the estimate that the counter charged before anybody wrote down that they were fitted. */
    @OnlyReads
    public List<Charges.ChargeView> chargedAlready(TicketNumber number) {
        var fitted = jdbc.sql("""
                select t.charge_id from swap_step t join swap s on s.id = t.swap_id
                where s.ticket_number = ? and t.charge_id is not null""").param(number.value()).query(Long.class).list();
        return charges.of(number).stream()
                .filter(charge -> charge.counts()
                        && charge.line().kind() == LineKind.PART
                        && charge.estimateLineId() != null
                        && !fitted.contains(charge.id()))
                .toList();
    }

    private @Nullable Long charge(SwapView swap) {
        FittedPart fitted = swap.fitted();
        try {
            TicketNumber number = swap.thread().ticket();
            if (swap.pay() instanceof Pay.ByEstimate by) {
                var before = chargedAlready(number).stream()
                        .filter(charge -> Objects.equals(charge.estimateLineId(), by.estimateLineId()))
                        .findFirst();
                if (before.isPresent()) {
                    return before.get().id();
                }
                return charges.addFromEstimate(number, by.estimateLineId(), fitted.number(), fitted.cost());
            }
            if (swap.pay() instanceof Pay.ByHand by) {
                var line = new Line(
                        swap.thread().place(),
                        LineKind.PART,
                        fitted.what(),
                        BigDecimal.ONE,
                        by.each(),
                        fitted.number());
                return charges.add(number, line, fitted.cost());
            }
            // A line of nothing: the customer sees what was given, and a visit without any price still gets its paper.
            var line = new Line(
                    swap.thread().place(),
                    LineKind.PART,
                    fitted.what(),
                    BigDecimal.ONE,
                    Money.zero(rates.currency()),
                    fitted.number());
            charges.add(number, line.given(((Pay.Free) swap.pay()).because()), fitted.cost());
            return null;
        } catch (Refused no) {
            throw Refused.at("charge", String.join(" ", no.problems().values()));
        }
    }

    private void step(long id, String kind, @Nullable Went went, String words, @Nullable Long charge) {
        jdbc.sql(
                        "insert into swap_step (swap_id, kind, went, words, charge_id, at, who) values (:swap, :kind, :went, :words, :charge, :at, :who)")
                .param("swap", id)
                .param("kind", kind)
                .param("went", went == null ? null : went.name())
                .param("words", words)
                .param("charge", charge)
                .param("at", now())
                .param("who", people.me().name())
                .update();
    }

    private Timestamp now() {
        return Timestamp.from(clock.instant());
    }

    private static void check(RemovedPart removed, FittedPart fitted, Pay pay) {
        var problems = new LinkedHashMap<String, String>();
        within(problems, "what", fitted.what(), 200, "Say what the part is, like: air-flow sensor.");
        within(problems, "condition", removed.condition(), 400, "Say what the old part looked like.");
        within(
                problems,
                "number",
                fitted.number(),
                80,
                "Type the number as it is printed on the part, not as it was ordered.");
        if (!fitted.number().isBlank() && PartNumbers.bare(fitted.number()).isEmpty()) {
            problems.put("number", "A part number has letters or digits.");
        }
        within(problems, "maker", fitted.maker(), 120, "Say who made it; the maker matters when parts fail.");
        within(problems, "supplier", fitted.supplier(), 120, "Say who supplied it; a claim goes to them.");
        atMost(problems, "oldNumber", removed.number(), 80);
        atMost(problems, "oldMaker", removed.maker(), 120);
        atMost(problems, "dateCode", removed.dateCode(), 80);
        atMost(problems, "serial", fitted.serial(), 80);
        if (fitted.cost() != null && fitted.cost().isNegative()) {
            problems.put("cost", "Enter the cost from 0 up.");
        }
        if (pay instanceof Pay.Free free) {
            within(problems, "free", free.because(), 400, "Say why it is not charged.");
        }
        if (pay instanceof Pay.ByHand by && by.each().isNegative()) {
            problems.put("price", "Enter the price from 0 up.");
        }
        Refused.ifAny(problems);
    }

    private static void within(Map<String, String> problems, String field, String text, int most, String ifBlank) {
        if (text.isBlank()) {
            problems.put(field, ifBlank);
        } else {
            atMost(problems, field, text, most);
        }
    }

    private static void atMost(Map<String, String> problems, String field, @Nullable String text, int most) {
        if (text != null && text.length() > most) {
            problems.put(field, "Keep it under %d characters.".formatted(most));
        }
    }
}
