package idlewright.reference.stats;

/** Two ends that hold the truth with the stated confidence. */
public record Interval(double low, double high) {

    public boolean contains(double value) {
        return value >= low && value <= high;
    }
}
