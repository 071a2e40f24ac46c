package idlewright.billing;

import idlewright.billing.rules.Cover;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.billing.rules.Total;
import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Tuple;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.TicketStamp;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.reference.money.Money;
import java.math.BigDecimal;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Currency;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** What was done and fitted, and what it costs; never above what the customer agreed to. */
@Component
@Transactional
public class Charges {

    /** One charge. */
    public record ChargeView(
            long id,
            Line line,
            @Nullable Money cost,
            @Nullable Long estimateLineId,
            Instant at,
            String who,
            @Nullable String struckBecause) {

        public boolean counts() {
            return struckBecause == null;
        }
    }

    static final String OF_TICKET = """
            select c.*, s.reason struck from charge c left join charge_strike s on s.charge_id = c.id
            where c.ticket_number = :ticket order by c.place, c.id""";

    private final Tickets tickets;
    private final MoneyReads reads;
    private final Rates rates;
    private final Authorisations authorisations;
    private final Estimates estimates;
    private final Consents consents;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    Charges(
            Tickets tickets,
            MoneyReads reads,
            Rates rates,
            Authorisations authorisations,
            Estimates estimates,
            Consents consents,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock) {
        this.tickets = tickets;
        this.reads = reads;
        this.rates = rates;
        this.authorisations = authorisations;
        this.estimates = estimates;
        this.consents = consents;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Adds a charge; refused when the charges, with tax, would exceed what is agreed. */
    public long add(TicketNumber number, Line line, @Nullable Money cost) {
        return keep(number, line, cost, null);
    }

    /** Charges the diagnosis that was agreed to: so much before tax that the customer owes the agreed amount, never more. */
    public void addDiagnosis(TicketNumber number, Money agreed) {
        if (!agreed.isPositive()) {
            return;
        }
        rates.keepPrices(number);
        keep(number, Total.lineUpTo(agreed, LineKind.DIAGNOSIS, "Finding the cause", rates.taxes(number)), null, null);
    }

    /** Charges a line of the latest estimate as it was agreed; a part may name the number that was really fitted. */
    public long addFromEstimate(
            TicketNumber number, long estimateLineId, @Nullable String partNumber, @Nullable Money cost) {
        var written = estimates.latest(number).stream()
                .flatMap(estimate -> estimate.lines().stream())
                .filter(line -> line.id() == estimateLineId)
                .findFirst()
                .orElseThrow(() -> Refused.because("That line is not on the ticket's latest estimate."));
        if (written.charged()) {
            throw Refused.because(
                    "“%s” is charged already.".formatted(written.line().what()));
        }
        Line line = written.line();
        return keep(
                number,
                new Line(
                        line.place(),
                        line.kind(),
                        line.what(),
                        line.quantity(),
                        line.each(),
                        partNumber == null ? line.partNumber() : partNumber),
                cost,
                estimateLineId);
    }

    private long keep(TicketNumber number, Line line, @Nullable Money cost, @Nullable Long estimateLineId) {
        TicketView ticket = tickets.get(number);
        if (ticket.has(TicketStamp.BILLED)) {
            throw Refused.because("The invoice of ticket %s is issued; nothing is added to it.".formatted(number));
        }
        var estimate = estimates.latest(number);
        boolean nothing = estimateLineId == null && line.net().isZero();
        if (!nothing
                && (line.place() > 0 || estimateLineId != null)
                && estimate.filter(e -> e.declined(line.place())).isPresent()) {
            throw Refused.because(
                    "The customer declined this: “%s” is not charged. Get it agreed first.".formatted(line.what()));
        }
        line.wrong().ifPresent(why -> {
            throw Refused.because(why);
        });
        // Serialises the charges of one ticket, so that two terminals cannot pass the limit together.
        tickets.takeTurns(number);
        rates.keepPrices(number);
        var lines = new ArrayList<Line>(lines(number));
        lines.add(line);
        Total total = Total.of(lines, rates.taxes(number), rates.currency());
        if (total.belowZero()) {
            throw Refused.because(
                    "“%s” would take off more than is charged so far. Charge the work and the parts first."
                            .formatted(line.what()));
        }
        // What is still to be taken off was taken off when the customer agreed: it must not stop the part it is for.
        estimate.ifPresent(e -> e.open().stream()
                .filter(written -> written.line().kind().deduction() && !Objects.equals(written.id(), estimateLineId))
                .map(EstimateView.Written::line)
                .forEach(lines::add));
        var cover = cover(number, lines);
        if (!cover.covers()) {
            throw Refused.because(cover.whyNot());
        }
        long id = jdbc.sql("""
                insert into charge (ticket_number, place, kind, what, quantity, each, cost, part_number, estimate_line_id, at, who)
                values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) returning id""")
                .param(number.value())
                .param(line.place())
                .param(line.kind().name())
                .param(line.what())
                .param(line.quantity())
                .param(line.each().amount())
                .param(cost == null ? null : cost.amount())
                .param(line.partNumber())
                .param(estimateLineId)
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .query(Long.class)
                .single();
        journal.note(
                "charged",
                number.value(),
                "%s: %s, %s.".formatted(line.kind().words(), line.what(), line.net()),
                Map.of("charge", id, "net", line.net().text(), "place", line.place()));
        return id;
    }

    /** Whether what is charged, really and with tax, is covered by what is agreed. */
    @OnlyReads
    public Cover cover(TicketNumber number) {
        return cover(number, lines(number));
    }

    Cover cover(TicketNumber number, List<Line> lines) {
        return new Cover(
                authorisations.agreed(number),
                Total.of(lines, rates.taxes(number), rates.currency()).gross(),
                consents.tolerance());
    }

    /** Takes a wrong charge off again, before the invoice; it stays readable. */
    public void strike(long id, String reason) {
        if (reason.isBlank()) {
            throw Refused.at("reason", "Say why it is taken off.");
        }
        TicketNumber number = new TicketNumber(jdbc.sql("select ticket_number from charge where id = ?")
                .param(id)
                .query(Integer.class)
                .optional()
                .orElseThrow(() -> NotFound.of("charge")));
        if (tickets.get(number).has(TicketStamp.BILLED)) {
            throw Refused.because("The invoice is issued. A credit note corrects it.");
        }
        var left = of(number).stream()
                .filter(charge -> charge.counts() && charge.id() != id)
                .map(ChargeView::line)
                .toList();
        if (Total.of(left, rates.taxes(number), rates.currency()).belowZero()) {
            throw Refused.at("reason", "Then more would be taken off than is charged. Take the discount off first.");
        }
        jdbc.sql("insert into charge_strike (charge_id, reason, at, who) values (?, ?, ?, ?) on conflict do nothing")
                .params(id, reason, Timestamp.from(clock.instant()), people.me().name())
                .update();
        journal.note("charge struck", number.value(), "A charge was taken off.", Map.of("charge", id));
    }

    @OnlyReads
    public List<ChargeView> of(TicketNumber number) {
        return reads.of(number).charges();
    }

    static ChargeView view(Tuple r, Currency currency) {
        BigDecimal cost = r.getBigDecimal("cost");
        return new ChargeView(
                r.getLong("id"),
                new Line(
                        r.getInt("place"),
                        LineKind.valueOf(r.getString("kind")),
                        r.getString("what"),
                        r.getBigDecimal("quantity"),
                        Money.rounded(r.getBigDecimal("each"), currency),
                        r.getString("part_number")),
                cost == null ? null : Money.rounded(cost, currency),
                r.getLongOrNull("estimate_line_id"),
                r.getInstant("at"),
                r.getString("who"),
                r.getString("struck"));
    }

    /** Lines of the latest estimate that nobody charged yet; not those of a repair that was left before anything of it was charged. */
    @OnlyReads
    public List<EstimateView.Written> uncharged(TicketNumber number) {
        TicketView ticket = tickets.get(number);
        List<Integer> begun = lines(number).stream().map(Line::place).toList();
        return estimates.latest(number).stream()
                .flatMap(estimate -> estimate.open().stream())
                .filter(written -> written.line().place() == 0
                        || begun.contains(written.line().place())
                        || !ticket.symptom(written.line().place()).has(ThreadStamp.DECLINED))
                .toList();
    }

    /** What counts, as lines. */
    @OnlyReads
    public List<Line> lines(TicketNumber number) {
        return of(number).stream()
                .filter(ChargeView::counts)
                .map(ChargeView::line)
                .toList();
    }

    @OnlyReads
    public Total total(TicketNumber number) {
        return Total.of(lines(number), rates.taxes(number), rates.currency());
    }
}
