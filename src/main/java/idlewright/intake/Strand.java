package idlewright.intake;

import java.util.List;

/**
 * What one room tells about a ticket's threads. Every later room brings one of these, so that the ticket page, the invoice
 * and the dossier tell the same story without the counter's room ever looking ahead.
 */
public interface Strand {

    List<Knot> knots(TicketNumber ticket);
}
