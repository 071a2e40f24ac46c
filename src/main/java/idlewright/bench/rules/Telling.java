package idlewright.bench.rules;

import idlewright.bench.rules.Ranking.RankedCause;
import java.util.List;

/** What the open groups of one procedure would tell about the causes as they are ranked now. */
final class Telling {
    /** From so many combinations of outcomes on, groups are taken as telling nothing twice. */
    private static final int MOST_COMBINATIONS = 4096;

    private final double[] probability;
    /** By group, cause and outcome: how likely the outcome is with the cause. */
    private final double[][][] given;

    Telling(List<RankedCause> causes, List<OutcomeGroup> groups) {
        probability = causes.stream().mapToDouble(RankedCause::probability).toArray();
        given = groups.stream()
                .map(group -> causes.stream()
                        .map(cause -> group.probabilities(cause.cause().key()))
                        .toArray(double[][]::new))
                .toArray(double[][][]::new);
    }

    /**
     * Expected information in bits: entropy of the outcome less its entropy once the cause is known. Groups of one
     * procedure are independent once the cause is known.
     */
    double bits() {
        long combinations = 1;
        for (double[][] group : given) combinations *= group[0].length;
        if (combinations <= MOST_COMBINATIONS) return bits(0, given.length);
        double sum = 0;
        for (int group = 0; group < given.length; group++) sum += bits(group, group + 1);
        return sum;
    }

    private double bits(int from, int to) {
        double[] overall = new double[0];
        double known = 0;
        for (int cause = 0; cause < probability.length; cause++) {
            double[] row = {1};
            for (int group = from; group < to; group++) row = product(row, given[group][cause]);
            if (overall.length == 0) overall = new double[row.length];
            for (int i = 0; i < row.length; i++) overall[i] += probability[cause] * row[i];
            known += probability[cause] * entropy(row);
        }
        return Math.max(0, entropy(overall) - known);
    }

    private static double[] product(double[] left, double[] right) {
        double[] product = new double[left.length * right.length];
        int at = 0;
        for (double l : left) for (double r : right) product[at++] = l * r;
        return product;
    }

    private static double entropy(double[] probabilities) {
        double sum = 0;
        for (double p : probabilities) if (p > 0) sum -= p * Math.log(p);
        return sum / Math.log(2);
    }

    /** How differently two causes, by their rank, make one of the groups come out: 0 alike, 1 never the same. */
    double apart(int one, int other) {
        double most = 0;
        for (double[][] group : given) most = Math.max(most, distance(group[one], group[other]));
        return most;
    }

    /** Total variation distance. */
    private static double distance(double[] one, double[] other) {
        double sum = 0;
        for (int i = 0; i < one.length; i++) sum += Math.abs(one[i] - other[i]);
        return sum / 2;
    }
}
