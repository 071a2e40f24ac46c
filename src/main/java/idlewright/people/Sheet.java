package idlewright.people;

/** The paper in the shop's printer. */
public enum Sheet {
    A4,
    LETTER;

    /** The word shown on screen. */
    public String word() {
        return this == A4 ? "A4 (210 × 297 mm)" : "Letter (8.5 × 11 in)";
    }
}
