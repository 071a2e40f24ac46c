package idlewright.repair.rules;

/** What is looked at before a part is called final. Common practice, no source; the maker's procedure comes first. */
public enum Check {
    TYPE("Type and style", "Same type and style as the old part?", false),
    CONNECTOR("Connector", "Same connector, same number of pins?", false),
    MARK_OLD("Flow mark of the old part", "Flow mark seen on the old part before it came out?", true),
    MARK_NEW("Flow mark of the fitted part", "Flow mark seen on the fitted part?", true),
    MARK_MATCHED(
            "Flow mark matched", "Does the mark point the same way as the old one, matched to the engine side?", true),
    SEAL("Seal", "Seal in place, clean, not pinched?", true),
    CLAMPS("Clamps", "Clamps tight and where they were?", true),
    INTAKE("Intake", "Intake clean, nothing left inside?", true),
    LOCKED("Connector locked", "Connector locked?", true),
    OLD_PART("Old part", "Old part kept as agreed?", false);

    private final String label;
    private final String asks;
    private final boolean mayBeAbsent;

    Check(String label, String asks, boolean mayBeAbsent) {
        this.label = label;
        this.asks = asks;
        this.mayBeAbsent = mayBeAbsent;
    }

    public String label() {
        return label;
    }

    public String asks() {
        return asks;
    }

    /** Whether a part may have no such thing: no mark, no clamp, no seal. */
    public boolean mayBeAbsent() {
        return mayBeAbsent;
    }
}
