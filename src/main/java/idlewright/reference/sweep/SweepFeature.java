package idlewright.reference.sweep;

/**
 * Something wrong in a sweep, and where.
 *
 * @param from in units of x
 * @param to in units of x, the same as from for a single point
 * @param words where and how much, for a person
 */
public record SweepFeature(Kind kind, double from, double to, String words) {

    /** What can be wrong. */
    public enum Kind {
        /** It rests in the middle of the ramp. */
        FLAT_SPOT("flat spot"),
        /** It jumps up and comes back. */
        SPIKE("spike"),
        /** It falls away and comes back. */
        DROPOUT("dropout"),
        /** It falls and goes on from lower down. */
        BACKWARD_STEP("backward step"),
        /** It stands at its top while the ramp goes on. */
        SATURATION("saturation");

        private final String words;

        Kind(String words) {
            this.words = words;
        }

        public String words() {
            return words;
        }
    }
}
