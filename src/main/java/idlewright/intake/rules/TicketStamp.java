package idlewright.intake.rules;

/** The marks a whole ticket can carry. */
public enum TicketStamp {
    /** The visit began. */
    OPENED("opened"),
    /** An amount was put to the customer. */
    OFFERED("put to the customer"),
    /** The customer agreed to an amount. */
    AGREED("agreed"),
    /** The invoice was issued. */
    BILLED("invoiced"),
    /** Nothing is owed. */
    PAID("paid"),
    /** Something is owed once more: a payment went back. */
    OWED("owed again"),
    /** Car and keys are with the customer. */
    HANDED_BACK("handed back"),
    /** The customer was not reached; the stamp's day says when to ask again. */
    PUT_OFF("to be asked again");

    private final String words;

    TicketStamp(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
