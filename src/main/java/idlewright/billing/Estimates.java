package idlewright.billing;

import idlewright.billing.model.Estimate;
import idlewright.billing.model.EstimateRows;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.billing.rules.Total;
import idlewright.frame.NotFound;
import idlewright.frame.Refused;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.TicketStamp;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.reference.money.Money;
import java.time.Clock;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The front door for estimates. */
@Component
@Transactional
public class Estimates {

    private final EstimateRows rows;
    private final Tickets tickets;
    private final Rates rates;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    Estimates(
            EstimateRows rows,
            Tickets tickets,
            Rates rates,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock) {
        this.rows = rows;
        this.tickets = tickets;
        this.rates = rates;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Writes an estimate; an earlier one of the ticket stays as it was. */
    public EstimateView write(TicketNumber number, List<Line> lines, @Nullable String note) {
        TicketView ticket = tickets.get(number);
        if (ticket.has(TicketStamp.BILLED)) {
            throw Refused.because("The invoice of ticket %s is issued.".formatted(number));
        }
        if (lines.isEmpty()) {
            throw Refused.because("Write at least one line.");
        }
        for (Line line : lines) {
            if (line.place() > 0) {
                ticket.symptom(line.place());
            }
            line.wrong().ifPresent(why -> {
                throw Refused.because(why);
            });
        }
        if (Total.of(lines, rates.taxes(number), rates.currency()).belowZero()) {
            throw Refused.because("More is taken off than there is. An estimate comes to 0 at least.");
        }
        int issue = jdbc.sql("select coalesce(max(issue), 0) + 1 from estimate where ticket_number = ?")
                .param(number.value())
                .query(Integer.class)
                .single();
        Estimate written = rows.saveAndFlush(
                new Estimate(number.value(), issue, clock.instant(), people.me().name(), note, lines));
        EstimateView view = get(written.id());
        journal.note(
                "estimate written",
                number.value(),
                "Estimate %d of ticket %s over %s."
                        .formatted(issue, number, view.total().gross()),
                Map.of("estimate", written.id(), "total", view.total().gross().text()));
        return view;
    }

    /** Puts it to the customer: now it is the customer's move. */
    public EstimateView offer(long id, String how) {
        Estimate estimate = rows.findById(id).orElseThrow(() -> NotFound.of("estimate"));
        if (!get(id).latest()) {
            throw Refused.because("A newer estimate was written since. Offer that one.");
        }
        if (!estimate.offered()) {
            estimate.offer(clock.instant(), people.me().name(), how);
            rows.saveAndFlush(estimate);
            tickets.stamp(
                    new TicketNumber(estimate.ticketNumber()),
                    TicketStamp.OFFERED,
                    "estimate of %s, %s".formatted(get(id).total().gross().text(), how));
        }
        return get(id);
    }

    @Transactional(readOnly = true)
    public EstimateView get(long id) {
        return read("e.id = ?", id).stream().findFirst().orElseThrow(() -> NotFound.of("estimate"));
    }

    @Transactional(readOnly = true)
    public List<EstimateView> of(TicketNumber number) {
        return read("e.ticket_number = ?", number.value());
    }

    @Transactional(readOnly = true)
    public Optional<EstimateView> latest(TicketNumber number) {
        return of(number).stream().filter(EstimateView::latest).findFirst();
    }

    private List<EstimateView> read(String where, Object key) {
        record Head(
                long id,
                int ticket,
                int issue,
                java.time.Instant madeAt,
                String madeBy,
                java.time.@Nullable Instant offeredAt,
                @Nullable String how,
                @Nullable String note,
                boolean latest) {}
        var heads = jdbc.sql("""
                select e.*, e.issue = (select max(x.issue) from estimate x where x.ticket_number = e.ticket_number) latest
                from estimate e where %s order by e.issue desc""".formatted(where))
                .param(key)
                .query((r, n) -> new Head(
                        r.getLong("id"),
                        r.getInt("ticket_number"),
                        r.getInt("issue"),
                        r.getTimestamp("made_at").toInstant(),
                        r.getString("made_by"),
                        r.getTimestamp("offered_at") == null
                                ? null
                                : r.getTimestamp("offered_at").toInstant(),
                        r.getString("offered_how"),
                        r.getString("note"),
                        r.getBoolean("latest")))
                .list();
        if (heads.isEmpty()) {
            return List.of();
        }
        var taxes = heads.isEmpty()
                ? rates.taxes()
                : rates.taxes(new TicketNumber(heads.get(0).ticket()));
        var currency = rates.currency();
        var lines = new java.util.HashMap<Long, List<EstimateView.Written>>();
        jdbc.sql("""
                select l.*, exists (select from charge c where c.estimate_line_id = l.id
                    and not exists (select from charge_strike s where s.charge_id = c.id)) charged
                from estimate_line l join estimate e on e.id = l.estimate_id where %s order by l.estimate_id, l.nr""".formatted(where)).param(key).query((java.sql.ResultSet r) -> {
            lines.computeIfAbsent(r.getLong("estimate_id"), e -> new java.util.ArrayList<>())
                    .add(new EstimateView.Written(
                            r.getLong("id"),
                            new Line(
                                    r.getInt("place"),
                                    LineKind.valueOf(r.getString("kind")),
                                    r.getString("what"),
                                    r.getBigDecimal("quantity"),
                                    Money.rounded(r.getBigDecimal("each"), currency),
                                    r.getString("part_number")),
                            r.getBoolean("charged")));
        });
        return heads.stream()
                .map(head -> {
                    var written = lines.getOrDefault(head.id(), List.of());
                    return new EstimateView(
                            head.id(),
                            new TicketNumber(head.ticket()),
                            head.issue(),
                            head.madeAt(),
                            head.madeBy(),
                            head.offeredAt(),
                            head.how(),
                            head.note(),
                            List.copyOf(written),
                            Total.of(
                                    written.stream()
                                            .map(EstimateView.Written::line)
                                            .toList(),
                                    taxes,
                                    currency),
                            head.latest());
                })
                .toList();
    }
}
