package idlewright.frame;

import java.util.LinkedHashMap;
import java.util.Map;

/** A rule said no, in words for the person who asked, each beside the field it is about. */
public class Refused extends RuntimeException {

    /** The field name under which a refusal of the whole form is kept. */
    public static final String WHOLE = "";

    private final Map<String, String> problems = new LinkedHashMap<>();

    private Refused(String field, String sentence) {
        super(sentence, null, false, false);
        problems.put(field, sentence);
    }

    public static Refused because(String sentence) {
        return new Refused(WHOLE, sentence);
    }

    public static Refused at(String field, String sentence) {
        return new Refused(field, sentence);
    }

    /** Refuses with every problem of the map; an empty map refuses nothing. */
    public static void ifAny(Map<String, String> problems) {
        Refused all = null;
        for (var problem : problems.entrySet()) {
            all = all == null
                    ? at(problem.getKey(), problem.getValue())
                    : all.and(problem.getKey(), problem.getValue());
        }
        if (all != null) {
            throw all;
        }
    }

    public Refused and(String field, String sentence) {
        problems.put(field, sentence);
        return this;
    }

    public Map<String, String> problems() {
        return new LinkedHashMap<>(problems);
    }
}
