package idlewright.bench.rules;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import idlewright.bench.rules.KnownGood.Seen;
import idlewright.reference.units.Unit;
import idlewright.reference.verdict.Verdict;
import java.util.Arrays;
import java.util.List;
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
        assertThat(band.words()).isEqualTo("7 known-good cars, 8 are needed before they judge: shown, not judged.");
        assertThat(KnownGood.band(new double[0]).judges()).isFalse();
    }

    @Test
    void judgesFromEightOnWithItsGround() {
        KnownGood.Band band = KnownGood.band(new double[] {4.7, 4.8, 4.9, 5.0, 5.1, 4.8, 4.9, 5.0});
        Limit limit = band.limit(Unit.GRAM_PER_SECOND).orElseThrow();

        assertThat(limit.groundWords()).isEqualTo("known good, 8 cars of this shop");
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

        KnownGood.Band band = KnownGood.band(values);

        // the ends are rounded outwards to the digits they are written with
        double step = Math.pow(10, -band.decimals());
        assertThat(band.high()).isCloseTo(mean + factor * deviation + step / 2, within(step / 2 + 0.001 * deviation));
    }

    @Test
    void countsACarOnceByItsLastProvedTest() {
        assertThat(KnownGood.perCar(List.of(
                        new Seen(1, 10, 4.7),
                        new Seen(2, 11, 5.0),
                        new Seen(1, 30, 4.9),
                        new Seen(3, 12, 4.0),
                        new Seen(3, 12, 6.0),
                        new Seen(1, 20, 9.9))))
                .containsExactly(4.9, 5.0, 5.0);
    }

    @Test
    void writesNoDigitThatSoManyCarsCannotTell() {
        KnownGood.Band flow = KnownGood.band(new double[] {11.35, 12.63, 11.94, 12.21, 11.77, 12.02, 12.4, 11.6});
        KnownGood.Band alike = KnownGood.band(new double[] {5, 5, 5, 5, 5, 5, 5, 5});

        assertThat(flow.span()).isEqualTo("10.4 to 13.6");
        assertThat(flow.words())
                .isEqualTo("8 known-good cars: 95 of 100 healthy ones lie from 10.4 to 13.6, 95 % sure.");
        assertThat(flow.limit(Unit.GRAM_PER_SECOND).orElseThrow().words()).isEqualTo("10.4 to 13.6 g/s");
        assertThat(alike.span()).isEqualTo("3.9 to 6.1");
    }
}
