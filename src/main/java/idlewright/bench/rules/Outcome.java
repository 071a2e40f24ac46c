package idlewright.bench.rules;

import java.util.Map;
import java.util.Set;

/**
 * What a test can show.
 *
 * @param words how it stands in the list of evidence
 * @param told the same beside the readings it was told from; names in braces are filled by {@link Rule#tell}
 * @param usual how often it is seen where none of the causes below is at work, relative to the others of its group
 * @param speaks how it bears on causes; a cause that is absent is not touched
 * @param blinds causes that cannot be blamed by what relies on this group, once this was seen
 */
public record Outcome(
        String key,
        String words,
        String told,
        double usual,
        Map<String, Speaks> speaks,
        Set<String> blinds,
        Rule rule) {
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

    /** With the places and readings that showed it: "the signal is too high at 2,500 rpm". */
    public String told(TestResult result) {
        return rule.tell(told, result);
    }

    double weight(String cause) {
        return usual * speaksOf(cause).factor();
    }
}
