package idlewright.bench.rules;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import idlewright.reference.units.Unit;
import idlewright.reference.verdict.Verdict;
import java.util.Arrays;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class KnownGoodTest {

    @Test
    void judgesNothingUnderEight() {
        KnownGood.Band band = KnownGood.band(new double[] {4.7, 4.8, 4.9, 5.0, 5.1, 4.8, 4.9});

        assertThat(band.judges()).isFalse();
        assertThat(band.limit(Unit.GRAM_PER_SECOND)).isEmpty();
        assertThat(band.words()).isEqualTo("7 known good, 8 are needed before they judge: shown, not judged.");
        assertThat(KnownGood.band(new double[0]).judges()).isFalse();
    }

    @Test
    void judgesFromEightOnWithItsGround() {
        KnownGood.Band band = KnownGood.band(new double[] {4.7, 4.8, 4.9, 5.0, 5.1, 4.8, 4.9, 5.0});
        Limit limit = band.limit(Unit.GRAM_PER_SECOND).orElseThrow();

        assertThat(limit.groundWords()).isEqualTo("known good, 8 readings of this shop");
        assertThat(Judge.judge(4.9, Unit.GRAM_PER_SECOND, Accuracy.unknown(), limit)
                        .verdict())
                .isEqualTo(Verdict.WITHIN);
        assertThat(Judge.judge(3.4, Unit.GRAM_PER_SECOND, Accuracy.unknown(), limit)
                        .side())
                .isEqualTo(Side.LOW);
    }

    /** Exact two-sided factors for 95 % confidence and 95 % coverage: a printed table and a computation agree. */
    @ParameterizedTest(name = "{0} readings: factor {1}")
    @CsvSource({"8, 3.746", "10, 3.393", "12, 3.175", "15, 2.965", "20, 2.760", "30, 2.555", "50, 2.382"})
    void reachesAsFarAsThePrintedToleranceFactors(int count, double factor) {
        double[] values =
                IntStream.range(0, count).mapToDouble(i -> i % 2 == 0 ? 4 : 6).toArray();
        double mean = Arrays.stream(values).average().orElseThrow();
        double deviation = Math.sqrt(Arrays.stream(values)
                        .map(value -> (value - mean) * (value - mean))
                        .sum()
                / (count - 1));

        assertThat((KnownGood.band(values).high() - mean) / deviation).isCloseTo(factor, within(0.001));
    }
}
