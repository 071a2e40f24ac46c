package idlewright.reference.air;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class AtmosphereTest {

    // US Standard Atmosphere 1976, computed with g 9.80665 and R 287.0528.
    @ParameterizedTest
    @CsvSource({
        "0, 101325, 1.2250",
        "500, 95461, 1.1673",
        "1000, 89875, 1.1116",
        "1524, 84307, 1.0555",
        "1609.3, 83428, 1.0466",
        "2000, 79495, 1.0065",
        "3000, 70109, 0.9091",
        "3048, 69682, 0.9046"
    })
    void followsTheStandardAtmosphere(double altitudeM, double pascal, double density) {
        Atmosphere air = Atmosphere.standardAt(altitudeM);
        assertThat(air.pressureKpa() * 1000).isCloseTo(pascal, within(1.0));
        assertThat(air.densityGPerL()).isCloseTo(density, within(6e-5));
        assertThat(Atmosphere.standardAltitudeM(air.pressureKpa())).isCloseTo(altitudeM, within(0.01));
    }

    // US Standard Atmosphere 1976 as printed in US units: 12.228 psi and 20.48e-4 slug/ft3 at 5,000 ft.
    @Test
    void meetsThePrintedTableAtFiveThousandFeet() {
        Atmosphere air = Atmosphere.standardAt(1524);
        assertThat(air.pressureKpa() / 6.894757293).isCloseTo(12.228, within(5e-4));
        assertThat(air.densityGPerL()).isCloseTo(20.48e-4 * 515.378818, within(5e-4));
    }

    // Closed form printed with the standard: p0 (1 - h/44329)^5.255876.
    @Test
    void meetsThePrintedClosedForm() {
        for (double h = 0; h <= 10_000; h += 250) {
            assertThat(Atmosphere.standardAt(h).pressureKpa())
                    .isCloseTo(101.325 * Math.pow(1 - h / 44329, 5.255876), within(0.01));
        }
    }

    // Dry air at 101.325 kPa, computed from the ideal gas law; agrees with printed tables of dry air density.
    @ParameterizedTest
    @CsvSource({"0, 1.2923", "15, 1.2250", "20, 1.2041", "25, 1.1839"})
    void findsTheDensityOfDryAir(double celsius, double density) {
        assertThat(Atmosphere.dry(celsius, 101.325).densityGPerL()).isCloseTo(density, within(1e-4));
    }

    // CIPM-2007 moist air density at 20 degC, 101.325 kPa, 50 %: 1.199 kg/m3 (from memory).
    @Test
    void findsDampAirLighterThanDry() {
        assertThat(Atmosphere.moist(20, 101.325, 50).densityGPerL()).isCloseTo(1.199, within(1e-3));
        assertThat(Atmosphere.moist(20, 101.325, 0).densityGPerL())
                .isCloseTo(Atmosphere.dry(20, 101.325).densityGPerL(), within(1e-9));
        double lighter = 1
                - Atmosphere.moist(30, 101.325, 80).densityGPerL()
                        / Atmosphere.dry(30, 101.325).densityGPerL();
        assertThat(lighter).isCloseTo(0.0127, within(5e-4));
    }

    @Test
    void refusesAirThatCannotBe() {
        assertThatThrownBy(() -> Atmosphere.standardAt(20_000)).hasMessageContaining("between -500 and 11,000 m");
        assertThatThrownBy(() -> Atmosphere.dry(500, 100)).hasMessageContaining("between -60 and 200 degC");
        assertThatThrownBy(() -> Atmosphere.moist(20, 100, 101)).hasMessageContaining("between 0 and 100 %");
        assertThatThrownBy(() -> Atmosphere.standardAltitudeM(0)).hasMessageContaining("kPa");
    }
}
