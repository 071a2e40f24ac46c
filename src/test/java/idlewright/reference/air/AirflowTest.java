package idlewright.reference.air;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import idlewright.reference.verdict.Verdict;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class AirflowTest {

    // SAE J1979 absolute load (PID 43); the first row is a real idle, the others computed from the formula.
    @ParameterizedTest
    @CsvSource({"3.56, 792.75, 1.997, 22.79", "15, 2500, 2.5, 24.32", "4, 700, 3.0, 19.31", "20, 3000, 2.0, 33.78"})
    void findsAbsoluteLoad(double gps, double rpm, double litres, double percent) {
        assertThat(Airflow.absoluteLoadPercent(Engine.fourStroke(litres, 4), gps, rpm))
                .isCloseTo(percent, within(0.005));
    }

    // SAE J1979 absolute load in its own words: g per intake stroke / (1.184 g/L x litres per cylinder).
    @ParameterizedTest
    @CsvSource({"3", "4", "6", "8", "12"})
    void findsTheSameAbsoluteLoadForAnyNumberOfCylinders(int cylinders) {
        Engine engine = Engine.fourStroke(3.0, cylinders);
        double perStroke = Airflow.mgPerStroke(engine, 20, 2500) / 1000;
        assertThat(Airflow.absoluteLoadPercent(engine, 20, 2500))
                .isCloseTo(100 * perStroke / (1.184 * 3.0 / cylinders), within(1e-9));
    }

    // SAE J1979 calculated load (PID 04), computed: 60 of 100 g/s at 24.9 inHg and 35 degC.
    @Test
    void findsCalculatedLoad() {
        assertThat(Airflow.calculatedLoadPercent(60, 100, 24.9 * 3.386389, 35)).isCloseTo(73.30, within(0.01));
        assertThat(Airflow.calculatedLoadPercent(100, 100, 101.325, 25)).isCloseTo(100, within(1e-9));
        assertThat(Airflow.calculatedLoadOlderFormPercent(50, 100, 101.325 / 2)).isCloseTo(100, within(1e-9));
    }

    // Worked example of a trade column (October 2015): 3.0 L, 700 rpm, 1.18 g/L.
    @Test
    void followsThePrintedIdleExample() {
        Engine engine = Engine.fourStroke(3.0, 6);
        assertThat(Airflow.idealGps(engine, 700, 1.18)).isCloseTo(20.65, within(1e-9));
        assertThat(Airflow.expectedGps(engine, 700, 50, 1.18)).isCloseTo(10.35, within(0.03));
        assertThat(Airflow.expectedGps(engine, 700, 50.0 / 3, 1.18)).isCloseTo(3.4, within(0.05));
    }

    // Computed: displacement x speed x density, as 40 CFR 1065.930(d) states the product.
    @Test
    void findsExpectedFlow() {
        Engine engine = Engine.fourStroke(2.0, 4);
        assertThat(Airflow.expectedGps(engine, 2500, 80, 1.184)).isCloseTo(39.47, within(0.005));
        assertThat(Airflow.expectedGps(engine, 2500, 80, 1.225)).isCloseTo(40.83, within(0.005));
    }

    @Test
    void countsEveryTurnOfATwoStroke() {
        Engine two = new Engine(0.5, 2, 2, false, true);
        assertThat(Airflow.idealGps(two, 3000, 1.2))
                .isCloseTo(2 * Airflow.idealGps(Engine.fourStroke(0.5, 2), 3000, 1.2), within(1e-9));
        assertThat(Airflow.mgPerStroke(two, 10, 3000)).isCloseTo(100, within(1e-9));
    }

    // Printed approximation for engines without a flow sensor: IMAP/120 x VE x litres x 28.97/8.314.
    @Test
    void estimatesFlowFromSpeedAndDensity() {
        double imap = 1750 * 45.0 / (30 + 273.15);
        double printed = imap / 120 * 0.80 * 2.2 * 28.97 / 8.314;
        assertThat(Airflow.speedDensityGps(Engine.fourStroke(2.2, 4), 1750, 45, 30, 80))
                .isCloseTo(printed, within(printed * 0.0005));
    }

    @Test
    void findsFillingOfAmbientAndOfManifold() {
        Engine engine = Engine.fourStroke(2.5, 5).withBoost();
        Atmosphere ambient = Atmosphere.dry(20, 100);
        double flow = Airflow.speedDensityGps(engine, 3000, 180, 40, 94);
        assertThat(Airflow.fillingOfManifoldPercent(engine, flow, 3000, 180, 40))
                .isCloseTo(94, within(1e-9));
        assertThat(Airflow.fillingOfAmbientPercent(engine, flow, 3000, ambient)).isGreaterThan(150);
    }

    @Test
    void refusesImpossibleInput() {
        Engine engine = Engine.fourStroke(2.0, 4);
        assertThatThrownBy(() -> Engine.fourStroke(0, 4)).hasMessageContaining("between 0.05 and 30 L");
        assertThatThrownBy(() -> new Engine(2, 4, 3, false, true)).hasMessageContaining("2 or 4 strokes");
        assertThatThrownBy(() -> Airflow.absoluteLoadPercent(engine, -1, 800)).hasMessageContaining("0 and 2,000 g/s");
        assertThatThrownBy(() -> Airflow.absoluteLoadPercent(engine, 3, 0)).hasMessageContaining("1 and 20,000 rpm");
        assertThatThrownBy(() -> Airflow.speedDensityGps(engine, 800, 35, 300, 80))
                .hasMessageContaining("degC");
        assertThatThrownBy(() -> Airflow.calculatedLoadPercent(10, 0, 100, 25)).hasMessageContaining("peak airflow");
    }

    @Test
    void setsAMeasuredFlowBesideTheEstimate() {
        assertThat(new FlowBeside(10, 10.5).judged().verdict()).isEqualTo(Verdict.WITHIN);
        assertThat(new FlowBeside(6, 10).judged().words())
                .isEqualTo(
                        "Measured 6.0 g/s, speed and density give 10.0 g/s (-40 %): the sensor under-reads, or air enters"
                                + " behind it, or exhaust gas fills the manifold.");
        assertThat(new FlowBeside(14, 10).judged().words()).contains("over-reads");
    }
}
