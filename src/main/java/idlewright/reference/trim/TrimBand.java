package idlewright.reference.trim;

/** Where trims are read, from least to most air. */
public enum TrimBand {
    IDLE("idle"),
    RPM_2500("2,500 rpm"),
    CRUISE("cruise"),
    LOAD("load");

    private final String words;

    TrimBand(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
