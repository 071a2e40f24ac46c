package idlewright.billing;

import idlewright.intake.TicketNumber;
import java.util.List;

/** Parts whose number is not the one the customer agreed to. A later room knows what was fitted. */
public interface FittedOtherwise {

    /**
     * @param what the part, as the estimate calls it
     * @param agreed the number on the estimate
     * @param fitted the number on the part
     * @param url where the part and its checks are
     */
    record Part(int place, long estimate, String what, String agreed, String fitted, String url) {

        /** For the page of the estimate and the ticket. */
        public String words() {
            return "%s: %s was agreed, %s is fitted.".formatted(what, agreed, fitted);
        }
    }

    /** Those of the ticket's latest estimate; none once it names what is fitted. */
    List<Part> of(TicketNumber number);
}
