package idlewright.repair.screens;

import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.people.Me;
import idlewright.people.People;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** Which car the bay's bar names. */
record Car(int ticket, String words) {

    static Car of(TicketView ticket, int place) {
        return new Car(
                ticket.number().value(),
                ticket.vehicle().name() + ", "
                        + ticket.symptom(place).kindName().toLowerCase(Locale.ROOT));
    }

    /** Where this person goes on when something is done: to the car in the bay, or to the ticket. */
    static String back(People people, TicketNumber ticket) {
        return "redirect:" + people.badge().map(Me::of).map(me -> me.at(ticket)).orElse(ticket.url());
    }

    /** Why a symptom that came back is not charged; null where it is none. */
    static @Nullable String comeback(TicketView ticket, int place) {
        return ticket.comebackOf() == null || ticket.symptom(place).returnsPlace() == null
                ? null
                : "comeback of ticket " + ticket.comebackOf();
    }
}
