package idlewright.billing.rules;

/** What a line is for; tax and warranty go by it. */
public enum LineKind {
    DIAGNOSIS("Diagnosis"),
    LABOUR("Labour"),
    PART("Part"),
    FEE("Fee"),
    SUBLET("Sublet work");

    private final String words;

    LineKind(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }

    public boolean work() {
        return this == DIAGNOSIS || this == LABOUR || this == SUBLET;
    }
}
