package idlewright.billing.rules;

/** How the customer said it. */
public enum Channel {
    IN_PERSON("in person"),
    PHONE("by phone"),
    EMAIL("by e-mail"),
    TEXT("by text message"),
    LINK("on the page we sent");

    private final String words;

    Channel(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
