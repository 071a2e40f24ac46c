package idlewright.reference.verdict;

/** Why a limit is believed. */
public enum Ground {
    /** Printed for this vehicle; always with a citation. */
    PUBLISHED("published"),
    /** The shop's own proven-good readings. */
    KNOWN_GOOD("known good"),
    /** Calculated. */
    PHYSICS("physics"),
    /** Usual in the trade, no source. */
    COMMON_PRACTICE("common practice");

    private final String words;

    Ground(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
