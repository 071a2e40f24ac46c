package idlewright.billing.rules;

/** What the price of a line holds. */
public enum Prices {
    /** Tax is added below the lines. */
    BEFORE_TAX("before tax"),
    /** The lines hold the tax already; below them it is told how much. */
    WITH_TAX("with tax");

    private final String words;

    Prices(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
