package idlewright.reference.air;

import static idlewright.reference.air.ParkedAirflow.Point.IDLE;
import static idlewright.reference.air.ParkedAirflow.Point.RPM_2500;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import idlewright.reference.air.ParkedAirflow.Sample;
import idlewright.reference.verdict.Band;
import idlewright.reference.verdict.Ground;
import idlewright.reference.verdict.Judged;
import idlewright.reference.verdict.Verdict;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Values of the trade: common practice, no source, unless a line says otherwise. */
class ParkedAirflowTest {

    private static final Engine EIGHT = Engine.fourStroke(4.4, 8);

    @ParameterizedTest
    @CsvSource({"650", "675", "700"})
    void callsAHealthyIdleOfABigEightGood(double rpm) {
        Judged judged = ParkedAirflow.judge(EIGHT, IDLE, 4.9, rpm, Sample.PROPER);
        assertThat(judged.verdict()).isEqualTo(Verdict.WITHIN);
        assertThat(judged.ground()).isEqualTo(Ground.PHYSICS);
    }

    @Test
    void callsAHealthyFlowAtTwentyFiveHundredGood() {
        Judged judged = ParkedAirflow.judge(EIGHT, RPM_2500, 24, 2500, Sample.PROPER);
        assertThat(judged.good()).isTrue();
        assertThat(judged.words())
                .isEqualTo("24.0 g/s at 2,500 rpm fills 22 % of the engine (absolute load); a healthy hot petrol engine"
                        + " shows 13 to 32 % at 2,500 rpm.");
    }

    // First two rows: a real idle and a column's 4.0 L idle at 20 % absolute load (December 2015).
    @ParameterizedTest
    @CsvSource({"3.56, 792.75, 1.997", "5.525, 700, 4.0", "4, 700, 3.0", "2.2, 850, 1.4"})
    void callsOtherHealthyIdlesGood(double gps, double rpm, double litres) {
        assertThat(ParkedAirflow.judge(Engine.fourStroke(litres, 4), IDLE, gps, rpm, Sample.PROPER)
                        .verdict())
                .isEqualTo(Verdict.WITHIN);
    }

    @Test
    void callsASleepySensorOutsideAndSaysWhere() {
        assertThat(ParkedAirflow.judge(EIGHT, RPM_2500, 12, 2500, Sample.PROPER).words())
                .contains("Low: the sensor under-reads");
        assertThat(ParkedAirflow.judge(EIGHT, IDLE, 12, 680, Sample.PROPER).words())
                .contains("High: the sensor over-reads");
    }

    @Test
    void judgesNothingThatWasNotTakenProperly() {
        assertThat(ParkedAirflow.judge(EIGHT, IDLE, 4.9, 680, new Sample(false, true, true))
                        .words())
                .contains("not hot");
        assertThat(ParkedAirflow.judge(EIGHT, IDLE, 4.9, 680, new Sample(true, false, true))
                        .words())
                .contains("not steady");
        assertThat(ParkedAirflow.judge(EIGHT, IDLE, 4.9, 680, new Sample(true, true, false))
                        .words())
                .contains("same moment");
        Judged wrongSpeed = ParkedAirflow.judge(EIGHT, RPM_2500, 15, 1800, Sample.PROPER);
        assertThat(wrongSpeed.verdict()).isEqualTo(Verdict.NOT_JUDGED);
        assertThat(wrongSpeed.words()).isEqualTo("1,800 rpm is not 2,500 rpm: read between 2,250 and 2,750 rpm.");
        assertThat(ParkedAirflow.judge(EIGHT.asDiesel(), IDLE, 20, 680, Sample.PROPER)
                        .verdict())
                .isEqualTo(Verdict.NOT_JUDGED);
    }

    @Test
    void judgesABoostedEngineParkedLikeAnyOther() {
        Engine boosted = Engine.fourStroke(2.0, 4).withBoost();
        assertThat(ParkedAirflow.judge(boosted, IDLE, 3.2, 800, Sample.PROPER).verdict())
                .isEqualTo(Verdict.WITHIN);
        assertThat(Airflow.absoluteLoadPercent(boosted, 180, 5500)).isGreaterThan(150);
    }

    @Test
    void saysWhenTheToolsCalculatedLoadIsAnotherFigure() {
        assertThat(ParkedAirflow.noteOnToolLoad(EIGHT, 14, 24, 2500))
                .hasValueSatisfying(
                        note -> assertThat(note)
                                .startsWith(
                                        "The tool shows 14 % as calculated load, but air mass and speed give an absolute load of 22 %."));
        assertThat(ParkedAirflow.noteOnToolLoad(EIGHT, 2.7, 4.9, 680))
                .hasValueSatisfying(
                        note -> assertThat(note).contains("2.7 %").contains("another one under the same name"));
        assertThat(ParkedAirflow.noteOnToolLoad(EIGHT, 26, 24, 2500)).isEmpty();
        assertThat(ParkedAirflow.noteOnToolLoad(EIGHT.withBoost(), 14, 24, 2500))
                .isEmpty();
    }

    @Test
    void namesTheFlowBandOfAnEngine() {
        Band band = ParkedAirflow.bandGps(EIGHT, RPM_2500, 2500);
        assertThat(Airflow.absoluteLoadPercent(EIGHT, band.low(), 2500)).isCloseTo(13, within(1e-9));
        assertThat(Airflow.absoluteLoadPercent(EIGHT, band.high(), 2500)).isCloseTo(32, within(1e-9));
    }
}
