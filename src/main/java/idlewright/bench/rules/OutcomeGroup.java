package idlewright.bench.rules;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * Outcomes of which exactly one can be true.
 *
 * @param toldBy keys of groups that tell the same thing better; where one of them spoke, this one counts nothing
 * @param silentFor symptom kinds for which it says nothing new
 */
public record OutcomeGroup(String key, String name, List<Outcome> outcomes, Set<String> toldBy, Set<String> silentFor) {

    public OutcomeGroup {
        outcomes = List.copyOf(outcomes);
        toldBy = Set.copyOf(toldBy);
        silentFor = Set.copyOf(silentFor);
    }

    /** Probability of an outcome if the cause is at work; over the group these add up to one. */
    public double probability(Outcome outcome, String cause) {
        return outcome.weight(cause)
                / outcomes.stream().mapToDouble(each -> each.weight(cause)).sum();
    }

    /** Probability of every outcome, in order, if the cause is at work. */
    double[] probabilities(String cause) {
        double[] weights =
                outcomes.stream().mapToDouble(each -> each.weight(cause)).toArray();
        double sum = Arrays.stream(weights).sum();
        return Arrays.stream(weights).map(weight -> weight / sum).toArray();
    }

    /** How many times likelier the outcome is with the cause than without any known one. */
    public double factor(Outcome outcome, String cause) {
        double usual = outcomes.stream().mapToDouble(Outcome::usual).sum();
        return probability(outcome, cause) / (outcome.usual() / usual);
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
