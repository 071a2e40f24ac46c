package idlewright.bench.rules;

/** A circumstance a procedure needs before it can be done at all. */
public enum Need {
    ENGINE_CRANKS("an engine that cranks"),
    ENGINE_RUNS("an engine that starts and keeps running"),
    HOT("the engine at operating temperature"),
    COLD_SOAK("the engine stone cold, best after a night"),
    RESTED("the battery at rest for six hours, or its surface charge taken off"),
    ROAD("leave to drive the vehicle on the road"),
    TWO_PEOPLE("a second person"),
    TWO_TANKS("two full tanks on each side of the repair");

    private final String words;

    Need(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
