package idlewright.bench.rules;

/** What a recorded series can show; none of these means smooth. */
public enum SeriesMark {
    FLAT_SPOT("flat spot"),
    SPIKE("spike"),
    DROPOUT("dropout"),
    STEP_BACK("step back"),
    SATURATED("saturated"),
    STUCK("stuck"),
    /** Too few points, or no ramp at all: neither smooth nor faulty. */
    NOT_JUDGED("not judged");

    private final String words;

    SeriesMark(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
