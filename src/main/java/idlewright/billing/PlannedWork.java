package idlewright.billing;

import idlewright.intake.TicketNumber;
import java.util.Map;

/** What is to be done about each symptom, as the bay wrote it down with the cause. A later room knows it. */
public interface PlannedWork {

    /** By the symptom's place. */
    Map<Integer, String> of(TicketNumber number);
}
