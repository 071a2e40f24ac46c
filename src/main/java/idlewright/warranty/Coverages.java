package idlewright.warranty;

import idlewright.billing.rules.LineKind;
import idlewright.frame.Times;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.warranty.rules.Coverage;
import idlewright.warranty.rules.Promise;
import java.sql.Timestamp;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** What earlier visits of a car still cover when it comes again. */
@Component
@Transactional(readOnly = true)
public class Coverages {

    /** One thing that was fitted or done at an earlier visit, and whether it is covered at this one. */
    public record Covered(
            TicketNumber ticket,
            Instant handedBack,
            LineKind kind,
            String what,
            @Nullable String partNumber,
            Promise promise,
            Coverage coverage) {

        public String words() {
            return partNumber == null ? what : what + ", " + partNumber;
        }
    }

    private record Row(
            TicketNumber ticket,
            Instant handedBack,
            LineKind kind,
            String what,
            @Nullable String partNumber,
            Coverage.@Nullable Odometer odometer) {}

    private final Tickets tickets;
    private final Terms terms;
    private final Times times;
    private final JdbcClient jdbc;

    Coverages(Tickets tickets, Terms terms, Times times, JdbcClient jdbc) {
        this.tickets = tickets;
        this.terms = terms;
        this.times = times;
        this.jdbc = jdbc;
    }

    /** Parts and labour of the car's earlier visits as they stood when this visit was opened, the newest visit first. */
    public List<Covered> at(TicketNumber number) {
        TicketView now = tickets.get(number);
        List<Row> rows = earlier(now);
        if (rows.isEmpty()) {
            return List.of();
        }
        LocalDate day = LocalDate.ofInstant(now.openedAt(), times.zone());
        var read = now.distanceIn();
        Coverage.Odometer odometer = read == null ? null : new Coverage.Odometer(read.value(), read.unit());
        List<Terms.Card> history = terms.history();
        return rows.stream()
                .map(row -> {
                    Terms.Card held = Terms.heldAt(history, row.handedBack());
                    Promise promise = row.kind() == LineKind.PART ? held.parts() : held.labour();
                    LocalDate begun = LocalDate.ofInstant(row.handedBack(), times.zone());
                    return new Covered(
                            row.ticket(),
                            row.handedBack(),
                            row.kind(),
                            row.what(),
                            row.partNumber(),
                            promise,
                            Coverage.of(promise, begun, row.odometer(), day, odometer));
                })
                .toList();
    }

    /** What was charged at earlier visits that had been handed back by then, with the odometer on leaving, else on coming. */
    private List<Row> earlier(TicketView now) {
        return jdbc.sql("""
                select t.number, back.at, c.kind, c.what, c.part_number, o.distance, o.unit
                from ticket t
                join lateral (select s.at from stamp s where s.ticket_number = t.number and s.kind = 'HANDED_BACK'
                    order by s.id desc limit 1) back on back.at <= :opened
                join charge c on c.ticket_number = t.number and c.kind in ('PART', 'LABOUR', 'SUBLET')
                    and not exists (select from charge_strike s where s.charge_id = c.id)
                left join lateral (select d.distance, d.unit from odometer d where d.vehicle_id = t.vehicle_id
                    and d.ticket_number = t.number and d.moment in ('IN', 'OUT')
                    order by d.moment desc, d.id desc limit 1) o on true
                where t.vehicle_id = :vehicle and t.opened_at < :opened and t.number <> :number
                order by t.opened_at desc, t.number desc, c.place, c.id""")
                .param("vehicle", now.vehicle().id())
                .param("opened", Timestamp.from(now.openedAt()))
                .param("number", now.number().value())
                .query((r, n) -> new Row(
                        new TicketNumber(r.getInt("number")),
                        r.getTimestamp("at").toInstant(),
                        LineKind.valueOf(r.getString("kind")),
                        r.getString("what"),
                        r.getString("part_number"),
                        r.getBigDecimal("distance") == null
                                ? null
                                : new Coverage.Odometer(r.getBigDecimal("distance"), r.getString("unit"))))
                .list();
    }
}
