package idlewright.bench.rules;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import idlewright.reference.units.Unit;
import idlewright.reference.verdict.Ground;
import idlewright.reference.verdict.Verdict;
import java.util.List;
import org.junit.jupiter.api.Test;

class JudgeTest {
    private static final Limit BAND = new Limit(11.8, 12.6, Unit.VOLT, Ground.COMMON_PRACTICE, Limit.NO_SOURCE);
    private static final Accuracy METER = new Accuracy(0.5, 2, 0.01);

    @Test
    void callsAReadingWellInsideWithin() {
        Judged judged = Judge.judge(12.2, Unit.VOLT, METER, BAND);

        assertThat(judged.verdict().words()).isEqualTo("within");
        assertThat(judged.reason()).isEqualTo("12.2 V is within 11.8 to 12.6 V (common practice, no source).");
    }

    @Test
    void callsAReadingBeyondTheGuardBandOutsideAndSaysWhichSide() {
        Judged judged = Judge.judge(11.5, Unit.VOLT, METER, BAND);

        assertThat(judged.verdict()).isEqualTo(Verdict.OUTSIDE);
        assertThat(judged.side()).isEqualTo(Side.LOW);
        assertThat(judged.reason()).contains("outside, low").contains("11.8 to 12.6 V");
    }

    @Test
    void callsAReadingTooCloseWhenTheLimitLiesInsideTheMetersUncertainty() {
        Judged below = Judge.judge(11.75, Unit.VOLT, METER, BAND);
        Judged above = Judge.judge(11.85, Unit.VOLT, METER, BAND);

        assertThat(below.verdict().words()).isEqualTo("too close to call");
        assertThat(above.verdict().words()).isEqualTo("too close to call");
        assertThat(above.reason()).contains("11.85 V give or take").contains("limit 11.8 V");
    }

    /** JCGM 100, from memory: a rectangular promise of half-width a counts a/sqrt(3); coverage factor 2. */
    @Test
    void takesTheMetersPromiseAsRectangular() {
        double halfWidth = 0.005 * 12 + 2 * 0.01;

        assertThat(METER.expanded(12)).isCloseTo(2 * Math.sqrt(halfWidth * halfWidth / 3 + 1e-4 / 12), within(1e-12));
        assertThat(Accuracy.unknown().expanded(12)).isZero();
    }

    @Test
    void countsTheScaleOfOneMeterOnlyOnceInADifference() {
        assertThat(METER.expandedDifference(0.2)).isLessThan(METER.expanded(12)).isGreaterThan(METER.expanded(0.2));
    }

    @Test
    void judgesAcrossUnits() {
        var limit = new Limit(56.0, 75.0, Unit.KILOPASCAL, Ground.PUBLISHED, "shop manual, page 4");

        assertThat(Judge.judge(18, Unit.INCH_OF_MERCURY, Accuracy.unknown(), limit)
                        .verdict())
                .isEqualTo(Verdict.WITHIN);
        assertThat(Judge.judge(12, Unit.INCH_OF_MERCURY, Accuracy.unknown(), limit)
                        .reason())
                .contains("published, shop manual, page 4");
        assertThatThrownBy(() -> Judge.judge(12, Unit.VOLT, Accuracy.unknown(), limit))
                .isInstanceOf(Refusal.class);
    }

    @Test
    void acceptsAReadingExactlyOnTheLimitOfAnExactMeter() {
        assertThat(Judge.judge(
                                12.24 - 12.04,
                                Unit.VOLT,
                                Accuracy.unknown(),
                                new Limit(null, 0.2, Unit.VOLT, Ground.COMMON_PRACTICE, ""))
                        .verdict())
                .isEqualTo(Verdict.WITHIN);
    }

    @Test
    void judgesNothingWithoutALimit() {
        Judged judged = Judge.judge(12, Unit.VOLT, METER, null);

        assertThat(judged.verdict().words()).isEqualTo("not judged");
        assertThat(judged.reason()).contains("no limit is known");
    }

    @Test
    void choosesPublishedBeforeKnownGoodBeforePhysicsBeforeCommonPractice() {
        var published = new Limit(1.0, 2.0, Unit.VOLT, Ground.PUBLISHED, "manual");
        var known = new Limit(1.0, 2.0, Unit.VOLT, Ground.KNOWN_GOOD, "9 cars of this shop");
        var physics = new Limit(1.0, 2.0, Unit.VOLT, Ground.PHYSICS, "");
        var practice = new Limit(1.0, 2.0, Unit.VOLT, Ground.COMMON_PRACTICE, Limit.NO_SOURCE);

        assertThat(Limits.choose(List.of(practice, physics, known, published))).contains(published);
        assertThat(Limits.choose(List.of(practice, physics, known))).contains(known);
        assertThat(Limits.choose(List.of(practice, physics))).contains(physics);
        assertThat(Limits.choose(List.of())).isEmpty();
    }

    @Test
    void refusesAPublishedLimitWithoutCitation() {
        assertThatThrownBy(() -> new Limit(1.0, null, Unit.VOLT, Ground.PUBLISHED, " "))
                .hasMessageContaining("citation");
        assertThatThrownBy(() -> new Limit(null, null, Unit.VOLT, Ground.PHYSICS, ""))
                .isInstanceOf(Refusal.class);
        assertThatThrownBy(() -> new Limit(2.0, 1.0, Unit.VOLT, Ground.PHYSICS, ""))
                .isInstanceOf(Refusal.class);
    }
}
