package idlewright.billing;

import idlewright.intake.TicketNumber;
import java.util.List;

/** What the shop promises on a visit's work, as it is printed on the invoice. A later room knows the terms. */
public interface PrintedTerms {

    /** Sentences as they hold now; they are frozen with the invoice. */
    List<String> of(TicketNumber number);
}
