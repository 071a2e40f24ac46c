package idlewright.repair.rules;

/** Where the old part is. */
public enum Went {
    TO_CUSTOMER("back to the customer"),
    CORE("set aside to go back as core"),
    WARRANTY_HOLD("tagged and kept for a warranty claim"),
    KEPT("kept in the shop to be shown"),
    BACK_IN("put back into the vehicle"),
    SCRAP("scrap");

    private final String words;

    Went(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }

    /** Whether this is what the ticket promised: old parts given back, shown, or not wanted. */
    public boolean keeps(String oldParts) {
        return switch (oldParts) {
            case "GIVE_BACK" -> this == TO_CUSTOMER || this == KEPT || this == WARRANTY_HOLD;
            case "SHOW" -> this != SCRAP;
            default -> true;
        };
    }
}
