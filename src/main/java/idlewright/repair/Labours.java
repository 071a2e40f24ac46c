package idlewright.repair;

import idlewright.billing.Charges;
import idlewright.billing.Rates;
import idlewright.billing.WorkRates;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Tuple;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.reference.money.Money;
import idlewright.repair.Clocks.Span;
import idlewright.repair.rules.Clocking;
import idlewright.repair.rules.Pay;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The work that was done, and the word that it is done. */
@Component
@Transactional
public class Labours {

    /**
     * Work on a thread.
     *
     * @param hours as they were spent
     * @param freeBecause why it is not charged, or null when it is
     * @param kind which kind of work, or null where nobody said
     * @param seconds as clocked, or null where the hours were typed
     */
    public record LabourView(
            long id,
            int place,
            String what,
            BigDecimal hours,
            @Nullable String freeBecause,
            @Nullable String kind,
            @Nullable Long seconds,
            Instant at,
            String who) {

        public String hoursWords() {
            return seconds != null
                    ? Clocking.words(seconds) + " h by the clock"
                    : hours.stripTrailingZeros().toPlainString() + " h";
        }
    }

    /** What was done, in words for the customer. */
    public record CorrectionView(int place, String words, Instant at, String who) {}

    static final String OF_TICKET = "select * from labour where ticket_number = :ticket order by id";
    static final String CORRECTIONS = "select * from correction where ticket_number = :ticket order by id";

    private final RepairReads reads;
    private final Tickets tickets;
    private final Charges charges;
    private final Rates rates;
    private final WorkRates workRates;
    private final Clocks clocks;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    Labours(
            RepairReads reads,
            Tickets tickets,
            Charges charges,
            Rates rates,
            WorkRates workRates,
            Clocks clocks,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock) {
        this.reads = reads;
        this.tickets = tickets;
        this.charges = charges;
        this.rates = rates;
        this.workRates = workRates;
        this.clocks = clocks;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Clocked time of one kind of work on a thread that is not on any labour yet. */
    public record Clocked(String kind, long seconds, BigDecimal hoursForCharge, Money rate) {

        /** "Mechanical, 1:12 by the clock". */
        public String words() {
            return "%s, %s by the clock".formatted(kind, Clocking.words(seconds));
        }
    }

    /** Keeps work with its hours as spent, and charges it as said; by hand is an hour's price times the hours. */
    public void add(SymptomRef ref, String what, BigDecimal hours, Pay pay) {
        var problems = new LinkedHashMap<String, String>();
        if (hours.signum() <= 0 || hours.compareTo(BigDecimal.valueOf(200)) > 0) {
            problems.put("hours", "Enter the hours spent, above 0 and up to 200.");
        }
        check(ref, what, pay, problems);
        keep(ref, what, hours, hours, null, null, pay);
    }

    /** Keeps work with the time that was clocked for one kind of it; by hand is an hour's price times the rounded hours. */
    public void addClocked(SymptomRef ref, String what, String kind, Pay pay) {
        check(ref, what, pay, new LinkedHashMap<>());
        // Two terminals that write down the same time come one after the other.
        tickets.takeTurns(ref.ticket());
        List<Span> spans = open(ref).stream()
                .filter(span -> !span.running() && span.kind().equals(kind) && span.seconds() > 0)
                .toList();
        if (spans.isEmpty()) {
            throw Refused.at("time", "Nothing is clocked for that which is not written down yet.");
        }
        spans.stream().filter(Span::pastMidnight).findFirst().ifPresent(span -> {
            throw Refused.at(
                    "time",
                    "The clock of %s ran over the day’s end. Correct it first, under “All clocks”."
                            .formatted(span.technician()));
        });
        long seconds = spans.stream().mapToLong(Span::seconds).sum();
        BigDecimal hours = BigDecimal.valueOf(seconds)
                .divide(BigDecimal.valueOf(3600), 2, RoundingMode.HALF_UP)
                .max(new BigDecimal("0.01"));
        long labour = keep(ref, what, hours, workRates.card().rounding().hours(seconds), kind, seconds, pay);
        spans.forEach(span -> jdbc.sql("insert into labour_span (clocked_id, labour_id) values (?, ?)")
                .params(span.id(), labour)
                .update());
    }

    /** What was clocked on a thread and is not written down as labour yet, by kind of work. */
    @OnlyReads
    public List<Clocked> clocked(SymptomRef ref) {
        var sums = new LinkedHashMap<String, Long>();
        open(ref).stream()
                .filter(span -> !span.running() && span.seconds() > 0)
                .forEach(span -> sums.merge(span.kind(), span.seconds(), Long::sum));
        return sums.entrySet().stream()
                .map(sum -> new Clocked(
                        sum.getKey(),
                        sum.getValue(),
                        workRates.card().rounding().hours(sum.getValue()),
                        workRates.rate(ref.ticket(), sum.getKey())))
                .toList();
    }

    private List<Span> open(SymptomRef ref) {
        return clocks.of(ref.ticket()).stream()
                .filter(span -> span.thread().equals(ref) && span.labour() == null)
                .toList();
    }

    private void check(SymptomRef ref, String what, Pay pay, Map<String, String> problems) {
        var thread = tickets.get(ref.ticket()).symptom(ref.place());
        if (what.isBlank() || what.length() > 300) {
            problems.put("what", "Say what was done, in up to 300 letters.");
        }
        if (pay instanceof Pay.Free free
                && (free.because().isBlank() || free.because().length() > 400)) {
            problems.put("free", "Say why it is not charged, in up to 400 letters.");
        }
        Refused.ifAny(problems);
        if (!thread.has(ThreadStamp.TRACED) || thread.ended()) {
            throw Refused.because(ThreadStamp.MENDED.whyNot());
        }
    }

    private long keep(
            SymptomRef ref,
            String what,
            BigDecimal hours,
            BigDecimal hoursForCharge,
            @Nullable String kind,
            @Nullable Long seconds,
            Pay pay) {
        BigDecimal spent = seconds == null
                ? hours
                : BigDecimal.valueOf(seconds).divide(BigDecimal.valueOf(3600), 6, RoundingMode.HALF_UP);
        Money cost = workRates.costRate().map(rate -> rate.times(spent)).orElse(null);
        Long charge = charge(ref, what, hoursForCharge, cost, pay);
        long id = jdbc.sql("""
                insert into labour (ticket_number, place, what, hours, charge_id, free_because, kind, seconds, cost, at, who)
                values (:ticket, :place, :what, :hours, :charge, :free, :kind, :seconds, :cost, :at, :who) returning id""")
                .param("ticket", ref.ticket().value())
                .param("place", ref.place())
                .param("what", what)
                .param("hours", hours)
                .param("charge", charge)
                .param("free", pay instanceof Pay.Free free ? free.because() : null)
                .param("kind", kind)
                .param("seconds", seconds)
                .param("cost", cost == null ? null : cost.amount())
                .param("at", Timestamp.from(clock.instant()))
                .param("who", people.me().name())
                .query(Long.class)
                .single();
        journal.note(
                "work done",
                ref.ticket().value(),
                "%s, %s h.".formatted(what, hours.stripTrailingZeros().toPlainString()),
                Map.of(
                        "place",
                        ref.place(),
                        "hours",
                        hours.toPlainString(),
                        "charged",
                        charge != null,
                        "seconds",
                        seconds == null ? 0 : seconds));
        return id;
    }

    /** Says that the repair of a thread is done, in words for the customer; also for repairs without a part. */
    public void done(SymptomRef ref, String correction) {
        if (correction.isBlank() || correction.length() > 600) {
            throw Refused.at("correction", "Say what was done in words for the customer, in up to 600 letters.");
        }
        tickets.stamp(
                ref, ThreadStamp.MENDED, correction.length() > 200 ? correction.substring(0, 199) + "…" : correction);
        jdbc.sql("insert into correction (ticket_number, place, words, at, who) values (?, ?, ?, ?, ?)")
                .params(
                        ref.ticket().value(),
                        ref.place(),
                        correction,
                        Timestamp.from(clock.instant()),
                        people.me().name())
                .update();
    }

    @OnlyReads
    public List<LabourView> of(TicketNumber number) {
        return reads.of(number).labours();
    }

    @OnlyReads
    public List<CorrectionView> corrections(TicketNumber number) {
        return reads.of(number).corrections();
    }

    static LabourView labour(Tuple r) {
        return new LabourView(
                r.getLong("id"),
                r.getInt("place"),
                r.getString("what"),
                r.getBigDecimal("hours"),
                r.getString("free_because"),
                r.getString("kind"),
                r.getLongOrNull("seconds"),
                r.getInstant("at"),
                r.getString("who"));
    }

    static CorrectionView correction(Tuple r) {
        return new CorrectionView(r.getInt("place"), r.getString("words"), r.getInstant("at"), r.getString("who"));
    }

    private @Nullable Long charge(SymptomRef ref, String what, BigDecimal hours, @Nullable Money cost, Pay pay) {
        try {
            if (pay instanceof Pay.ByEstimate by) {
                return charges.addFromEstimate(ref.ticket(), by.estimateLineId(), null, cost);
            }
            if (pay instanceof Pay.ByHand by) {
                var line = new Line(ref.place(), LineKind.LABOUR, what, hours, by.each(), null);
                return charges.add(ref.ticket(), line, cost);
            }
            // A line of nothing: the customer sees what was given, and a visit without any price still gets its paper.
            var line = new Line(ref.place(), LineKind.LABOUR, what, hours, Money.zero(rates.currency()), null);
            charges.add(ref.ticket(), line.given(((Pay.Free) pay).because()), cost);
            return null;
        } catch (Refused no) {
            throw Refused.at("charge", String.join(" ", no.problems().values()));
        }
    }
}
