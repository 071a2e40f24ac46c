package idlewright.bench.screens;

import idlewright.intake.TicketView;

/** What the terminal's bar says of the car on it. */
record Car(String ticket, String words) {

    static Car of(TicketView ticket) {
        String kind = ticket.symptoms().isEmpty()
                ? ""
                : ", " + ticket.symptoms().get(0).kindName().toLowerCase(java.util.Locale.ROOT);
        return new Car(ticket.number().toString(), ticket.vehicle().name() + kind);
    }
}
