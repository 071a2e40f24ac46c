package idlewright.bench.rules;

import java.util.Map;
import java.util.Set;

/**
 * What a test can show.
 *
 * @param words how it stands in the list of evidence
 * @param usual how often it is seen where none of the causes below is at work, relative to the others of its group
 * @param speaks how it bears on causes; a cause that is absent is not touched
 * @param blinds causes that cannot be blamed by what relies on this group, once this was seen
 */
public record Outcome(
        String key, String words, double usual, Map<String, Speaks> speaks, Set<String> blinds, Rule rule) {
    public Outcome {
        speaks = Map.copyOf(speaks);
        blinds = Set.copyOf(blinds);
    }

    boolean names(String cause) {
        return speaks.containsKey(cause);
    }

    Speaks speaksOf(String cause) {
        return speaks.getOrDefault(cause, Speaks.NOTHING);
    }

    double weight(String cause) {
        return usual * speaksOf(cause).factor();
    }
}
