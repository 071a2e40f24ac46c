package idlewright.bench.rules;

/** A property of a vehicle on which a cause or a procedure may hang. */
public enum Trait {
    MASS_AIR_FLOW("air metered by a mass air-flow sensor"),
    MANIFOLD_PRESSURE("air metered by manifold pressure"),
    SPARK_IGNITION("spark ignition"),
    NATURALLY_ASPIRATED("no turbocharger or supercharger");

    private final String words;

    Trait(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
