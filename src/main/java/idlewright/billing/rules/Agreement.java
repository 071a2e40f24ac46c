package idlewright.billing.rules;

/** What an agreement was about. */
public enum Agreement {
    DIAGNOSIS("the diagnosis"),
    REPAIR("the repair"),
    RISE("a rise"),
    /** A lower sum: what was agreed for the repair before no longer counts. */
    INSTEAD("the repair, instead of what was agreed before");

    private final String words;

    Agreement(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
