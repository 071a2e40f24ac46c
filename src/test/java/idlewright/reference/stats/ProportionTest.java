package idlewright.reference.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ProportionTest {

    // Newcombe 1998, Statistics in Medicine 17:857: Wilson, Wilson with continuity correction, Clopper-Pearson.
    @ParameterizedTest
    @CsvSource({
        "81, 263, 0.2553, 0.3662, 0.2535, 0.3682, 0.2527, 0.3676",
        "15, 148, 0.0624, 0.1605, 0.0598, 0.1644, 0.0578, 0.1617",
        "0, 20, 0.0000, 0.1611, 0, 0.2005, 0, 0.1684",
        "1, 29, 0.0061, 0.1718, 0.0018, 0.1963, 0.0009, 0.1776"
    })
    void meetsThePublishedIntervals(
            int events, int n, double wLow, double wHigh, double cLow, double cHigh, double eLow, double eHigh) {
        Proportion share = Proportion.of(events, n);
        assertThat(share.wilsonLow()).isCloseTo(wLow, within(5e-5));
        assertThat(share.wilsonHigh()).isCloseTo(wHigh, within(5e-5));
        assertThat(share.exactLow()).isCloseTo(eLow, within(5e-5));
        assertThat(share.exactHigh()).isCloseTo(eHigh, within(5e-5));
        Interval corrected = Proportion.wilsonCorrected(events, n);
        assertThat(corrected.low()).isCloseTo(cLow, within(5e-5));
        assertThat(corrected.high()).isCloseTo(cHigh, within(5e-5));
    }

    // SciPy 1.17.1 and commons-statistics-interval 1.2 agree.
    @Test
    void holdsForNoneAndForAll() {
        Proportion none = Proportion.of(0, 20);
        assertThat(none.wilsonLow()).isZero();
        assertThat(none.exactHigh()).isCloseTo(0.168433, within(1e-6));
        Proportion all = Proportion.of(29, 29);
        assertThat(all.wilsonLow()).isCloseTo(0.8830, within(5e-5));
        assertThat(all.wilsonHigh()).isEqualTo(1);
        assertThat(all.exactLow()).isCloseTo(0.880555, within(1e-6));
        assertThat(all.exactHigh()).isEqualTo(1);
        assertThat(Proportion.of(3, 40).wilsonHigh()).isCloseTo(0.1986, within(5e-5));
    }

    @Test
    void readsInPlainWords() {
        assertThat(Proportion.of(3, 41).words()).isEqualTo("3 of 41, 7 %, likely 3 to 19 %");
        assertThat(Proportion.of(0, 20).words()).isEqualTo("0 of 20, 0 %, likely 0 to 16 %");
        assertThat(Proportion.of(1, 1000).words()).isEqualTo("1 of 1000, 0.1 %, likely 0.0 to 0.6 %");
    }

    // The tea table, 3 1 1 3: one-sided 17/70; and 4 0 0 4: 1/70. SciPy 1.17.1 gives the two-sided values.
    @Test
    void comparesTwoSharesExactly() {
        TwoShares tea = TwoShares.compare(Proportion.of(3, 4), Proportion.of(1, 4));
        assertThat(tea.pFirstHigher()).isCloseTo(17.0 / 70, within(1e-12));
        assertThat(tea.pTwoSided()).isCloseTo(0.4857143, within(5e-8));
        TwoShares sure = TwoShares.compare(Proportion.of(4, 4), Proportion.of(0, 4));
        assertThat(sure.pFirstHigher()).isCloseTo(1.0 / 70, within(1e-12));
        assertThat(sure.pTwoSided()).isCloseTo(0.0285714, within(5e-8));
        assertThat(TwoShares.compare(Proportion.of(3, 20), Proportion.of(11, 20))
                        .pTwoSided())
                .isCloseTo(0.0187, within(5e-5));
    }

    @Test
    void saysWhenADifferenceCouldBeChance() {
        assertThat(TwoShares.compare(Proportion.of(3, 20), Proportion.of(5, 20)).words())
                .isEqualTo("3 of 20, 15 %, likely 5 to 36 %, against 5 of 20, 25 %, likely 11 to 47 %."
                        + " That could be chance (p 0.69).");
        assertThat(TwoShares.compare(Proportion.of(0, 8), Proportion.of(0, 9)).pTwoSided())
                .isEqualTo(1);
        assertThat(TwoShares.compare(Proportion.of(1, 60), Proportion.of(20, 40))
                        .words())
                .endsWith("That is more than chance (p under 0.001).");
    }

    // Beta(4, 8) quantiles: SciPy 1.17.1.
    @Test
    void drawsSmallGroupsTowardsThePrior() {
        Shrinkage flat = new Shrinkage(1, 1);
        assertThat(flat.share(3, 10)).isCloseTo(4.0 / 12, within(1e-12));
        assertThat(flat.likely(3, 10).low()).isCloseTo(0.10926344, within(1e-7));
        assertThat(flat.likely(3, 10).high()).isCloseTo(0.60974256, within(1e-7));
    }

    @Test
    void learnsFromTheGroupsHowMuchTheyDiffer() {
        List<Proportion> alike = List.of(Proportion.of(5, 50), Proportion.of(6, 50), Proportion.of(4, 50));
        Shrinkage heavy = Shrinkage.learned(alike);
        assertThat(heavy.share(1, 2)).isCloseTo(0.10, within(0.01));
        List<Proportion> apart = List.of(Proportion.of(1, 50), Proportion.of(25, 50), Proportion.of(3, 50));
        Shrinkage light = Shrinkage.learned(apart);
        assertThat(light.alpha() + light.beta()).isLessThan(10);
        assertThat(light.share(25, 50)).isBetween(0.45, 0.5);
        assertThat(Shrinkage.learned(List.of(Proportion.of(0, 3))).share(0, 3)).isPositive();
    }

    // Worked by hand after Holm 1979: 4 x 0.005, 3 x 0.01, 2 x 0.03, and 0.04 held up to the one before it.
    @Test
    void raisesPValuesWhenManyAreLookedAt() {
        assertThat(Holm.adjust(0.01, 0.04, 0.03, 0.005))
                .containsExactly(new double[] {0.03, 0.06, 0.06, 0.02}, within(1e-12));
        assertThat(Holm.adjust(0.9, 0.8)).containsExactly(1, 1);
    }

    @Test
    void refusesCountsThatCannotBe() {
        assertThatThrownBy(() -> Proportion.of(5, 4))
                .hasMessage("number of events must lie between 0 and 4, but was 5");
        assertThatThrownBy(() -> Proportion.of(0, 0)).hasMessageContaining("number looked at");
        assertThatThrownBy(() -> Holm.adjust(1.2)).hasMessageContaining("between 0 and 1");
        assertThatThrownBy(() -> Shrinkage.learned(List.of())).hasMessageContaining("at least one group");
    }
}
