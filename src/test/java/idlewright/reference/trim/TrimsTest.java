package idlewright.reference.trim;

import static idlewright.reference.trim.Suspect.AIR_FLOW_SENSOR_UNDER_READS;
import static idlewright.reference.trim.Suspect.AIR_LEAK;
import static idlewright.reference.trim.Suspect.FUEL_PRESSURE_LOW;
import static idlewright.reference.trim.Suspect.INJECTOR_LEAKING;
import static idlewright.reference.trim.Suspect.OXYGEN_SENSORS_CROSSED;
import static idlewright.reference.trim.TrimBand.CRUISE;
import static idlewright.reference.trim.TrimBand.IDLE;
import static idlewright.reference.trim.TrimBand.LOAD;
import static idlewright.reference.trim.TrimBand.RPM_2500;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import idlewright.reference.trim.TrimPattern.Kind;
import idlewright.reference.trim.TrimSetting.FlowForLoad;
import idlewright.reference.trim.TrimSetting.Metering;
import idlewright.reference.verdict.Verdict;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

/** Patterns and limits: common practice, no source; the 8 % normal band also holds over 302,009 rows of open road data. */
class TrimsTest {

    private static final TrimSetting USUAL = TrimSetting.USUAL;

    @Test
    void addsShortAndLong() {
        assertThat(new Trim(4.7, 11.7).totalPercent()).isEqualTo(16.4);
    }

    @Test
    void findsNothingInNormalTrims() {
        TrimReading reading = Trims.read(List.of(bank(1, 2.3, -1.6, 0.8), bank(2, 3.9, 0, -2.3)), USUAL);
        assertThat(reading.judged().verdict()).isEqualTo(Verdict.WITHIN);
        assertThat(reading.patterns()).isEmpty();
        assertThat(reading.judged().words())
                .isEqualTo("Bank 1 idle +2.3 %, 2,500 rpm -1.6 %, load +0.8 %; Bank 2 idle +3.9 %, 2,500 rpm +0.0 %,"
                        + " load -2.3 %. All within 8 %.");
    }

    @Test
    void leavesTheGreyStripTooCloseToCall() {
        assertThat(Trims.read(List.of(bank(1, 9, 4, 3)), USUAL).judged().verdict())
                .isEqualTo(Verdict.TOO_CLOSE);
    }

    @Test
    void namesAnAirLeakWhenLeanAtIdleOnly() {
        TrimPattern pattern = only(Trims.read(List.of(bank(1, 21, 5, 2), bank(2, 19, 4, 1)), USUAL));
        assertThat(pattern.kind()).isEqualTo(Kind.LEAN_AT_IDLE);
        assertThat(pattern.words()).startsWith("Both banks are lean at idle");
        assertThat(pattern.suspects()).startsWith(AIR_LEAK).doesNotContain(AIR_FLOW_SENSOR_UNDER_READS);
    }

    @Test
    void doesNotBlameALeakOnAnEngineThatMetersByManifoldPressure() {
        TrimSetting pressure = new TrimSetting(true, Metering.MANIFOLD_PRESSURE, FlowForLoad.NOT_READ);
        assertThat(only(Trims.read(List.of(bank(1, 21, 5, 2)), pressure)).suspects())
                .doesNotContain(AIR_LEAK);
    }

    @Test
    void tellsSensorFromSupplyByAirflowWhenLeanGrowsWithLoad() {
        List<BankTrims> banks = List.of(bank(1, 3, 8, 17), bank(2, 2, 9, 18));
        assertThat(only(Trims.read(banks, USUAL)).suspects()).contains(AIR_FLOW_SENSOR_UNDER_READS, FUEL_PRESSURE_LOW);
        assertThat(only(Trims.read(banks, USUAL.with(FlowForLoad.LOW))).suspects())
                .containsExactly(AIR_FLOW_SENSOR_UNDER_READS);
        assertThat(only(Trims.read(banks, USUAL.with(FlowForLoad.NORMAL))).suspects())
                .startsWith(FUEL_PRESSURE_LOW)
                .doesNotContain(AIR_FLOW_SENSOR_UNDER_READS);
    }

    @Test
    void namesFuelThatWasNotAskedForWhenRichAtIdleOnly() {
        TrimPattern pattern = only(Trims.read(List.of(bank(1, -16, -4, -1)), USUAL));
        assertThat(pattern.kind()).isEqualTo(Kind.RICH_AT_IDLE);
        assertThat(pattern.suspects()).startsWith(INJECTOR_LEAKING);
    }

    @Test
    void namesPressureWhenRichEverywhere() {
        TrimPattern pattern = only(Trims.read(List.of(bank(1, -14, -13, -15), bank(2, -13, -14, -12)), USUAL));
        assertThat(pattern.kind()).isEqualTo(Kind.RICH_THROUGHOUT);
        assertThat(pattern.suspects()).startsWith(Suspect.FUEL_PRESSURE_HIGH);
    }

    @Test
    void keepsAOneBankFaultOnThatBank() {
        TrimPattern pattern = only(Trims.read(List.of(bank(1, 1, 2, 0), bank(2, 15, 13, 14)), USUAL));
        assertThat(pattern.bank()).isEqualTo(2);
        assertThat(pattern.words()).startsWith("Only bank 2 is lean");
        assertThat(pattern.suspects()).doesNotContain(FUEL_PRESSURE_LOW, AIR_FLOW_SENSOR_UNDER_READS);
    }

    @Test
    void seesCrossedSensorsWhenTheBanksPullApart() {
        TrimPattern pattern = only(Trims.read(List.of(bank(1, 24, 25, 23), bank(2, -24, -23, -25)), USUAL));
        assertThat(pattern.kind()).isEqualTo(Kind.BANKS_OPPOSED);
        assertThat(pattern.suspects()).startsWith(OXYGEN_SENSORS_CROSSED);
    }

    @Test
    void seesADirtySensorWhenRichAtIdleAndLeanWithLoad() {
        TrimPattern pattern = only(Trims.read(List.of(bank(1, -11, 2, 14)), USUAL));
        assertThat(pattern.kind()).isEqualTo(Kind.RICH_AT_IDLE_LEAN_WITH_LOAD);
        assertThat(pattern.suspects()).startsWith(AIR_FLOW_SENSOR_UNDER_READS);
    }

    @Test
    void recognisesAnOldCorrectionAfterARepair() {
        BankTrims bank = new BankTrims(1, Map.of(IDLE, new Trim(-16, 17), CRUISE, new Trim(-1, 2)));
        TrimReading reading = Trims.read(List.of(bank), USUAL);
        assertThat(reading.judged().verdict()).isEqualTo(Verdict.WITHIN);
        assertThat(only(reading).suspects()).containsExactly(Suspect.ADAPTATION_NOT_RELEARNED);
    }

    @Test
    void asksForMoreBandsWhenOnlyOneWasRead() {
        BankTrims bank = new BankTrims(1, Map.of(IDLE, new Trim(5, 27)));
        TrimReading reading = Trims.read(List.of(bank), USUAL);
        assertThat(reading.judged().words()).contains("a code usually sets");
        assertThat(only(reading).words()).contains("read idle and 2,500 rpm too");
    }

    @Test
    void judgesNothingInOpenLoop() {
        TrimSetting open = new TrimSetting(false, Metering.MASS_AIR_FLOW, FlowForLoad.NOT_READ);
        TrimReading reading = Trims.read(List.of(bank(1, 40, 40, 40)), open);
        assertThat(reading.judged().verdict()).isEqualTo(Verdict.NOT_JUDGED);
        assertThat(reading.patterns()).isEmpty();
    }

    @Test
    void refusesTrimsThatCannotBe() {
        assertThatThrownBy(() -> new Trim(-101, 0)).hasMessageContaining("between -100 and 99.22 %");
        assertThatThrownBy(() -> bank(3, 0, 0, 0)).hasMessageContaining("1 or 2");
        assertThatThrownBy(() -> Trims.read(List.of(), USUAL)).hasMessageContaining("at least one bank");
        assertThatThrownBy(() -> Trims.read(List.of(bank(1, 0, 0, 0), bank(1, 0, 0, 0)), USUAL))
                .hasMessageContaining("bank 1 is given twice");
        assertThatThrownBy(() -> new TrimLimits(10, 8, 25)).hasMessageContaining("must rise");
    }

    @Test
    void givesEverySuspectAKey() {
        assertThat(AIR_FLOW_SENSOR_UNDER_READS.key()).isEqualTo("air-flow-sensor-under-reads");
    }

    private static BankTrims bank(int bank, double idle, double middle, double load) {
        return new BankTrims(
                bank,
                Map.of(
                        IDLE,
                        new Trim(idle / 4, idle * 3 / 4),
                        RPM_2500,
                        new Trim(middle / 4, middle * 3 / 4),
                        LOAD,
                        new Trim(load / 4, load * 3 / 4)));
    }

    private static TrimPattern only(TrimReading reading) {
        assertThat(reading.patterns()).hasSize(1);
        return reading.patterns().get(0);
    }
}
