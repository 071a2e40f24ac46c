package idlewright.warranty;

import idlewright.billing.rules.LineKind;
import idlewright.frame.OnlyReads;
import idlewright.frame.Times;
import idlewright.frame.Tuple;
import idlewright.intake.StillPromised;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.intake.VehicleView;
import idlewright.warranty.PartTerms.Given;
import idlewright.warranty.rules.Coverage;
import idlewright.warranty.rules.Coverage.Odometer;
import idlewright.warranty.rules.Promise;
import java.math.BigDecimal;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** What earlier visits of a car still cover when it comes again, and by whom. */
@Component
@OnlyReads
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

    /** An earlier visit; its terms are those printed on its invoice. */
    record Visit(
            TicketNumber ticket,
            Instant handedBack,
            Instant printed,
            @Nullable Odometer odometer) {}

    /** What was charged at an earlier visit. */
    record Row(
            Visit visit,
            LineKind kind,
            String what,
            @Nullable String partNumber) {}

    /** What somebody else promised of a part. */
    record Fitted(Visit visit, Given given) {}

    /** What is promised of earlier visits that had been handed back by then; read by {@link #line}. */
    static final String LINES = """
            select l.* from promised_line l
            where l.vehicle_id = :vehicle and l.opened_at < :moment and l.back_at <= :moment and l.number <> :ticket
            order by l.opened_at desc, l.number desc, l.place, l.charge_id""";

    /** What others promise of the parts of those visits; read by {@link #part}. */
    static final String PARTS = """
            select p.* from promised_part p
            where p.vehicle_id = :vehicle and p.opened_at < :moment and p.back_at <= :moment and p.number <> :ticket
            order by p.opened_at desc, p.number desc, p.swap_id, p.giver""";

    private final Tickets tickets;
    private final WarrantyReads reads;
    private final Times times;
    private final Clock clock;

    Coverages(Tickets tickets, WarrantyReads reads, Times times, Clock clock) {
        this.clock = clock;
        this.tickets = tickets;
        this.reads = reads;
        this.times = times;
    }

    /** Parts and labour of the car's earlier visits as they stood when this visit was opened, the newest visit first. */
    public List<Covered> at(TicketNumber number) {
        TicketView now = tickets.get(number);
        var read = now.distanceIn();
        return judged(reads.of(now), now.openedAt(), read == null ? null : new Odometer(read.value(), read.unit()));
    }

    /** What emissions law still asks of the maker when this visit was opened. */
    public List<EmissionTerms.Quoted> emissionsAt(TicketNumber number) {
        TicketView now = tickets.get(number);
        var read = now.distanceIn();
        return EmissionTerms.quoted(
                reads.of(now).began(),
                now.vehicle(),
                day(now.openedAt()),
                Optional.ofNullable(read == null ? null : new Odometer(read.value(), read.unit())));
    }

    @Override
    public List<Promised> of(VehicleView vehicle, TicketView.@Nullable Distance last) {
        Odometer odometer = last == null ? null : new Odometer(last.value(), last.unit());
        var promised = new ArrayList<Promised>();
        Instant now = clock.instant();
        WarrantyReads.Sheet sheet = reads.of(vehicle, now);
        judged(sheet, now, odometer)
                .forEach(one -> promised.add(new Promised(
                        one.ticket(),
                        one.kind().words() + ": " + one.words(),
                        one.by(),
                        one.coverage().covered(),
                        one.coverage().words())));
        EmissionTerms.quoted(sheet.began(), vehicle, times.today(), Optional.ofNullable(odometer))
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

    private List<Covered> judged(WarrantyReads.Sheet sheet, Instant moment, @Nullable Odometer odometer) {
        LocalDate day = day(moment);
        var covered = new ArrayList<Covered>();
        for (Row row : sheet.lines()) {
            Terms.Card held = Terms.heldAt(sheet.terms(), row.visit().printed());
            Promise promise = row.kind() == LineKind.PART ? held.parts() : held.labour();
            covered.add(covered(row, "the shop", promise, day, odometer));
        }
        sheet.parts()
                .forEach(part -> covered.add(covered(
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

    /** The terms that count are those printed on the invoice; without one, those of the day the car went back. */
    static Row line(Tuple r) {
        Instant billed = r.getInstant("billed_at");
        Instant back = r.getInstant("back_at");
        return new Row(
                visit(r, billed == null ? back : billed, "distance", "unit"),
                LineKind.valueOf(r.getString("kind")),
                r.getString("what"),
                r.getString("part_number"));
    }

    static Fitted part(Tuple r) {
        return new Fitted(visit(r, r.getInstant("back_at"), "left_distance", "left_unit"), PartTerms.given(r));
    }

    private static Visit visit(Tuple r, Instant printed, String distance, String unit) {
        BigDecimal read = r.getBigDecimal(distance);
        return new Visit(
                new TicketNumber(r.getInt("number")),
                r.getInstant("back_at"),
                printed,
                read == null ? null : new Odometer(read, r.getString(unit)));
    }

    private LocalDate day(Instant moment) {
        return LocalDate.ofInstant(moment, times.zone());
    }
}
