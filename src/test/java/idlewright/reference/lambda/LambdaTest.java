package idlewright.reference.lambda;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import idlewright.reference.verdict.Verdict;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Limits: common practice, no source. */
class LambdaTest {

    // Computed from US DOE figures: ethanol in E10 is 0.1053 by mass, so 14.10.
    @Test
    void mixesEthanolByMass() {
        assertThat(Fuel.E10.stoichiometric()).isCloseTo(14.10, within(0.005));
        assertThat(Fuel.petrolWithEthanol(0).stoichiometric()).isEqualTo(Fuel.PETROL.stoichiometric());
        assertThat(Fuel.petrolWithEthanol(100).densityGPerL()).isEqualTo(Fuel.ETHANOL.densityGPerL());
        assertThat(Fuel.E85.stoichiometric()).isBetween(9.7, 9.9);
    }

    // US DOE: 0.9 + 0.1 x 76000/115000 = 0.9661.
    @Test
    void knowsThatEthanolHoldsLessEnergy() {
        assertThat(Fuel.energyShare(10)).isCloseTo(0.9661, within(5e-5));
    }

    @Test
    void turnsAirFuelRatioIntoLambdaAndBack() {
        assertThat(Mixture.lambda(14.7, Fuel.PETROL)).isEqualTo(1);
        assertThat(Mixture.lambda(14.7, Fuel.E10)).isCloseTo(1.0426, within(1e-3));
        assertThat(Mixture.airFuelRatio(Mixture.lambda(13.2, Fuel.E85), Fuel.E85))
                .isCloseTo(13.2, within(1e-12));
    }

    @ParameterizedTest
    @CsvSource({"1.00, 0, WITHIN", "0.97, 0, WITHIN", "0.96, 0, OUTSIDE", "1.05, 0, OUTSIDE", "1.035, 0.01, TOO_CLOSE"})
    void judgesLambdaInClosedLoop(double lambda, double uncertainty, Verdict verdict) {
        assertThat(Mixture.judge(lambda, Fuel.PETROL, true, uncertainty).verdict())
                .isEqualTo(verdict);
    }

    @Test
    void judgesNoLambdaThatIsOffOnPurpose() {
        assertThat(Mixture.judge(0.85, Fuel.PETROL, false, 0).verdict()).isEqualTo(Verdict.NOT_JUDGED);
        assertThat(Mixture.judge(1.5, Fuel.DIESEL, true, 0).words()).contains("lean by design");
    }

    @Test
    void countsTheSwitchesOfAHealthySensor() {
        double[] t = times(200, 0.05);
        double[] v = wave(t, 0.45, 0.4, 1.0);
        NarrowBand sensor = NarrowBand.read(t, v);
        // A 1 Hz wave crosses the middle twice a second; the first half swing has no side before it.
        assertThat(sensor.switches()).isBetween(18, 20);
        assertThat(sensor.lowVolts()).isCloseTo(0.05, within(0.01));
        assertThat(sensor.meanVolts()).isCloseTo(0.45, within(0.01));
        assertThat(sensor.judged().verdict()).isEqualTo(Verdict.WITHIN);
    }

    @Test
    void callsALazyAStuckAndANarrowSensorOutside() {
        double[] t = times(400, 0.05);
        assertThat(NarrowBand.read(t, wave(t, 0.45, 0.4, 0.1)).judged().words()).contains("lazy");
        assertThat(NarrowBand.read(t, wave(t, 0.12, 0.01, 1)).judged().words()).contains("stays lean");
        assertThat(NarrowBand.read(t, wave(t, 0.85, 0.01, 1)).judged().words()).contains("stays rich");
        assertThat(NarrowBand.read(t, wave(t, 0.45, 0.01, 1)).judged().words()).contains("not connected");
        assertThat(NarrowBand.read(t, wave(t, 0.45, 0.15, 1)).judged().words()).contains("does not swing wide");
    }

    @Test
    void countsNothingWhenTheToolIsTooSlow() {
        double[] t = times(20, 1.0);
        double[] v = new double[20];
        for (int i = 0; i < 20; i++) {
            v[i] = i < 10 ? 0.1 : 0.8;
        }
        assertThat(NarrowBand.read(t, v).judged().verdict()).isEqualTo(Verdict.NOT_JUDGED);
    }

    @Test
    void readsTheCatalystFromBothSensors() {
        double[] t = times(200, 0.05);
        NarrowBand ahead = NarrowBand.read(t, wave(t, 0.45, 0.4, 1));
        NarrowBand steady = NarrowBand.read(t, wave(t, 0.68, 0.03, 0.3));
        assertThat(steady.judgedBehindCatalyst(ahead).verdict()).isEqualTo(Verdict.WITHIN);
        assertThat(ahead.judgedBehindCatalyst(ahead).verdict()).isEqualTo(Verdict.OUTSIDE);
        assertThat(steady.judgedBehindCatalyst(steady).verdict()).isEqualTo(Verdict.NOT_JUDGED);
    }

    @Test
    void refusesWhatCannotBe() {
        assertThatThrownBy(() -> Mixture.lambda(0, Fuel.PETROL)).hasMessageContaining("between 3 and 200");
        assertThatThrownBy(() -> Fuel.petrolWithEthanol(110)).hasMessageContaining("between 0 and 100 %");
        assertThatThrownBy(() -> NarrowBand.read(new double[] {1}, new double[] {1}))
                .hasMessageContaining("10 points");
        double[] t = times(20, 1);
        double[] v = wave(t, 0.45, 0.4, 0.2);
        v[3] = 12;
        assertThatThrownBy(() -> NarrowBand.read(t, v)).hasMessageContaining("between -0.2 and 1.3 V");
    }

    private static double[] times(int n, double step) {
        double[] t = new double[n];
        for (int i = 0; i < n; i++) {
            t[i] = i * step;
        }
        return t;
    }

    private static double[] wave(double[] t, double middle, double swing, double hertz) {
        double[] v = new double[t.length];
        for (int i = 0; i < t.length; i++) {
            v[i] = middle + swing * Math.sin(2 * Math.PI * hertz * t[i]);
        }
        return v;
    }
}
