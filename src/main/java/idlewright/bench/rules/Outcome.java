package idlewright.bench.rules;

import java.util.Map;

/**
 * What a test can show.
 *
 * @param words how it stands in the list of evidence
 * @param told the same beside the readings it was told from; names in braces are filled by {@link Rule#tell}
 * @param usual how often it is seen where none of the causes below is at work, relative to the others of its group
 * @param speaks how it bears on causes; a cause that is absent is not touched
 */
public record Outcome(String key, String words, String told, double usual, Map<String, Speaks> speaks, Rule rule) {
    public Outcome {
        speaks = Map.copyOf(speaks);
    }

    /** With the places and readings that showed it: "the signal is too high at 2,500 rpm". */
    public String told(TestResult result) {
        return rule.tell(told, result);
    }

    double weight(String cause) {
        return usual * speaks.getOrDefault(cause, Speaks.NOTHING).factor();
    }
}
