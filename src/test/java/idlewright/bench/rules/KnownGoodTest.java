package idlewright.bench.rules;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import idlewright.reference.units.Unit;
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
        assertThat(Judge.judge(4.9, Unit.GRAM_PER_SECOND, Accuracy.unknown(), limit).verdict()).isEqualTo(Verdict.WITHIN);
        assertThat(Judge.judge(3.4, Unit.GRAM_PER_SECOND, Accuracy.unknown(), limit).side()).isEqualTo(Side.LOW);
    }

    /** Exact two-sided factors for 95 % confidence and 95 % coverage: a printed table and a computation agree; Howe's stays within 1 %. */
    @ParameterizedTest(name = "{0} readings: factor {1}")
    @CsvSource({"8, 3.746", "10, 3.393", "12, 3.175", "15, 2.965", "20, 2.760", "30, 2.555", "50, 2.382"})
    void agreesWithThePrintedToleranceFactors(int count, double exact) {
        assertThat(KnownGood.howe(count)).isCloseTo(exact, within(exact * 0.01));
    }
}
