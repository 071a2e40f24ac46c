package idlewright.bench.rules;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Set;

/**
 * Which test to take next: the one that tells most per minute about what is still open, among those whose
 * circumstances and instruments are at hand.
 */
public record NextTest(Catalogue catalogue) {
    /** These come first whatever they tell: without them the rest hangs in the air. */
    private static final List<String> FIRST = List.of("reproduce", "codes", "visual");

    /** How different two causes must make the outcome for the test to count as telling them apart. */
    private static final double APART = 0.45;

    /** Fewer bits than this are not worth promising. */
    private static final double LITTLE = 0.02;

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
        SymptomKind kind = catalogue.symptomKind(ranking.symptomKind()).orElseThrow();
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
            var telling = new Telling(ranking.causes(), open);
            double bits = telling.bits();
            String lacking = lacking(procedure, kind, done, atHand, vehicle);
            if (lacking.isEmpty()) {
                ready.add(new Suggestion(
                        procedure,
                        bits,
                        bits / procedure.minutes(),
                        FIRST.contains(procedure.key()),
                        reason(procedure, telling, ranking)));
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

    private String lacking(
            Procedure procedure, SymptomKind kind, Set<String> done, AtHand atHand, VehicleFacts vehicle) {
        var lacking = new ArrayList<String>();
        procedure.instruments().stream()
                .filter(each -> !atHand.instruments().contains(each))
                .forEach(each -> lacking.add(each.words()));
        procedure.needs().stream()
                .filter(each -> kind.excludes().contains(each)
                        || !atHand.circumstances().contains(each))
                .forEach(each -> lacking.add(each.words()));
        procedure.after().stream()
                .filter(each -> !done.contains(each))
                .map(each -> catalogue.procedure(each).orElseThrow())
                .filter(each -> vehicle.mayHave(each.appliesTo()))
                .forEach(each -> lacking.add("first: " + each.name().toLowerCase(java.util.Locale.ROOT)));
        return String.join("; ", lacking);
    }

    private static String reason(Procedure procedure, Telling telling, Ranking ranking) {
        String minutes = procedure.minutes() + (procedure.minutes() == 1 ? " minute" : " minutes");
        switch (procedure.key()) {
            case "reproduce" -> {
                return "First by rule: a symptom nobody has seen cannot be shown to be cured.";
            }
            case "codes" -> {
                return "First by rule: codes and freeze frames are recorded before anything can clear them.";
            }
            case "visual" -> {
                return "First by rule: looking costs " + minutes + " and spares tests.";
            }
            default -> {}
        }
        int first = nextKnown(ranking, 0);
        int second = nextKnown(ranking, first + 1);
        if (second < ranking.causes().size() && telling.apart(first, second) >= APART) {
            return "Tells " + quoted(ranking, first) + " from " + quoted(ranking, second)
                    + ", the two likeliest causes, in " + minutes + ".";
        }
        int most = first;
        for (int each = first; each < ranking.causes().size(); each = nextKnown(ranking, each + 1)) {
            if (weight(telling, ranking, each) > weight(telling, ranking, most)) most = each;
        }
        if (telling.apartFromTheRest(most) >= APART) {
            return "Confirms or clears " + quoted(ranking, most) + " in " + minutes + ".";
        }
        return telling.bits() < LITTLE
                ? "Tells little about what is open now; " + minutes + "."
                : "Narrows the list without settling it; " + minutes + ".";
    }

    private static int nextKnown(Ranking ranking, int from) {
        int rank = from;
        while (rank < ranking.causes().size()
                && ranking.causes().get(rank).cause().isSomethingElse()) rank++;
        return rank;
    }

    private static double weight(Telling telling, Ranking ranking, int rank) {
        return ranking.causes().get(rank).probability() * telling.apartFromTheRest(rank);
    }

    private static String quoted(Ranking ranking, int rank) {
        return "\"" + ranking.causes().get(rank).cause().name() + "\"";
    }
}
