package idlewright.bench.rules;

/** Whether the vehicle stood or was driven. */
public enum Motion {
    PARKED("parked"),
    DRIVEN("driven");

    private final String words;

    Motion(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
