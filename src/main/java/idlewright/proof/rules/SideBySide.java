package idlewright.proof.rules;

import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.PointResult;
import idlewright.bench.rules.Proving;
import idlewright.bench.rules.Proving.Outcome;
import idlewright.bench.rules.Proving.Proof;
import idlewright.bench.rules.Proving.Taken;
import idlewright.bench.rules.TestResult;
import idlewright.reference.verdict.Verdict;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/** Puts every test that found something wrong beside the one that repeated it after the repair. */
public final class SideBySide {

    private SideBySide() {}

    /** One finished test. */
    public record Test(long id, boolean after, Instant startedAt, TestResult result, Conditions conditions) {

        String procedure() {
            return result.procedure().key();
        }

        Taken taken() {
            return new Taken(result, conditions);
        }

        private Set<String> points(boolean onlyOutside) {
            return result.points().stream()
                    .filter(point -> !onlyOutside || point.judged().verdict() == Verdict.OUTSIDE)
                    .map(SideBySide::place)
                    .collect(Collectors.toSet());
        }
    }

    /** A test before the repair and its repetition; after and proof are null while nobody repeated it. */
    public record Compared(
            Test before, @Nullable Test after, @Nullable Proof proof) {

        public boolean proved() {
            return proof != null && proof.outcome() == Outcome.PROVED;
        }

        public String words() {
            return proof == null ? "not repeated yet" : proof.outcome().words();
        }
    }

    /**
     * The comparisons that the proof of a thread needs, in the order the tests were begun. A test that was done over before
     * the repair, under the same conditions and with every point that was outside, is counted once: the later.
     *
     * @param mendedAt tests after the repair count from here on: a later part makes an earlier repetition worthless
     */
    public static List<Compared> of(List<Test> tests, Instant mendedAt) {
        List<Test> before = tests.stream()
                .filter(test -> !test.after())
                .sorted(Comparator.comparing(Test::startedAt).thenComparing(Test::id))
                .toList();
        List<Test> after = tests.stream()
                .filter(test -> test.after() && !test.startedAt().isBefore(mendedAt))
                .sorted(Comparator.comparing(Test::startedAt).thenComparing(Test::id))
                .toList();
        var compared = new ArrayList<Compared>();
        for (int i = 0; i < before.size(); i++) {
            Test test = before.get(i);
            if (!test.points(true).isEmpty()
                    && before.subList(i + 1, before.size()).stream().noneMatch(later -> doneOver(test, later))) {
                compared.add(compare(test, after));
            }
        }
        return compared;
    }

    /** Of several repetitions the latest that can be compared counts: no picking of the one that looks best. */
    private static Compared compare(Test before, List<Test> after) {
        Compared found = new Compared(before, null, null);
        for (Test test : after) {
            if (test.procedure().equals(before.procedure())) {
                Proof proof = Proving.judge(before.taken(), test.taken());
                boolean comparable = proof.outcome() != Outcome.NOT_COMPARABLE;
                boolean better = found.proof() == null || found.proof().outcome() == Outcome.NOT_COMPARABLE;
                if (comparable || better) {
                    found = new Compared(before, test, proof);
                }
            }
        }
        return found;
    }

    private static boolean doneOver(Test first, Test later) {
        return first.procedure().equals(later.procedure())
                && Conditions.compare(first.conditions(), later.conditions()).matching()
                && later.points(false).containsAll(first.points(true));
    }

    private static String place(PointResult result) {
        return result.point().key() + "@" + result.place();
    }
}
