package idlewright.reference.stats;

import static idlewright.reference.bounds.Bounds.within;

import java.util.List;
import org.apache.commons.statistics.distribution.BetaDistribution;

/**
 * Shares of small groups drawn towards what all groups show, by a beta prior: 1 of 2 parts failed is no 50 %.
 *
 * @param alpha events the prior is worth, over 0
 * @param beta non-events the prior is worth, over 0
 */
public record Shrinkage(double alpha, double beta) {

    /** A prior never weighs more than this many cases, and never less than one. */
    private static final double HEAVIEST = 1000;

    public Shrinkage {
        within("events of the prior", alpha, 1e-6, 1e6, "");
        within("non-events of the prior", beta, 1e-6, 1e6, "");
    }

    /**
     * The prior that the groups themselves suggest, by moments (Kleinman 1973, from memory). Groups that differ no more
     * than chance give a heavy prior, so each is drawn to the common share.
     *
     * @param groups one and more
     */
    public static Shrinkage learned(List<Proportion> groups) {
        if (groups.isEmpty()) {
            throw new IllegalArgumentException("at least one group is needed to learn from");
        }
        double n = 0;
        double events = 0;
        double squaresOfN = 0;
        for (Proportion group : groups) {
            n += group.n();
            events += group.events();
            squaresOfN += (double) group.n() * group.n();
        }
        // One half of a case each way keeps 0 of n from being taken for never.
        double share = (events + 0.5) / (n + 1);
        double between = 0;
        for (Proportion group : groups) {
            between += group.n() * (group.estimate() - events / n) * (group.estimate() - events / n);
        }
        double variance = share * (1 - share);
        int k = groups.size();
        double weight = HEAVIEST;
        if (k > 1) {
            // E(between) = variance * (k - 1) + variance * rho * (n - squaresOfN/n - (k - 1))
            double rho = (between / variance - (k - 1)) / (n - squaresOfN / n - (k - 1));
            weight = rho > 0 && Double.isFinite(rho) ? Math.min(HEAVIEST, Math.max(1, 1 / rho - 1)) : HEAVIEST;
        } else {
            weight = 1;
        }
        return new Shrinkage(share * weight, (1 - share) * weight);
    }

    /** The share of a group with what the prior knows added. */
    public double share(int events, int n) {
        check(events, n);
        return (events + alpha) / (n + alpha + beta);
    }

    /** 95 % credible interval of that share. */
    public Interval likely(int events, int n) {
        check(events, n);
        BetaDistribution posterior = BetaDistribution.of(events + alpha, n - events + beta);
        return new Interval(
                posterior.inverseCumulativeProbability(0.025), posterior.inverseCumulativeProbability(0.975));
    }

    private static void check(int events, int n) {
        within("number looked at", n, 0, Integer.MAX_VALUE, "");
        within("number of events", events, 0, n, "");
    }
}
