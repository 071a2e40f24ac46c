package idlewright.warranty;

import idlewright.billing.Charges;
import idlewright.billing.rules.LineKind;
import idlewright.frame.Times;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.TicketStamp;
import idlewright.warranty.rules.Coverage;
import idlewright.warranty.rules.Promise;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
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

    private final Tickets tickets;
    private final Charges charges;
    private final Terms terms;
    private final Times times;

    Coverages(Tickets tickets, Charges charges, Terms terms, Times times) {
        this.tickets = tickets;
        this.charges = charges;
        this.terms = terms;
        this.times = times;
    }

    /** Parts and labour of the car's earlier visits as they stood when this visit was opened, the newest visit first. */
    public List<Covered> at(TicketNumber number) {
        TicketView now = tickets.get(number);
        LocalDate day = LocalDate.ofInstant(now.openedAt(), times.zone());
        var covered = new ArrayList<Covered>();
        for (Tickets.Visit visit : tickets.visits(now.vehicle().id())) {
            if (visit.openedAt().isBefore(now.openedAt()) && !visit.number().equals(number)) {
                earlier(tickets.get(visit.number()), now, day, covered);
            }
        }
        return covered;
    }

    private void earlier(TicketView before, TicketView now, LocalDate day, List<Covered> covered) {
        var back = before.latest(TicketStamp.HANDED_BACK).orElse(null);
        if (back == null || back.at().isAfter(now.openedAt())) {
            return;
        }
        Terms.Card held = terms.heldAt(back.at());
        LocalDate begun = LocalDate.ofInstant(back.at(), times.zone());
        for (Charges.ChargeView charge : charges.of(before.number())) {
            LineKind kind = charge.line().kind();
            if (!charge.counts() || (kind != LineKind.PART && kind != LineKind.LABOUR && kind != LineKind.SUBLET)) {
                continue;
            }
            Promise promise = kind == LineKind.PART ? held.parts() : held.labour();
            covered.add(new Covered(
                    before.number(),
                    back.at(),
                    kind,
                    charge.line().what(),
                    charge.line().partNumber(),
                    promise,
                    Coverage.of(promise, begun, odometer(before), day, odometer(now, true))));
        }
    }

    private static Coverage.@Nullable Odometer odometer(TicketView ticket) {
        return ticket.distanceOut() == null ? odometer(ticket, true) : odometer(ticket, false);
    }

    private static Coverage.@Nullable Odometer odometer(TicketView ticket, boolean in) {
        var read = in ? ticket.distanceIn() : ticket.distanceOut();
        return read == null ? null : new Coverage.Odometer(read.value(), read.unit());
    }
}
