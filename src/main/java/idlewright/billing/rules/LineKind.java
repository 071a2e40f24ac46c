package idlewright.billing.rules;

/** What a line is for: whether it is taxed as work or as parts, and whether it takes something off. */
public enum LineKind {
    DIAGNOSIS("Diagnosis", true, false),
    LABOUR("Labour", true, false),
    PART("Part", false, false),
    FEE("Fee", false, false),
    SUBLET("Sublet work", true, false),
    /** Less for the work. */
    DISCOUNT_WORK("Discount on work", true, true),
    /** Less for the parts. */
    DISCOUNT_PARTS("Discount on parts", false, true),
    /** A deposit on the old part, which its maker rebuilds. */
    CORE("Core charge", false, false),
    /** The deposit given back, once the old part went back. */
    CORE_RETURNED("Core returned", false, true);

    private final String words;
    private final boolean work;
    private final boolean deduction;

    LineKind(String words, boolean work, boolean deduction) {
        this.words = words;
        this.work = work;
        this.deduction = deduction;
    }

    public String words() {
        return words;
    }

    /** Taxed as work; all else is taxed as parts. */
    public boolean work() {
        return work;
    }

    /** Its price is below zero, though a person types it above. */
    public boolean deduction() {
        return deduction;
    }
}
