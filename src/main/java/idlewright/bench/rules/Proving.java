package idlewright.bench.rules;

import idlewright.reference.verdict.Verdict;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** Whether the same test before and after a repair proves that it helped. */
public final class Proving {
    private Proving() {}

    /** What two tests together say. */
    public enum Outcome {
        PROVED("proved"),
        NOT_PROVED("not proved"),
        NOT_COMPARABLE("not comparable");

        private final String words;

        Outcome(String words) {
            this.words = words;
        }

        public String words() {
            return words;
        }
    }

    /** A test with the circumstances it was taken under. */
    public record Taken(TestResult result, Conditions conditions) {}

    /** One reading that was taken before and after. */
    public record Pair(String label, PointResult before, PointResult after) {}

    /**
     * The proof.
     *
     * @param reasons sentences, the deciding ones first
     * @param pairs readings taken on both sides
     */
    public record Proof(Outcome outcome, List<String> reasons, List<Pair> pairs) {
        public Proof {
            reasons = List.copyOf(reasons);
            pairs = List.copyOf(pairs);
        }
    }

    /** Before outside and after within, at the same points under matching conditions, proves. */
    public static Proof judge(Taken before, Taken after) {
        var reasons = new ArrayList<String>();
        List<Pair> pairs = pairs(before.result(), after.result());
        String first = before.result().procedure().key();
        if (!first.equals(after.result().procedure().key())) {
            reasons.add("Two different tests: " + before.result().procedure().name() + " before, "
                    + after.result().procedure().name() + " after.");
            return new Proof(Outcome.NOT_COMPARABLE, reasons, List.of());
        }
        if (before.result().procedure().version() != after.result().procedure().version()) {
            reasons.add("The procedure has changed in between: its points may not mean the same.");
        }
        Conditions.Comparison comparison = Conditions.compare(before.conditions(), after.conditions());
        comparison.differences().forEach(difference -> reasons.add("Not the same conditions: " + difference + "."));
        if (pairs.isEmpty()) reasons.add("No point was read both before and after.");
        if (!reasons.isEmpty()) return new Proof(Outcome.NOT_COMPARABLE, reasons, pairs);

        List<Pair> wrong = pairs.stream()
                .filter(pair -> verdict(pair.before()) == Verdict.OUTSIDE)
                .toList();
        if (wrong.isEmpty()) {
            reasons.add("The first test found nothing outside, so it cannot show that the repair helped.");
        }
        for (Pair pair : pairs) {
            boolean wasOutside = verdict(pair.before()) == Verdict.OUTSIDE;
            switch (verdict(pair.after())) {
                case OUTSIDE ->
                    reasons.add(pair.label()
                            + (wasOutside ? " is still " : " was in order and is now ")
                            + (pair.after().value() == null ? "not good: " : "outside: ")
                            + change(pair)
                            + ".");
                case TOO_CLOSE -> {
                    if (wasOutside) reasons.add(pair.label() + " is now too close to call: " + change(pair) + ".");
                }
                case NOT_JUDGED -> {
                    if (wasOutside)
                        reasons.add(pair.label() + " is not judged after the repair: " + change(pair) + ".");
                }
                case WITHIN -> {}
            }
        }
        for (PointResult outside : before.result().points()) {
            if (outside.judged().verdict() == Verdict.OUTSIDE
                    && pairs.stream().noneMatch(pair -> pair.before().equals(outside))) {
                reasons.add(outside.label() + " was outside before and was not read again.");
            }
        }
        if (!reasons.isEmpty()) return new Proof(Outcome.NOT_PROVED, reasons, pairs);
        wrong.forEach(pair -> reasons.add(pair.label()
                + (pair.after().value() == null ? ": " : " was outside and is within: ")
                + change(pair)
                + "."));
        comparison.notes().forEach(note -> reasons.add("Worth knowing: " + note + "."));
        return new Proof(Outcome.PROVED, reasons, pairs);
    }

    private static Verdict verdict(PointResult result) {
        return result.judged().verdict();
    }

    private static String change(Pair pair) {
        return pair.before().shown() + " before, " + pair.after().shown() + " after";
    }

    private static List<Pair> pairs(TestResult before, TestResult after) {
        Map<String, PointResult> first = new LinkedHashMap<>();
        before.points().forEach(result -> first.put(result.point().key() + "@" + result.place(), result));
        var pairs = new ArrayList<Pair>();
        for (PointResult result : after.points()) {
            PointResult match = first.get(result.point().key() + "@" + result.place());
            if (match != null) pairs.add(new Pair(result.label(), match, result));
        }
        return pairs;
    }
}
