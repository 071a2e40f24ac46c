package idlewright.bench.rules;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * Outcomes of which exactly one can be true.
 *
 * @param toldBy keys of groups that tell the same thing better; where one of them spoke, this one counts nothing
 * @param sameAs keys of groups that see the same thing another way; what both say counts once, at the stronger word
 * @param reliesOn keys of groups without whose good outcome this one cannot be believed about what they blind
 * @param silentFor symptom kinds for which it says nothing new
 */
public record OutcomeGroup(
        String key,
        String name,
        List<Outcome> outcomes,
        Set<String> toldBy,
        Set<String> sameAs,
        Set<String> reliesOn,
        Set<String> silentFor) {

    public OutcomeGroup {
        outcomes = List.copyOf(outcomes);
        toldBy = Set.copyOf(toldBy);
        sameAs = Set.copyOf(sameAs);
        reliesOn = Set.copyOf(reliesOn);
        silentFor = Set.copyOf(silentFor);
    }

    /** Probability of an outcome if the cause is at work; over the group these add up to one. */
    public double probability(Outcome outcome, String cause) {
        return probabilities(cause)[outcomes.indexOf(outcome)];
    }

    /**
     * Probability of every outcome, in order, if the cause is at work. An outcome that does not name the cause keeps its
     * usual share, so that seeing it moves the cause neither way. Only the usual one must give way where it
     * does not name the cause itself, or the next where all that do point one way: what makes a fault likelier makes the
     * good answer rarer.
     */
    double[] probabilities(String cause) {
        Set<Outcome> speaking = speaking(cause);
        double usual = usual(outcomes);
        double shared = usual(speaking) / usual;
        double weights =
                speaking.stream().mapToDouble(each -> each.weight(cause)).sum();
        return outcomes.stream()
                .mapToDouble(
                        each -> speaking.contains(each) ? shared * each.weight(cause) / weights : each.usual() / usual)
                .toArray();
    }

    /** Whether the outcome moves the cause: it names it, or it gives way to those that do. */
    public boolean speaksAbout(Outcome outcome, String cause) {
        return speaking(cause).contains(outcome);
    }

    private Set<Outcome> speaking(String cause) {
        var named = new LinkedHashSet<Outcome>();
        var others = new ArrayList<Outcome>();
        for (Outcome each : outcomes) {
            if (each.names(cause)) named.add(each);
            else others.add(each);
        }
        Outcome usual = Collections.max(outcomes, Comparator.comparingDouble(Outcome::usual));
        boolean bothWays = named.stream().anyMatch(each -> each.speaksOf(cause).isFor())
                && named.stream().anyMatch(each -> each.speaksOf(cause).isAgainst());
        if (named.isEmpty() || others.isEmpty() || named.contains(usual) && bothWays) return named;
        Outcome most = Collections.max(others, Comparator.comparingDouble(Outcome::usual));
        boolean canGiveWay = most.usual() >= usual(named) / 2;
        named.addAll(canGiveWay ? List.of(most) : others);
        return named;
    }

    private static double usual(Collection<Outcome> outcomes) {
        return outcomes.stream().mapToDouble(Outcome::usual).sum();
    }

    /** How many times likelier the outcome is with the cause than without any known one. */
    public double factor(Outcome outcome, String cause) {
        if (!speaksAbout(outcome, cause)) return 1;
        return probability(outcome, cause) / (outcome.usual() / usual(outcomes));
    }

    /** The first outcome whose rule holds. */
    Optional<Outcome> read(TestResult readings) {
        return outcomes.stream()
                .filter(outcome -> outcome.rule().holds(readings))
                .findFirst();
    }

    /** The words must keep their direction after the group is made to add up to one; empty if they do. */
    List<String> contradictoryWeights() {
        return outcomes.stream()
                .flatMap(outcome -> outcome.speaks().entrySet().stream()
                        .filter(speaks -> {
                            double factor = factor(outcome, speaks.getKey());
                            return (speaks.getValue().isFor() && factor <= 1.05)
                                    || (speaks.getValue().isAgainst() && factor >= 0.95);
                        })
                        .map(speaks -> outcome.key() + " \"" + speaks.getValue().words() + "\" " + speaks.getKey()
                                + ", but its neighbours outweigh it (factor "
                                + Figures.plain(factor(outcome, speaks.getKey())) + ")"))
                .sorted()
                .toList();
    }
}
