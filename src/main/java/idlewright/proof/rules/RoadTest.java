package idlewright.proof.rules;

/** What the road test after the repair showed. */
public enum RoadTest {
    GONE("the symptom is gone"),
    BETTER("better, but there"),
    SAME("the same"),
    WORSE("worse"),
    NOT_DRIVEN("not driven");

    private final String words;

    RoadTest(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
