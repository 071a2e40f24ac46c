package idlewright.billing.rules;

/** What an agreement was about. */
public enum Agreement {
    DIAGNOSIS("the diagnosis"),
    REPAIR("the repair"),
    RISE("a rise");

    private final String words;

    Agreement(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
