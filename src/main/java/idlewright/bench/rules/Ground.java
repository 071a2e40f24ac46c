package idlewright.bench.rules;

/** Why a limit is believed, strongest first. */
public enum Ground {
    PUBLISHED("published"),
    KNOWN_GOOD("known good"),
    PHYSICS("physics"),
    COMMON_PRACTICE("common practice");

    private final String words;

    Ground(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
