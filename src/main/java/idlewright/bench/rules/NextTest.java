package idlewright.bench.rules;

import idlewright.bench.rules.Ranking.RankedCause;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * Which test to take next: the one that tells most per minute about what is still open, among those whose
 * circumstances and instruments are at hand.
 */
public record NextTest(Catalogue catalogue) {
    /** These come first whatever they tell: without them the rest hangs in the air. */
    private static final List<String> FIRST = List.of("reproduce", "codes", "visual");

    /** From so many combinations of outcomes on, groups are taken as telling nothing twice. */
    private static final int MOST_COMBINATIONS = 4096;

    /** How different two causes must make the outcome for the test to count as telling them apart. */
    private static final double APART = 0.45;

    /** What the shop can do now. */
    public record AtHand(Set<InstrumentKind> instruments, Set<Need> circumstances) {
        public AtHand {
            instruments = Set.copyOf(instruments);
            circumstances = Set.copyOf(circumstances);
        }

        /** A shop with everything and a car that does everything. */
        public static AtHand everything() {
            return new AtHand(Set.of(InstrumentKind.values()), Set.of(Need.values()));
        }
    }

    /**
     * A test that could be taken now.
     *
     * @param bits expected information about the cause
     * @param byRule true for those that come first by rule
     * @param reason one sentence for the technician
     */
    public record Suggestion(Procedure procedure, double bits, double bitsPerMinute, boolean byRule, String reason) {}

    /** A test that would make sense but cannot be taken now, and what it waits for. */
    public record Waiting(Procedure procedure, double bits, String lacking) {}

    /** The tests in the order to take them, and those that wait. */
    public record Plan(List<Suggestion> ready, List<Waiting> waiting) {
        public Plan {
            ready = List.copyOf(ready);
            waiting = List.copyOf(waiting);
        }
    }

    /**
     * Plans the next tests.
     *
     * @param ranking the ranking by all evidence so far
     * @param evidence the same evidence, so that nothing is asked twice
     * @param done keys of procedures already taken on this thread
     */
    public Plan plan(
            Ranking ranking, Collection<Evidence> evidence, Set<String> done, AtHand atHand, VehicleFacts vehicle) {
        Set<String> spoken = new Causes(catalogue).spoken(evidence);
        var ready = new ArrayList<Suggestion>();
        var waiting = new ArrayList<Waiting>();
        for (Procedure procedure : catalogue.procedures()) {
            if (done.contains(procedure.key())
                    || procedure.moment() != Procedure.Moment.SEEKING
                    || !vehicle.mayHave(procedure.appliesTo())) continue;
            List<OutcomeGroup> open = procedure.groups().stream()
                    .filter(group -> !group.silentFor().contains(ranking.symptomKind()))
                    .filter(group -> group.toldBy().stream().noneMatch(spoken::contains))
                    .toList();
            double bits = bits(ranking.causes(), open);
            String lacking = lacking(procedure, done, atHand, vehicle);
            if (lacking.isEmpty()) {
                ready.add(new Suggestion(
                        procedure,
                        bits,
                        bits / procedure.minutes(),
                        FIRST.contains(procedure.key()),
                        reason(procedure, open, ranking)));
            } else {
                waiting.add(new Waiting(procedure, bits, lacking));
            }
        }
        ready.sort(Comparator.comparingInt((Suggestion each) -> rank(each.procedure()))
                .thenComparing(
                        Comparator.comparingDouble(Suggestion::bitsPerMinute).reversed())
                .thenComparing(each -> each.procedure().key()));
        waiting.sort(Comparator.comparingDouble(
                        (Waiting each) -> -each.bits() / each.procedure().minutes())
                .thenComparing(each -> each.procedure().key()));
        return new Plan(ready, waiting);
    }

    private static int rank(Procedure procedure) {
        int first = FIRST.indexOf(procedure.key());
        return first < 0 ? FIRST.size() : first;
    }

    private String lacking(Procedure procedure, Set<String> done, AtHand atHand, VehicleFacts vehicle) {
        var lacking = new ArrayList<String>();
        procedure.instruments().stream()
                .filter(each -> !atHand.instruments().contains(each))
                .forEach(each -> lacking.add(each.words()));
        procedure.needs().stream()
                .filter(each -> !atHand.circumstances().contains(each))
                .forEach(each -> lacking.add(each.words()));
        procedure.after().stream()
                .filter(each -> !done.contains(each))
                .map(each -> catalogue.procedure(each).orElseThrow())
                .filter(each -> vehicle.mayHave(each.appliesTo()))
                .forEach(each -> lacking.add("first: " + each.name().toLowerCase(java.util.Locale.ROOT)));
        return String.join("; ", lacking);
    }

    /**
     * Expected information in bits: entropy of the outcome less its entropy once the cause is known. Groups of one
     * procedure are independent once the cause is known.
     */
    static double bits(List<RankedCause> causes, List<OutcomeGroup> groups) {
        double combinations =
                groups.stream().mapToDouble(group -> group.outcomes().size()).reduce(1, (a, b) -> a * b);
        if (combinations > MOST_COMBINATIONS) {
            return groups.stream()
                    .mapToDouble(group -> bits(causes, List.of(group)))
                    .sum();
        }
        var outcomeGivenCause = new ArrayList<double[]>();
        for (RankedCause cause : causes) {
            double[] row = {1};
            for (OutcomeGroup group : groups) {
                double[] wider = new double[row.length * group.outcomes().size()];
                int at = 0;
                for (double before : row) {
                    for (Outcome outcome : group.outcomes()) {
                        wider[at++] = before
                                * group.probability(outcome, cause.cause().key());
                    }
                }
                row = wider;
            }
            outcomeGivenCause.add(row);
        }
        double[] outcome = new double[(int) combinations];
        double known = 0;
        for (int cause = 0; cause < causes.size(); cause++) {
            double[] row = outcomeGivenCause.get(cause);
            double probability = causes.get(cause).probability();
            for (int i = 0; i < outcome.length; i++) outcome[i] += probability * row[i];
            known += probability * entropy(row);
        }
        return Math.max(0, entropy(outcome) - known);
    }

    private static double entropy(double[] probabilities) {
        double sum = 0;
        for (double p : probabilities) if (p > 0) sum -= p * Math.log(p);
        return sum / Math.log(2);
    }

    private String reason(Procedure procedure, List<OutcomeGroup> open, Ranking ranking) {
        String minutes = procedure.minutes() + (procedure.minutes() == 1 ? " minute" : " minutes");
        switch (procedure.key()) {
            case "reproduce" -> {
                return "First by rule: a complaint nobody has seen cannot be shown to be cured.";
            }
            case "codes" -> {
                return "First by rule: codes and freeze frames are recorded before anything can clear them.";
            }
            case "visual" -> {
                return "First by rule: looking costs " + minutes + " and spares tests.";
            }
            default -> {}
        }
        List<RankedCause> known = ranking.causes().stream()
                .filter(each -> !each.cause().isSomethingElse())
                .toList();
        RankedCause first = known.get(0);
        if (known.size() > 1 && distance(open, first, known.get(1)) >= APART) {
            return "Tells \"" + first.cause().name() + "\" from \""
                    + known.get(1).cause().name() + "\", the two likeliest causes, in " + minutes + ".";
        }
        Map<RankedCause, Double> share = new HashMap<>();
        for (RankedCause each : known) share.put(each, each.probability() * againstTheRest(open, each, ranking));
        RankedCause most = known.stream()
                .max(Comparator.comparingDouble((RankedCause each) -> share.getOrDefault(each, 0.0))
                        .thenComparing(each -> each.cause().key()))
                .orElse(first);
        if (againstTheRest(open, most, ranking) >= APART) {
            return "Confirms or clears \"" + most.cause().name() + "\" in " + minutes + ".";
        }
        double bits = bits(ranking.causes(), open);
        return bits < 0.02
                ? "Tells little about what is open now; " + minutes + "."
                : "Narrows the list without settling it; " + minutes + ".";
    }

    /** Largest total variation distance any one group makes between two causes, 0 to 1. */
    private static double distance(List<OutcomeGroup> groups, RankedCause one, RankedCause other) {
        return groups.stream()
                .mapToDouble(group -> group.outcomes().stream()
                                .mapToDouble(outcome -> Math.abs(
                                        group.probability(outcome, one.cause().key())
                                                - group.probability(
                                                        outcome, other.cause().key())))
                                .sum()
                        / 2)
                .max()
                .orElse(0);
    }

    private static double againstTheRest(List<OutcomeGroup> groups, RankedCause one, Ranking ranking) {
        List<RankedCause> rest =
                ranking.causes().stream().filter(each -> !each.equals(one)).collect(Collectors.toList());
        double weight = rest.stream().mapToDouble(RankedCause::probability).sum();
        if (weight <= 0) return 0;
        return groups.stream()
                .mapToDouble(group -> group.outcomes().stream()
                                .mapToDouble(outcome -> Math.abs(group.probability(
                                                outcome, one.cause().key())
                                        - rest.stream()
                                                        .mapToDouble(each -> each.probability()
                                                                * group.probability(
                                                                        outcome,
                                                                        each.cause()
                                                                                .key()))
                                                        .sum()
                                                / weight))
                                .sum()
                        / 2)
                .max()
                .orElse(0);
    }
}
