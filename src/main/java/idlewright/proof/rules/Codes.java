package idlewright.proof.rules;

/** What became of the trouble codes. */
public enum Codes {
    NONE_STORED("none were stored"),
    RECORDED_CLEARED("recorded, then cleared"),
    RECORDED_LEFT("recorded, left stored"),
    NOT_RECORDED("there were some, not recorded");

    private final String words;

    Codes(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
