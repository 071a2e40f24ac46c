package idlewright.ground;

/** The ground does not hold: what is wrong and what a person can do about it, both in plain words. */
public final class CannotStart extends RuntimeException {

    private static final long serialVersionUID = 1L;

    private final String remedy;

    public CannotStart(String reason, String remedy) {
        super(reason);
        this.remedy = remedy;
    }

    CannotStart(String reason, String remedy, Throwable cause) {
        super(reason, cause);
        this.remedy = remedy;
    }

    public String remedy() {
        return remedy;
    }
}
