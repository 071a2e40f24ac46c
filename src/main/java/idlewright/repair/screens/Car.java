package idlewright.repair.screens;

import idlewright.intake.TicketView;
import org.jspecify.annotations.Nullable;

/** Which car the bay's bar names. */
record Car(int ticket, String words) {

    /** Why a symptom that came back is not charged; null where it is none. */
    static @Nullable String comeback(TicketView ticket, int place) {
        return ticket.comebackOf() == null || ticket.symptom(place).returnsPlace() == null
                ? null
                : "comeback of ticket " + ticket.comebackOf();
    }
}
