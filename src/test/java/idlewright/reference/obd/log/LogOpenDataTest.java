package idlewright.reference.obd.log;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import idlewright.reference.obd.log.LogReading.Kind;
import idlewright.reference.obd.log.LogReading.Series;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

/** Against open data; the expected figures were calculated outside of this code and stand beside the data. */
class LogOpenDataTest {

    @Test
    @DisplayName("enviroCar track 1 (ODbL, enviroCar contributors): 42.417 km, 3.598 L, 8.48 L/100 km")
    void reckonsDistanceAndFuelOfAPetrolDrive() throws IOException {
        LogReading log = read("envirocar-track-1.csv", LogOptions.plain().burning(Fuel.PETROL));

        assertThat(log.plausible()).isTrue();
        assertThat(log.rows()).isEqualTo(368);
        assertThat(log.badLines()).isZero();
        assertThat(log.distanceKm().orElseThrow()).isCloseTo(42.417, within(0.0005));
        assertThat(log.fuelL().orElseThrow()).isCloseTo(3.598, within(0.0005));
        assertThat(log.litresPer100Km().orElseThrow()).isCloseTo(8.48, within(0.005));
        assertThat(log.airFuelRatio().orElseThrow()).isCloseTo(14.7, within(0.001));
    }

    @Test
    @DisplayName("enviroCar track 1: the same fuel from the mass air flow alone, 0.32872 L/h per g/s")
    void reckonsTheSameFuelFromMassAirFlow() throws IOException {
        LogOptions withoutRate =
                LogOptions.plain().burning(Fuel.PETROL).withOverrides(Map.of("consumption_lph", LogQuantity.IGNORED));

        LogReading log = read("envirocar-track-1.csv", withoutRate);

        assertThat(log.fuelL().orElseThrow()).isCloseTo(3.598, within(0.0005));
        assertThat(log.problems()).anyMatch(problem -> problem.startsWith("Fuel is estimated from the mass air flow"));
    }

    @Test
    @DisplayName(
            "enviroCar track 1: load against manifold pressure r = 0.989; flow = 0.85 x ideal in every row (1.798 L)")
    void keepsEveryValueOfAShortLog() throws IOException {
        LogReading log = read("envirocar-track-1.csv", LogOptions.plain());
        Series load = log.series(LogQuantity.CALCULATED_LOAD).orElseThrow();
        Series pressure = log.series(LogQuantity.MANIFOLD_PRESSURE).orElseThrow();
        Series rpm = log.series(LogQuantity.ENGINE_SPEED).orElseThrow();
        Series intake = log.series(LogQuantity.INTAKE_AIR_TEMPERATURE).orElseThrow();
        Series flow = log.series(LogQuantity.MASS_AIR_FLOW).orElseThrow();

        assertThat(load.values()).hasSize(367);
        assertThat(correlation(load.values(), pressure.values())).isCloseTo(0.989, within(0.0005));
        for (int i = 0; i < 367; i++) {
            double ideal = 1.798e-3
                    * rpm.values()[i]
                    / 120
                    * pressure.values()[i]
                    * 1000
                    / (287.055 * (intake.values()[i] + 273.15))
                    * 1000;
            assertThat(flow.values()[i] / ideal).isCloseTo(0.85, within(0.002));
        }
    }

    @Test
    void findsIdleAndCruiseAtARowEveryFiveSeconds() throws IOException {
        LogReading log = read("envirocar-track-1.csv", LogOptions.plain());

        assertThat(log.states())
                .filteredOn(state -> state.kind() == Kind.CRUISE)
                .hasSizeGreaterThan(10);
        assertThat(log.states())
                .filteredOn(state -> state.kind() == Kind.IDLE)
                .isNotEmpty()
                .allSatisfy(state -> {
                    assertThat(state.reading(LogQuantity.ENGINE_SPEED)
                                    .orElseThrow()
                                    .median())
                            .isBetween(690.0, 720.0);
                    assertThat(state.note())
                            .hasValueSatisfying(note -> assertThat(note).contains("coolant"));
                });
        assertThat(log.states()).noneMatch(state -> state.kind() == Kind.HOT_IDLE);
        assertThat(log.problems()).anyMatch(problem -> problem.startsWith("No coolant temperature"));
    }

    @Test
    @DisplayName("obd2-data 2019-03-09 (MIT), diesel, long form: 38.00 km, 1.980 L, 5.21 L/100 km, air-fuel 21.2")
    void reckonsADieselDriveInLongForm() throws IOException {
        LogReading log =
                read("volvo-diesel-maf-fuelrate.csv", LogOptions.plain().burning(Fuel.DIESEL));

        assertThat(log.plausible()).isTrue();
        assertThat(log.distanceKm().orElseThrow()).isCloseTo(38.00, within(0.005));
        assertThat(log.fuelL().orElseThrow()).isCloseTo(1.980, within(0.0005));
        assertThat(log.litresPer100Km().orElseThrow()).isCloseTo(5.21, within(0.005));
        assertThat(log.airFuelRatio().orElseThrow()).isCloseTo(21.2, within(0.05));
        // 114 s without a value, driven at 110 km/h before and 109 km/h after.
        assertThat(log.problems())
                .anyMatch(problem -> problem.startsWith("3.46 of 38.00 km of the distance are assumed"));
    }

    @Test
    void tellsNoDieselFuelFromMassAirFlow() throws IOException {
        LogOptions withoutRate =
                LogOptions.plain().burning(Fuel.DIESEL).withOverrides(Map.of("Engine fuel rate", LogQuantity.IGNORED));

        LogReading log = read("volvo-diesel-maf-fuelrate.csv", withoutRate);

        assertThat(log.fuelL()).isEmpty();
        assertThat(log.litresPer100Km()).isEmpty();
        assertThat(log.problems()).anyMatch(problem -> problem.contains("diesel runs with more air than it burns"));
    }

    @Test
    @DisplayName("obd2-data 2019-02-22 (MIT), a simulator: one raw byte over all quantities")
    void callsASimulatorImplausible() throws IOException {
        LogReading log = read("not-a-car-emulator-trace.csv", LogOptions.plain().burning(Fuel.PETROL));

        assertThat(log.plausible()).isFalse();
        assertThat(log.problems().get(0)).contains("One raw byte is repeated over all quantities");
        assertThat(log.problems())
                .anyMatch(problem -> problem.startsWith("Engine speed is above 12,000 rpm"))
                .anyMatch(problem -> problem.startsWith("Coolant temperature is above 150"));
        assertThat(log.states()).isEmpty();
        assertThat(log.ramps()).isEmpty();
        assertThat(log.distanceKm()).isEmpty();
        assertThat(log.fuelL()).isEmpty();
        assertThat(log.columns()).hasSize(12);
    }

    private static LogReading read(String name, LogOptions options) throws IOException {
        Path file = Path.of(System.getProperty("open.data", "../shared/data"), name);
        Assumptions.assumeTrue(Files.exists(file), () -> "open data absent: " + file.toAbsolutePath());
        try (InputStream in = Files.newInputStream(file)) {
            return LogFile.read(in, options);
        }
    }

    private static double correlation(double[] x, double[] y) {
        double meanX = java.util.Arrays.stream(x).average().orElseThrow();
        double meanY = java.util.Arrays.stream(y).average().orElseThrow();
        double xy = 0;
        double xx = 0;
        double yy = 0;
        for (int i = 0; i < x.length; i++) {
            xy += (x[i] - meanX) * (y[i] - meanY);
            xx += (x[i] - meanX) * (x[i] - meanX);
            yy += (y[i] - meanY) * (y[i] - meanY);
        }
        return xy / Math.sqrt(xx * yy);
    }
}
