package idlewright.intake;

/** The chapters of a thread's story, in the order in which an invoice tells them. */
public enum Chapter {
    COMPLAINT,
    TEST,
    CAUSE,
    AGREEMENT,
    CORRECTION,
    PROOF,
    AFTER
}
