package idlewright.bench.rules;

/** How an outcome bears on a cause: how many times likelier it is with the cause than without it (judgement). */
public enum Speaks {
    /** Never quite zero: readings can be wrong, and a closed door could not be opened again. */
    RULES_OUT("rules out", 0.01),
    STRONGLY_AGAINST("speaks strongly against", 0.1),
    AGAINST("speaks against", 1.0 / 3),
    SLIGHTLY_AGAINST("speaks slightly against", 0.75),
    NOTHING("says nothing", 1),
    SLIGHTLY_FOR("speaks slightly for", 4.0 / 3),
    FOR("speaks for", 3),
    STRONGLY_FOR("speaks strongly for", 10);

    private final String words;
    private final double factor;

    Speaks(String words, double factor) {
        this.words = words;
        this.factor = factor;
    }

    public String words() {
        return words;
    }

    public double factor() {
        return factor;
    }

    /** The word for an effective factor; the bands meet halfway between the words on a logarithmic scale. */
    public static Speaks ofFactor(double factor) {
        if (factor < 0.03) return RULES_OUT;
        if (factor < 0.18) return STRONGLY_AGAINST;
        if (factor < 0.6) return AGAINST;
        if (factor < 0.98) return SLIGHTLY_AGAINST;
        if (factor <= 1 / 0.98) return NOTHING;
        if (factor <= 1 / 0.6) return SLIGHTLY_FOR;
        if (factor < 5.5) return FOR;
        return STRONGLY_FOR;
    }

    /** A word that hardly moves a cause by itself: that the usual was seen, mostly. */
    public boolean isSlight() {
        return this == SLIGHTLY_AGAINST || this == SLIGHTLY_FOR;
    }

    public boolean isFor() {
        return factor > 1;
    }

    public boolean isAgainst() {
        return factor < 1;
    }
}
