package idlewright.bench.rules;

/** What a reading is worth against its limit. */
public enum Verdict {
    WITHIN("within"),
    OUTSIDE("outside"),
    TOO_CLOSE("too close to call"),
    NOT_JUDGED("not judged");

    private final String words;

    Verdict(String words) {
        this.words = words;
    }

    /** The words every screen and paper uses. */
    public String words() {
        return words;
    }
}
