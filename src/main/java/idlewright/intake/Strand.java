package idlewright.intake;

import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;

/**
 * What one room tells about a ticket's threads. Every later room brings one of these, so that the ticket page, the invoice
 * and the dossier tell the same story without the counter's room ever looking ahead.
 */
public interface Strand {

    List<Knot> knots(TicketNumber ticket);

    /** The chapters it has something to tell in: who needs only some of them asks no other room. */
    default Set<Chapter> chapters() {
        return EnumSet.allOf(Chapter.class);
    }

    /** What the strands that have something to tell in these chapters tell, in the order of the rooms. */
    static Stream<Knot> told(Stream<Strand> strands, TicketNumber ticket, Set<Chapter> chapters) {
        return strands.filter(strand -> strand.chapters().stream().anyMatch(chapters::contains))
                .flatMap(strand -> strand.knots(ticket).stream());
    }
}
