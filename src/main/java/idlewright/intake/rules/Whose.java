package idlewright.intake.rules;

/** Whose turn it is. */
public enum Whose {
    COUNTER("Counter"),
    CUSTOMER("Customer"),
    BAY("Bay"),
    OWNER("Owner"),
    NOBODY("Nobody");

    private final String words;

    Whose(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
