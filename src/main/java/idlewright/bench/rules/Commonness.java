package idlewright.bench.rules;

/** How often a cause is behind a symptom, as judgement of the trade (common practice, no source). */
public enum Commonness {
    COMMON("common", 16),
    FAIRLY_COMMON("fairly common", 8),
    OCCASIONAL("occasional", 4),
    RARE("rare", 1.5),
    VERY_RARE("very rare", 0.5),
    UNUSUAL("not usual for this symptom", 0.1);

    private final String words;
    private final double weight;

    Commonness(String words, double weight) {
        this.words = words;
        this.weight = weight;
    }

    public String words() {
        return words;
    }

    /** Relative weight before any test; only ratios matter. */
    public double weight() {
        return weight;
    }
}
