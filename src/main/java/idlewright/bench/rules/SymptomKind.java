package idlewright.bench.rules;

import java.util.List;

/**
 * A kind of complaint.
 *
 * @param always asked for every kind, in this order
 * @param further asked for this kind only
 * @param excludes circumstances a vehicle with this complaint cannot offer
 */
public record SymptomKind(
        String key, String name, String meaning, List<Question> always, List<Question> further, List<Need> excludes) {
    public SymptomKind {
        always = List.copyOf(always);
        further = List.copyOf(further);
        excludes = List.copyOf(excludes);
    }

    /** All questions in the order the counter asks them. */
    public List<Question> questions() {
        return java.util.stream.Stream.concat(further.stream(), always.stream()).toList();
    }
}
