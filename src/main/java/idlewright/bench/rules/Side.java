package idlewright.bench.rules;

/** On which side of its band a reading lies. */
public enum Side {
    NONE(""),
    LOW("low"),
    HIGH("high");

    private final String words;

    Side(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
