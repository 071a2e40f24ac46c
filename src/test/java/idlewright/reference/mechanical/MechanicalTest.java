package idlewright.reference.mechanical;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import idlewright.reference.air.Atmosphere;
import idlewright.reference.mechanical.Compression.Rule;
import idlewright.reference.mechanical.Compression.WetFinding;
import idlewright.reference.verdict.Judged;
import idlewright.reference.verdict.Verdict;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Limits: common practice, no source, except where a test names one. */
class MechanicalTest {

    private static final double PSI = 6.894757293;

    // Makers' service texts: lowest at least 75 % of highest.
    @Test
    void asksThreeQuartersOfTheHighestOfEveryCylinder() {
        assertThat(Compression.judge(new double[] {1200, 1180, 900, 1210}, Rule.USUAL, 0)
                        .verdict())
                .isEqualTo(Verdict.OUTSIDE);
        assertThat(Compression.judge(new double[] {1200, 1180, 900, 1190}, Rule.USUAL, 0)
                        .verdict())
                .isEqualTo(Verdict.WITHIN);
        assertThat(Compression.judge(new double[] {1200, 1180, 890, 1190}, Rule.USUAL, 20)
                        .verdict())
                .isEqualTo(Verdict.TOO_CLOSE);
    }

    // Another maker: 70 % of highest and none below 100 psi (690 kPa); its example 150 psi -> 105 psi, 1035 -> 725 kPa.
    @Test
    void takesTheRuleOfTheVehicle() {
        Rule rule = new Rule(0.70, OptionalDouble.of(690), OptionalDouble.empty());
        assertThat(Compression.limit(150 * PSI, rule) / PSI).isCloseTo(105, within(1e-9));
        assertThat(Compression.limit(1035, rule)).isCloseTo(725, within(1.0));
        assertThat(Compression.limit(900, rule)).isEqualTo(690);
    }

    // US Army TM 10-3930-618-20: cylinders within 10 psi of each other; normal 120 to 125 psi on that engine.
    @Test
    void takesARuleBySpread() {
        Rule rule = new Rule(0.5, OptionalDouble.empty(), OptionalDouble.of(10 * PSI));
        assertThat(Compression.judge(new double[] {125 * PSI, 120 * PSI, 116 * PSI}, rule, 0)
                        .verdict())
                .isEqualTo(Verdict.WITHIN);
        assertThat(Compression.judge(new double[] {125 * PSI, 120 * PSI, 114 * PSI}, rule, 0)
                        .verdict())
                .isEqualTo(Verdict.OUTSIDE);
    }

    // Makers' service texts: rise with oil = rings, none = valves, two neighbours low = gasket.
    @Test
    void readsTheWetTestAndNeighbours() {
        assertThat(Compression.wet(700, 950, 900)).isEqualTo(WetFinding.RINGS);
        assertThat(Compression.wet(700, 720, 900)).isEqualTo(WetFinding.VALVES_OR_GASKET);
        assertThat(Compression.wet(0, 10, 900)).isEqualTo(WetFinding.VALVES_OR_GASKET);
        assertThat(Compression.wet(1100, 1200, 900)).isEqualTo(WetFinding.NOT_LOW);
        Judged judged = Compression.judge(new double[] {1200, 600, 580, 1190}, Rule.USUAL, 0);
        assertThat(judged.words())
                .isEqualTo(
                        "Lowest 580 kPa, highest 1200 kPa: lowest is 48 % of highest; at least 900 kPa is asked of every"
                                + " cylinder. Low: cylinders 2, 3. Two neighbours low: the gasket between them is suspect.");
        assertThat(Compression.judge(new double[] {0, 0, 0}, Rule.USUAL, 0).words())
                .startsWith("No cylinder builds");
    }

    @ParameterizedTest
    @CsvSource({"7, WITHIN, good", "15, WITHIN, acceptable", "25, OUTSIDE, wants repair", "45, OUTSIDE, serious"})
    void judgesLeakDown(double percent, Verdict verdict, String word) {
        assertThat(LeakDown.judge(percent).verdict()).isEqualTo(verdict);
        assertThat(LeakDown.judge(percent).words()).contains(word);
    }

    @Test
    void judgesInjectorsAgainstTheirMean() {
        assertThat(InjectorBalance.judge(new double[] {140, 138, 143, 139}, 0).verdict())
                .isEqualTo(Verdict.WITHIN);
        assertThat(InjectorBalance.judge(new double[] {140, 138, 112, 141}, 0).words())
                .isEqualTo(
                        "Mean drop 133 kPa; within 10 kPa of it is good. Injector 3 gives too little, restricted (112 kPa).");
        assertThat(InjectorBalance.judge(new double[] {140, 139, 126, 139}, 2).verdict())
                .isEqualTo(Verdict.TOO_CLOSE);
    }

    // A maker prints at least 60.0 kPa = 17.72 inHg; the rule of 1 inHg per 1,000 ft is what the standard atmosphere
    // loses.
    @Test
    void judgesIdleVacuumByAltitude() {
        assertThat(Vacuum.judgeIdle(60.0, 0, 0).verdict()).isEqualTo(Verdict.WITHIN);
        assertThat(Vacuum.judgeIdle(45, 0, 0).words()).contains("Low: air leak");
        assertThat(Vacuum.judgeIdle(45, 1524, 0).verdict()).isEqualTo(Verdict.WITHIN);
        double lossOfTheTable = Atmosphere.standardAt(0).pressureKpa()
                - Atmosphere.standardAt(1524).pressureKpa();
        double lossOfTheRule =
                Vacuum.idleBandKpa(0).low() - Vacuum.idleBandKpa(1524).low();
        assertThat(lossOfTheRule).isCloseTo(lossOfTheTable, within(0.2));
        assertThat(Vacuum.judgeIdle(67.7, 0, 0).words())
                .isEqualTo(
                        "68 kPa (20.0 inHg) of vacuum; at 0 m a healthy idle holds 58 to 75 kPa (17.0 to 22.0 inHg).");
        assertThat(Vacuum.Needle.FALLS_AT_2500.pointsTo()).isEqualTo("exhaust restricted");
    }

    @Test
    void judgesFuelPressureByTheMakersValue() {
        assertThat(FuelPressure.judge(368, 350, 5, 0).verdict()).isEqualTo(Verdict.OUTSIDE);
        assertThat(FuelPressure.judge(367.5, 350, 5, 0).verdict()).isEqualTo(Verdict.WITHIN);
        assertThat(FuelPressure.judge(250, 350, 5, 0).words()).contains("Low: filter, pump");
        assertThat(FuelPressure.judge(330, 350, 5, 5).verdict()).isEqualTo(Verdict.TOO_CLOSE);
    }

    @Test
    void judgesHowFuelPressureHolds() {
        assertThat(FuelPressure.holding(350, 330, 5).verdict()).isEqualTo(Verdict.WITHIN);
        assertThat(FuelPressure.holding(350, 330, 20).verdict()).isEqualTo(Verdict.WITHIN);
        assertThat(FuelPressure.holding(350, 250, 5).verdict()).isEqualTo(Verdict.OUTSIDE);
        assertThat(FuelPressure.holding(350, 300, 20).verdict()).isEqualTo(Verdict.NOT_JUDGED);
        assertThat(FuelPressure.holding(350, 345, 2).verdict()).isEqualTo(Verdict.NOT_JUDGED);
        assertThat(FuelPressure.regulator(250, 250 + 9 * PSI).verdict()).isEqualTo(Verdict.WITHIN);
        assertThat(FuelPressure.regulator(250, 255).words()).contains("stuck");
    }

    @Test
    void judgesBackPressure() {
        assertThat(ExhaustPressure.judge(ExhaustPressure.Point.RPM_2500, 12, 0).verdict())
                .isEqualTo(Verdict.WITHIN);
        assertThat(ExhaustPressure.judge(ExhaustPressure.Point.RPM_2500, 35, 0).words())
                .contains("restricted");
    }

    @Test
    void refusesPressuresThatCannotBe() {
        assertThatThrownBy(() -> Compression.judge(new double[] {1200}, Rule.USUAL, 0))
                .hasMessage("number of cylinders read must lie between 2 and 16, but was 1");
        assertThatThrownBy(() -> Compression.judge(new double[] {1200, -1}, Rule.USUAL, 0))
                .hasMessageContaining("0 and 6,000 kPa");
        assertThatThrownBy(() -> LeakDown.judge(101)).hasMessageContaining("0 and 100 %");
        assertThatThrownBy(() -> Vacuum.judgeIdle(120, 0, 0)).hasMessageContaining("0 and 105 kPa");
        assertThatThrownBy(() -> FuelPressure.judge(300, 0, 5, 0)).hasMessageContaining("maker's fuel pressure");
        assertThatThrownBy(() -> InjectorBalance.judge(new double[] {1, Double.NaN}, 0))
                .hasMessageContaining("not a number");
    }
}
