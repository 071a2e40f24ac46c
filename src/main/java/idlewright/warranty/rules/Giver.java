package idlewright.warranty.rules;

/** Who promises something on a part besides the shop. */
public enum Giver {
    SUPPLIER("supplier"),
    MAKER("maker");

    private final String words;

    Giver(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
