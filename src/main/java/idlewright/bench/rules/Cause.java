package idlewright.bench.rules;

import java.util.List;
import java.util.Map;

/**
 * A fault that could explain a symptom.
 *
 * @param plainWords for the customer
 * @param remedy what is usually done about it
 * @param part the noun of the part usually replaced, empty where none is
 * @param needs traits without which a vehicle cannot have it
 * @param proveFirst keys of quick basic checks to take before a part is blamed for it
 * @param formerly names it went by; what was proved under them still counts
 */
public record Cause(
        String key,
        String system,
        String name,
        String plainWords,
        String remedy,
        String part,
        List<Trait> needs,
        List<String> proveFirst,
        List<String> formerly,
        Map<String, Commonness> commonness) {

    /** The residual that is always kept: the fault nobody has thought of. */
    public static final String SOMETHING_ELSE = "something-else";

    public Cause {
        needs = List.copyOf(needs);
        proveFirst = List.copyOf(proveFirst);
        formerly = List.copyOf(formerly);
        commonness = Map.copyOf(commonness);
    }

    /** How common this cause is behind a symptom kind; common practice, no source. */
    public Commonness commonnessFor(String symptomKind) {
        return commonness.getOrDefault(symptomKind, Commonness.UNUSUAL);
    }

    public boolean isSomethingElse() {
        return key.equals(SOMETHING_ELSE);
    }
}
