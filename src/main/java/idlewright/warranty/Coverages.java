package idlewright.warranty;

import idlewright.billing.rules.LineKind;
import idlewright.frame.Times;
import idlewright.intake.StillPromised;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.intake.VehicleView;
import idlewright.warranty.PartTerms.Given;
import idlewright.warranty.rules.Coverage;
import idlewright.warranty.rules.Coverage.Odometer;
import idlewright.warranty.rules.Promise;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** What earlier visits of a car still cover when it comes again, and by whom. */
@Component
@Transactional(readOnly = true)
public class Coverages implements StillPromised {

    /**
     * One thing that was fitted or done at an earlier visit, and whether it is covered at this one.
     *
     * @param by who promised it
     */
    public record Covered(
            TicketNumber ticket,
            Instant handedBack,
            LineKind kind,
            String what,
            @Nullable String partNumber,
            String by,
            Promise promise,
            Coverage coverage) {

        public String words() {
            return partNumber == null ? what : what + ", " + partNumber;
        }
    }

    private record Visit(
            TicketNumber ticket,
            Instant handedBack,
            Instant printed,
            @Nullable Odometer odometer) {}

    private record Row(
            Visit visit,
            LineKind kind,
            String what,
            @Nullable String partNumber) {}

    private static final String VISIT = """
            join lateral (select s.at from stamp s where s.ticket_number = t.number and s.kind = 'HANDED_BACK'
                order by s.id desc limit 1) back on back.at <= :moment
            left join lateral (select s.at from stamp s where s.ticket_number = t.number and s.kind = 'BILLED'
                order by s.id desc limit 1) billed on true
            left join lateral (select d.distance, d.unit from odometer d where d.vehicle_id = t.vehicle_id
                and d.ticket_number = t.number and d.moment in ('IN', 'OUT')
                order by d.moment desc, d.id desc limit 1) o on true
            """;
    private static final String EARLIER =
            " where t.vehicle_id = :vehicle and t.opened_at < :moment and t.number <> :number ";

    private final Tickets tickets;
    private final Terms terms;
    private final EmissionTerms emissions;
    private final Times times;
    private final JdbcClient jdbc;
    private final Clock clock;

    Coverages(Tickets tickets, Terms terms, EmissionTerms emissions, Times times, JdbcClient jdbc, Clock clock) {
        this.clock = clock;
        this.tickets = tickets;
        this.terms = terms;
        this.emissions = emissions;
        this.times = times;
        this.jdbc = jdbc;
    }

    /** Parts and labour of the car's earlier visits as they stood when this visit was opened, the newest visit first. */
    public List<Covered> at(TicketNumber number) {
        TicketView now = tickets.get(number);
        var read = now.distanceIn();
        return judged(
                now.vehicle().id(),
                number.value(),
                now.openedAt(),
                read == null ? null : new Odometer(read.value(), read.unit()));
    }

    /** What emissions law still asks of the maker when this visit was opened. */
    public List<EmissionTerms.Quoted> emissionsAt(TicketNumber number) {
        TicketView now = tickets.get(number);
        var read = now.distanceIn();
        return emissions.quoted(
                now.vehicle(),
                day(now.openedAt()),
                Optional.ofNullable(read == null ? null : new Odometer(read.value(), read.unit())));
    }

    @Override
    public List<Promised> of(VehicleView vehicle, TicketView.@Nullable Distance last) {
        Odometer odometer = last == null ? null : new Odometer(last.value(), last.unit());
        var promised = new ArrayList<Promised>();
        judged(vehicle.id(), 0, clock.instant(), odometer)
                .forEach(one -> promised.add(new Promised(
                        one.ticket(),
                        one.kind().words() + ": " + one.words(),
                        one.by(),
                        one.coverage().covered(),
                        one.coverage().words())));
        emissions
                .quoted(vehicle, times.today(), Optional.ofNullable(odometer))
                .forEach(quoted -> promised.add(new Promised(
                        null,
                        quoted.term().what(),
                        "the vehicle’s maker, by emissions law ("
                                + quoted.term().source() + ")",
                        quoted.coverage().covered(),
                        quoted.coverage().words())));
        promised.sort(Comparator.comparing((Promised one) -> !one.covered()));
        return promised;
    }

    private List<Covered> judged(long vehicle, int number, Instant moment, @Nullable Odometer odometer) {
        LocalDate day = day(moment);
        var covered = new ArrayList<Covered>();
        List<Row> rows = lines(vehicle, number, moment);
        if (!rows.isEmpty()) {
            List<Terms.Card> history = terms.history();
            for (Row row : rows) {
                Terms.Card held = Terms.heldAt(history, row.visit().printed());
                Promise promise = row.kind() == LineKind.PART ? held.parts() : held.labour();
                covered.add(covered(row, "the shop", promise, day, odometer));
            }
        }
        // Every part that was fitted for good stands among the charges, if only at nothing.
        List<Fitted> given = rows.isEmpty() ? List.of() : given(vehicle, number, moment);
        given.forEach(part -> covered.add(covered(
                new Row(part.visit(), LineKind.PART, part.given().part(), null),
                part.given().by() + (part.given().labour() ? ", work included" : ""),
                part.given().promise(),
                day,
                odometer)));
        covered.sort(Comparator.comparing((Covered one) -> one.ticket().value()).reversed());
        return covered;
    }

    private Covered covered(Row row, String by, Promise promise, LocalDate day, @Nullable Odometer odometer) {
        return new Covered(
                row.visit().ticket(),
                row.visit().handedBack(),
                row.kind(),
                row.what(),
                row.partNumber(),
                by,
                promise,
                Coverage.of(promise, day(row.visit().handedBack()), row.visit().odometer(), day, odometer));
    }

    /** What was charged at earlier visits that had been handed back by then, with the odometer on leaving, else on coming. */
    private List<Row> lines(long vehicle, int number, Instant moment) {
        return jdbc.sql("select t.number, back.at back_at, billed.at billed_at, o.distance, o.unit,"
                        + " c.kind, c.what, c.part_number from ticket t " + VISIT + """
                        join charge c on c.ticket_number = t.number and c.kind in ('PART', 'LABOUR', 'SUBLET')
                            and not exists (select from charge_strike s where s.charge_id = c.id)
                        """ + EARLIER
                        + "order by t.opened_at desc, t.number desc, c.place, c.id")
                .param("vehicle", vehicle)
                .param("moment", Timestamp.from(moment))
                .param("number", number)
                .query((r, n) -> new Row(
                        visit(r),
                        LineKind.valueOf(r.getString("kind")),
                        r.getString("what"),
                        r.getString("part_number")))
                .list();
    }

    private record Fitted(Visit visit, Given given) {}

    private List<Fitted> given(long vehicle, int number, Instant moment) {
        return jdbc.sql("select t.number, back.at back_at, billed.at billed_at, o.distance o_distance, o.unit o_unit,"
                        + " p.*, s.what, s.fitted_number, s.fitted_supplier, s.fitted_maker from ticket t " + VISIT
                        + """
                        join swap s on s.ticket_number = t.number
                            and exists (select from swap_step e where e.swap_id = s.id and e.kind = 'FINAL')
                        join part_terms p on p.swap_id = s.id
                            and not exists (select from part_terms l where l.swap_id = p.swap_id and l.giver = p.giver and l.id > p.id)
                        """ + EARLIER + "order by t.opened_at desc, t.number desc, s.id, p.giver")
                .param("vehicle", vehicle)
                .param("moment", Timestamp.from(moment))
                .param("number", number)
                .query((r, n) -> new Fitted(
                        new Visit(
                                new TicketNumber(r.getInt("number")),
                                r.getTimestamp("back_at").toInstant(),
                                r.getTimestamp("back_at").toInstant(),
                                r.getBigDecimal("o_distance") == null
                                        ? null
                                        : new Odometer(r.getBigDecimal("o_distance"), r.getString("o_unit"))),
                        PartTerms.given(r, n)))
                .list();
    }

    /** The terms that count are those printed on the invoice; without one, those of the day the car went back. */
    private static Visit visit(ResultSet r) throws SQLException {
        Instant back = r.getTimestamp("back_at").toInstant();
        Timestamp billed = r.getTimestamp("billed_at");
        return new Visit(
                new TicketNumber(r.getInt("number")),
                back,
                billed == null ? back : billed.toInstant(),
                r.getBigDecimal("distance") == null
                        ? null
                        : new Odometer(r.getBigDecimal("distance"), r.getString("unit")));
    }

    private LocalDate day(Instant moment) {
        return LocalDate.ofInstant(moment, times.zone());
    }
}
