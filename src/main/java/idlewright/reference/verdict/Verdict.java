package idlewright.reference.verdict;

/** What a reading was found to be against its limit. */
public enum Verdict {
    /** Inside the limit. */
    WITHIN("within"),
    /** Beyond the limit. */
    OUTSIDE("outside"),
    /** The limit lies inside the uncertainty of the reading, or the trade itself leaves a grey strip. */
    TOO_CLOSE("too close to call"),
    /** The rule does not hold for this reading; the words say why. */
    NOT_JUDGED("not judged");

    private final String words;

    Verdict(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
