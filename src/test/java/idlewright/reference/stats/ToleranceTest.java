package idlewright.reference.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ToleranceTest {

    // Exact two-sided factors, 95 % confidence; n 10, 20 and 30 agree with Statistics for Environmental Engineers,
    // table 21.1.
    @ParameterizedTest
    @CsvSource({
        "5, 4.291, 5.077, 6.598",
        "8, 3.156, 3.746, 4.889",
        "10, 2.856, 3.393, 4.437",
        "12, 2.670, 3.175, 4.156",
        "15, 2.492, 2.965, 3.885",
        "20, 2.319, 2.760, 3.621",
        "30, 2.145, 2.555, 3.355",
        "50, 1.999, 2.382, 3.129"
    })
    void meetsTheTableOfExactFactors(int n, double k90, double k95, double k99) {
        assertThat(ToleranceFactor.exact(n, 0.90, 0.95)).isCloseTo(k90, within(6e-4));
        assertThat(ToleranceFactor.exact(n, 0.95, 0.95)).isCloseTo(k95, within(6e-4));
        assertThat(ToleranceFactor.exact(n, 0.99, 0.95)).isCloseTo(k99, within(6e-4));
    }

    // NIST/SEMATECH e-Handbook 7.2.6.3: N 43, coverage .90, confidence .99. Exact values: SciPy 1.17.1.
    @Test
    void meetsTheHandbookExample() {
        assertThat(ToleranceFactor.howe(43, 0.90, 0.99)).isCloseTo(2.217, within(5e-4));
        assertThat(ToleranceFactor.exact(43, 0.90, 0.99)).isCloseTo(2.2228, within(5e-5));
        assertThat(ToleranceFactor.oneSidedNatrella(43, 0.90, 0.99)).isCloseTo(1.8752, within(5e-5));
        assertThat(ToleranceFactor.oneSidedExact(43, 0.90, 0.99)).isCloseTo(1.8739536, within(1e-6));
        assertThat(ToleranceFactor.oneSidedExact(10, 0.95, 0.95)).isCloseTo(2.9109634, within(1e-6));
        assertThat(97.07 - ToleranceFactor.howe(43, 0.90, 0.99) * 0.0268).isCloseTo(97.0106, within(5e-5));
        assertThat(97.07 + ToleranceFactor.oneSidedNatrella(43, 0.90, 0.99) * 0.0268)
                .isCloseTo(97.1203, within(5e-5));
    }

    // Computed; the usual textbook numbers.
    @Test
    void knowsHowManyValuesSmallestToLargestNeeds() {
        assertThat(ToleranceFactor.valuesForSmallestToLargest(0.90, 0.95)).isEqualTo(46);
        assertThat(ToleranceFactor.valuesForSmallestToLargest(0.95, 0.95)).isEqualTo(93);
        assertThat(ToleranceFactor.valuesForSmallestToLargest(0.99, 0.95)).isEqualTo(473);
    }

    @Test
    void judgesOnlyFromEightReadingsOn() {
        assertThat(Tolerance.interval(new double[] {1, 2, 3, 4, 5, 6, 7})).isEmpty();
        Tolerance band = Tolerance.interval(new double[] {4.1, 4.3, 3.9, 4.0, 4.2, 4.4, 3.8, 4.1})
                .orElseThrow();
        assertThat(band.n()).isEqualTo(8);
        assertThat(band.mean()).isCloseTo(4.1, within(1e-12));
        assertThat(band.k()).isCloseTo(3.746, within(5e-4));
        assertThat(band.s()).isCloseTo(0.2, within(1e-12));
        assertThat(band.low()).isCloseTo(4.1 - 3.746 * 0.2, within(2e-4));
        assertThat(band.words())
                .isEqualTo("8 known-good readings, mean 4.10: 95 of 100 healthy ones lie from 3.35 to 4.85, 95 % sure");
    }

    @Test
    void leavesABandAroundEqualReadingsOfACoarseInstrument() {
        double[] same = {12.5, 12.5, 12.5, 12.5, 12.5, 12.5, 12.5, 12.5};
        assertThat(Tolerance.interval(same, 0.1).orElseThrow().high()).isGreaterThan(12.5);
        assertThat(Tolerance.interval(same).orElseThrow().high()).isEqualTo(12.5);
    }

    // The definition itself, simulated: in 95 of 100 samples the band holds 95 % of what comes.
    @Test
    void holdsWhatItPromises() {
        SplittableRandom random = new SplittableRandom(20261125);
        NormalDistribution normal = NormalDistribution.of(0, 1);
        int kept = 0;
        int rounds = 4000;
        for (int round = 0; round < rounds; round++) {
            double[] sample = new double[8];
            for (int i = 0; i < sample.length; i++) {
                sample[i] = random.nextGaussian();
            }
            Tolerance band = Tolerance.interval(sample).orElseThrow();
            if (normal.probability(band.low(), band.high()) >= 0.95) {
                kept++;
            }
        }
        assertThat((double) kept / rounds).isCloseTo(0.95, within(0.011));
    }

    @Test
    void refusesWhatCannotBe() {
        assertThatThrownBy(() -> ToleranceFactor.exact(1, 0.95, 0.95)).hasMessageContaining("between 2 and 100,000");
        assertThatThrownBy(() -> ToleranceFactor.howe(10, 1, 0.95)).hasMessageContaining("coverage");
        assertThatThrownBy(() -> Tolerance.interval(new double[] {1, Double.NaN}))
                .hasMessageContaining("number 2");
    }
}
