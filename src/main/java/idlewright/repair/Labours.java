package idlewright.repair;

import idlewright.billing.Charges;
import idlewright.billing.Rates;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.frame.Refused;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.reference.money.Money;
import idlewright.repair.rules.Pay;
import java.math.BigDecimal;
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
     */
    public record LabourView(
            long id,
            int place,
            String what,
            BigDecimal hours,
            @Nullable String freeBecause,
            Instant at,
            String who) {

        public String hoursWords() {
            return hours.stripTrailingZeros().toPlainString() + " h";
        }
    }

    /** What was done, in words for the customer. */
    public record CorrectionView(int place, String words, Instant at, String who) {}

    private final Tickets tickets;
    private final Charges charges;
    private final Rates rates;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    Labours(
            Tickets tickets,
            Charges charges,
            Rates rates,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock) {
        this.tickets = tickets;
        this.charges = charges;
        this.rates = rates;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Keeps work with its hours as spent, and charges it as said; by hand is an hour's price times the hours. */
    public void add(SymptomRef ref, String what, BigDecimal hours, Pay pay) {
        var thread = tickets.get(ref.ticket()).symptom(ref.place());
        var problems = new LinkedHashMap<String, String>();
        if (what.isBlank() || what.length() > 300) {
            problems.put("what", "Say what was done, in up to 300 letters.");
        }
        if (hours.signum() <= 0 || hours.compareTo(BigDecimal.valueOf(200)) > 0) {
            problems.put("hours", "Enter the hours spent, above 0 and up to 200.");
        }
        if (pay instanceof Pay.Free free
                && (free.because().isBlank() || free.because().length() > 400)) {
            problems.put("free", "Say why it is not charged, in up to 400 letters.");
        }
        Refused.ifAny(problems);
        if (!thread.has(ThreadStamp.TRACED) || thread.ended()) {
            throw Refused.because(ThreadStamp.MENDED.whyNot());
        }
        Long charge = charge(ref, what, hours, pay);
        jdbc.sql("""
                insert into labour (ticket_number, place, what, hours, charge_id, free_because, at, who)
                values (:ticket, :place, :what, :hours, :charge, :free, :at, :who)""")
                .param("ticket", ref.ticket().value())
                .param("place", ref.place())
                .param("what", what)
                .param("hours", hours)
                .param("charge", charge)
                .param("free", pay instanceof Pay.Free free ? free.because() : null)
                .param("at", Timestamp.from(clock.instant()))
                .param("who", people.me().name())
                .update();
        journal.note(
                "work done",
                ref.ticket().value(),
                "%s, %s h.".formatted(what, hours.stripTrailingZeros().toPlainString()),
                Map.of("place", ref.place(), "hours", hours.toPlainString(), "charged", charge != null));
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

    @Transactional(readOnly = true)
    public List<LabourView> of(TicketNumber number) {
        return jdbc.sql("select * from labour where ticket_number = ? order by id")
                .param(number.value())
                .query((r, n) -> new LabourView(
                        r.getLong("id"),
                        r.getInt("place"),
                        r.getString("what"),
                        r.getBigDecimal("hours"),
                        r.getString("free_because"),
                        r.getTimestamp("at").toInstant(),
                        r.getString("who")))
                .list();
    }

    @Transactional(readOnly = true)
    public List<CorrectionView> corrections(TicketNumber number) {
        return jdbc.sql("select * from correction where ticket_number = ? order by id")
                .param(number.value())
                .query((r, n) -> new CorrectionView(
                        r.getInt("place"),
                        r.getString("words"),
                        r.getTimestamp("at").toInstant(),
                        r.getString("who")))
                .list();
    }

    private @Nullable Long charge(SymptomRef ref, String what, BigDecimal hours, Pay pay) {
        try {
            if (pay instanceof Pay.ByEstimate by) {
                return charges.addFromEstimate(ref.ticket(), by.estimateLineId(), null, null);
            }
            if (pay instanceof Pay.ByHand by) {
                var line = new Line(ref.place(), LineKind.LABOUR, what, hours, by.each(), null);
                return charges.add(ref.ticket(), line, null);
            }
            // A line of nothing: the customer sees what was given, and a visit without any price still gets its paper.
            String shown = (what.length() > 280 ? what.substring(0, 280) : what) + ", not charged";
            var line = new Line(ref.place(), LineKind.LABOUR, shown, hours, Money.zero(rates.currency()), null);
            charges.add(ref.ticket(), line, null);
            return null;
        } catch (Refused no) {
            throw Refused.at("charge", String.join(" ", no.problems().values()));
        }
    }
}
