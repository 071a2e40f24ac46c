package idlewright.bench.rules;

import java.util.Map;

/**
 * What this shop has proved for one symptom kind: how often each cause was the finding of a thread that was then
 * proved.
 */
public record Learned(Map<String, Integer> provedByCause) {
    /** How many proved cases the catalogue's judgement is worth; with as many of its own the shop counts half. */
    public static final double JUDGEMENT_IS_WORTH = 20;

    public Learned {
        provedByCause = Map.copyOf(provedByCause);
        if (provedByCause.values().stream().anyMatch(count -> count < 0)) {
            throw new Refusal("A count of proved cases cannot be negative.");
        }
    }

    public static Learned nothing() {
        return new Learned(Map.of());
    }

    public int proved(String cause) {
        return provedByCause.getOrDefault(cause, 0);
    }
}
