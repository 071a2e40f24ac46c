package idlewright.bench.rules;

/** Thrown when the catalogue's data or a question asked of it make no sense; the message names the place. */
public final class Refusal extends RuntimeException {
    private static final long serialVersionUID = 1L;

    public Refusal(String words) {
        super(words);
    }
}
