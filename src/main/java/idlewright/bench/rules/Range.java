package idlewright.bench.rules;

/** Lowest and highest of something, both included. */
public record Range(double low, double high) {
    public Range {
        if (!(low <= high)) throw new Refusal("A range runs from low to high.");
    }

    public boolean holds(double value) {
        return value >= low && value <= high;
    }
}
