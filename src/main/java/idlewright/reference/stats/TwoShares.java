package idlewright.reference.stats;

import java.util.Locale;
import org.apache.commons.statistics.inference.AlternativeHypothesis;
import org.apache.commons.statistics.inference.FisherExactTest;

/**
 * Two shares compared by Fisher's exact test, which holds for any numbers however small.
 *
 * @param pTwoSided chance of a difference at least as unlikely when there is none
 * @param pFirstHigher chance of the first share being at least this much higher when there is none
 */
public record TwoShares(Proportion first, Proportion second, double pTwoSided, double pFirstHigher) {

    public static TwoShares compare(Proportion first, Proportion second) {
        int[][] table = {
            {first.events(), first.n() - first.events()},
            {second.events(), second.n() - second.events()}
        };
        // All or nothing in both groups: there is one possible table, so nothing can be told.
        int events = first.events() + second.events();
        if (events == 0 || events == first.n() + second.n()) {
            return new TwoShares(first, second, 1, 1);
        }
        FisherExactTest test = FisherExactTest.withDefaults();
        return new TwoShares(
                first,
                second,
                test.test(table).getPValue(),
                test.with(AlternativeHypothesis.GREATER_THAN).test(table).getPValue());
    }

    /** The difference is more than chance at the usual 5 %. */
    public boolean real() {
        return pTwoSided < 0.05;
    }

    public String words() {
        return String.format(
                Locale.ROOT,
                "%s, against %s. %s",
                first.words(),
                second.words(),
                real()
                        ? "That is more than chance (p %s).".formatted(Chance.words(pTwoSided))
                        : "That could be chance (p %s).".formatted(Chance.words(pTwoSided)));
    }
}
