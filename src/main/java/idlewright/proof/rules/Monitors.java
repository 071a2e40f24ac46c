package idlewright.proof.rules;

/** The vehicle's own self-tests after the repair. */
public enum Monitors {
    READY("all ready"),
    SOME_NOT_READY("some not ready yet"),
    NOT_READ("not read");

    private final String words;

    Monitors(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
