package idlewright.warranty;

import idlewright.frame.ReadOnce;
import idlewright.frame.Together;
import idlewright.intake.TicketView;
import idlewright.intake.VehicleView;
import java.sql.Timestamp;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.springframework.stereotype.Component;

/** Reads all that the warranty knows of a ticket and of the earlier visits of its car, in one statement. */
@Component
class WarrantyReads {

    /** The newest visit and the newest terms first; dossiers and claims the oldest first. */
    record Sheet(
            List<Coverages.Row> lines,
            List<Coverages.Fitted> parts,
            List<Terms.Card> terms,
            Optional<EmissionTerms.Began> began,
            List<DossierView> dossiers,
            List<ClaimView> claims) {}

    private record SheetOf(long vehicle, int ticket) {}

    private final Together together;
    private final ReadOnce once;

    WarrantyReads(Together together, ReadOnce once) {
        this.together = together;
        this.once = once;
    }

    /** As things stood when the ticket was opened. */
    Sheet of(TicketView ticket) {
        return of(ticket.vehicle(), ticket.number().value(), ticket.openedAt());
    }

    /** As things stand at a moment for a car that has no ticket open. */
    Sheet of(VehicleView vehicle, Instant moment) {
        return of(vehicle, 0, moment);
    }

    private Sheet of(VehicleView vehicle, int ticket, Instant moment) {
        return once.of(new SheetOf(vehicle.id(), ticket), () -> read(vehicle, ticket, moment));
    }

    private Sheet read(VehicleView vehicle, int ticket, Instant moment) {
        var told = together.read(
                Map.of("vehicle", vehicle.id(), "ticket", ticket, "moment", Timestamp.from(moment)),
                Coverages.LINES,
                Coverages.PARTS,
                Terms.HISTORY,
                EmissionTerms.OF_VEHICLE,
                Dossiers.OF_TICKET,
                Claims.OF_TICKET);
        return new Sheet(
                told.get(0).stream().map(Coverages::line).toList(),
                told.get(1).stream().map(Coverages::part).toList(),
                told.get(2).stream().map(Terms::card).toList(),
                told.get(3).stream().map(EmissionTerms::began).findFirst(),
                told.get(4).stream().map(Dossiers::view).toList(),
                told.get(5).stream().map(Claims::view).toList());
    }
}
