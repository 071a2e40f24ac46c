package idlewright.reference.electric;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import idlewright.reference.electric.Battery.Build;
import idlewright.reference.electric.Battery.Rest;
import idlewright.reference.electric.Isolation.Fault;
import idlewright.reference.electric.VoltageDrop.Path;
import idlewright.reference.verdict.Judged;
import idlewright.reference.verdict.Verdict;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Limits: common practice, no source, except the rest table (reference sheet crediting BCI). */
class ElectricTest {

    private static final Rest RESTED = new Rest(true, 8, false);

    @Test
    void callsTwelvePointNoughtFourVoltsGoodOnABatteryAtTwelvePointOne() {
        Judged judged = Supply.judge(12.04, OptionalDouble.of(12.1));
        assertThat(judged.verdict()).isEqualTo(Verdict.WITHIN);
        assertThat(judged.words())
                .isEqualTo("Feed 12.04 V, battery 12.10 V at the same moment: drop 0.06 V, at most 0.2 V is good.");
        assertThat(Battery.atRest(12.04, new Rest(false, 0, false), Build.FLOODED, 20)
                        .judged()
                        .verdict())
                .isEqualTo(Verdict.NOT_JUDGED);
    }

    @Test
    void callsAFeedThatLosesVoltageOutside() {
        assertThat(Supply.judge(11.2, OptionalDouble.of(12.5)).words())
                .contains("drop 1.30 V")
                .contains("before buying a part");
        assertThat(Supply.judge(12.4, OptionalDouble.of(12.6)).verdict()).isEqualTo(Verdict.WITHIN);
        assertThat(Supply.judge(12.39, OptionalDouble.of(12.6)).verdict()).isEqualTo(Verdict.OUTSIDE);
        assertThat(Supply.judge(12.39, OptionalDouble.of(12.6), 0.05).verdict()).isEqualTo(Verdict.TOO_CLOSE);
    }

    @Test
    void judgesNoFeedWithoutItsBattery() {
        assertThat(Supply.judge(12.0, OptionalDouble.empty()).words())
                .contains("measure the battery at the same moment");
        assertThat(Supply.judge(14.1, OptionalDouble.of(12.5)).words()).contains("not read at the same moment");
        assertThat(Supply.judge(24, OptionalDouble.of(25)).verdict()).isEqualTo(Verdict.NOT_JUDGED);
    }

    @Test
    void recognisesSwappedProbes() {
        Judged judged = Supply.judge(-12.04, OptionalDouble.of(12.1));
        assertThat(judged.verdict()).isEqualTo(Verdict.WITHIN);
        assertThat(judged.words())
                .startsWith("The meter showed -12.04 V: probes swapped, 12.04 V counts. Feed 12.04 V");
        assertThat(Probes.read(12).note()).isEmpty();
        assertThat(VoltageDrop.judge(Path.SENSOR_GROUND, -0.02, true, 0).good()).isTrue();
    }

    @ParameterizedTest
    @CsvSource({
        "12.5, 12.45, 12.45, NONE",
        "12.5, 12.45, 10.90, GROUND_WIRE",
        "12.5, 10.90, 12.45, FEED_WIRE",
        "12.5, 10.90, 11.20, BOTH_WIRES",
        "-12.5, 12.30, -9.00, GROUND_WIRE"
    })
    void isolatesTheWireThatLosesTheVoltage(double battery, double feed, double ground, Fault fault) {
        Isolation isolation = Isolation.find(battery, feed, ground);
        assertThat(isolation.fault()).isEqualTo(fault);
        assertThat(isolation.judged().good()).isEqualTo(fault == Fault.NONE);
    }

    @ParameterizedTest
    @CsvSource({"12.65, 100", "12.45, 75", "12.24, 50", "12.06, 25", "11.89, 0", "11.0, 0", "12.9, 100", "12.55, 90"})
    void readsTheRestTableAtRest(double volts, double percent) {
        assertThat(Battery.atRest(volts, RESTED, Build.FLOODED, 25).percent()).hasValue(percent);
    }

    @Test
    void refusesTheRestTableWhenTheBatteryWasNotAtRest() {
        assertThat(Battery.atRest(12.4, new Rest(true, 1, false), Build.FLOODED, 25)
                        .judged()
                        .words())
                .contains("wait 6 hours");
        assertThat(Battery.atRest(12.4, new Rest(true, 1, true), Build.FLOODED, 25)
                        .percent())
                .isPresent();
        assertThat(Battery.atRest(12.4, RESTED, Build.AGM, 25).judged().words()).contains("AGM");
        assertThat(Battery.atRest(14.1, RESTED, Build.FLOODED, 25).percent()).isEmpty();
        assertThat(Battery.atRest(12.65, RESTED, Build.FLOODED, -5).judged().words())
                .contains("only a hint");
    }

    @Test
    void judgesCrankingByTemperature() {
        assertThat(Battery.crankingLimitVolts(21)).isCloseTo(9.6, within(1e-9));
        assertThat(Battery.cranking(9.7, 21, 0).verdict()).isEqualTo(Verdict.WITHIN);
        assertThat(Battery.cranking(9.4, 21, 0).words())
                .isEqualTo(
                        "9.40 V while cranking; at 21 °C at least 9.6 V is good: charge the battery and repeat before"
                                + " blaming battery or starter.");
        assertThat(Battery.cranking(9.2, -10, 0).verdict()).isEqualTo(Verdict.WITHIN);
        assertThat(Battery.cranking(9.55, 21, 0.1).verdict()).isEqualTo(Verdict.TOO_CLOSE);
    }

    // First two: 5th and 95th percentile of a healthy car's open data (13.46..14.14 V).
    @ParameterizedTest
    @CsvSource({
        "13.46, false, TOO_CLOSE",
        "14.14, false, WITHIN",
        "12.9, false, OUTSIDE",
        "15.4, false, OUTSIDE",
        "15.4, true, OUTSIDE",
        "12.7, true, NOT_JUDGED",
        "12.2, true, OUTSIDE",
        "14.9, false, TOO_CLOSE",
        "14.9, true, NOT_JUDGED"
    })
    void judgesCharging(double volts, boolean smart, Verdict verdict) {
        assertThat(Battery.charging(volts, smart, 0).verdict()).isEqualTo(verdict);
    }

    @ParameterizedTest
    @CsvSource({
        "GROUND, 0.1, WITHIN",
        "GROUND, 0.15, OUTSIDE",
        "SENSOR_GROUND, 0.06, OUTSIDE",
        "STARTER_POSITIVE, 0.45, WITHIN",
        "STARTER_GROUND, 0.4, OUTSIDE",
        "SWITCH, 0.25, WITHIN",
        "CABLE, 0.21, OUTSIDE",
        "CONNECTION, 0.05, WITHIN"
    })
    void judgesDropsByPath(Path path, double volts, Verdict verdict) {
        assertThat(VoltageDrop.judge(path, volts, true, 0).verdict()).isEqualTo(verdict);
        assertThat(VoltageDrop.judge(path, volts, false, 0).verdict()).isEqualTo(Verdict.NOT_JUDGED);
    }

    @Test
    void judgesTheReference() {
        assertThat(SensorReference.judge(5.08, 5, 0).verdict()).isEqualTo(Verdict.WITHIN);
        assertThat(SensorReference.judge(5.1, 5, 0).verdict()).isEqualTo(Verdict.WITHIN);
        assertThat(SensorReference.judge(4.6, 5, 0).words()).contains("one at a time");
    }

    @Test
    void refusesVoltagesNoVehicleHas() {
        assertThatThrownBy(() -> Probes.read(230)).hasMessage("voltage must lie between -60 and 60 V, but was 230");
        assertThatThrownBy(() -> Isolation.find(2, 1, 1)).hasMessageContaining("between 6 and 18 V");
        assertThatThrownBy(() -> Battery.cranking(10, 90, 0)).hasMessageContaining("between -40 and 70 degC");
        assertThatThrownBy(() -> Supply.judge(Double.NaN, OptionalDouble.of(12)))
                .hasMessageContaining("not a number");
    }
}
