package idlewright.proof.rules;

/** What the customer says some days later. */
public enum Outcome {
    STAYED_AWAY("stayed away"),
    BETTER("better, not gone"),
    RETURNED("came back"),
    NOT_REACHED("not reached");

    private final String words;

    Outcome(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
