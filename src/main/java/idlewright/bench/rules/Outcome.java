package idlewright.bench.rules;

import java.util.Map;

/**
 * What a test can show.
 *
 * @param words how it stands in the list of evidence
 * @param usual how often it is seen where none of the causes below is at work, relative to the others of its group
 * @param speaks how it bears on causes; a cause that is absent is not touched
 */
public record Outcome(String key, String words, double usual, Map<String, Speaks> speaks, Rule rule) {
    public Outcome {
        speaks = Map.copyOf(speaks);
    }

    double weight(String cause) {
        return usual * speaks.getOrDefault(cause, Speaks.NOTHING).factor();
    }
}
