package idlewright.reference.obd.log;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.reference.units.Unit;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class HeadersTest {

    @ParameterizedTest
    @CsvSource(
            delimiter = ';',
            value = {
                "Engine RPM (rpm); ENGINE_SPEED; RPM",
                "maf [g/s]; MASS_AIR_FLOW; GRAM_PER_SECOND",
                "calc_maf_gps; MASS_AIR_FLOW; GRAM_PER_SECOND",
                "MAF_kg_h; MASS_AIR_FLOW; KILOGRAM_PER_HOUR",
                "Mass Air Flow Rate (lb/min); MASS_AIR_FLOW; POUND_PER_MINUTE",
                "t_s; TIME; SECOND",
                "Time (sec); TIME; SECOND",
                "time_ms; TIME; MILLISECOND",
                "EngineSpeed; ENGINE_SPEED; ",
                "Motordrehzahl [1/min]; ENGINE_SPEED; RPM",
                "Kühlmitteltemperatur (°C); COOLANT_TEMPERATURE; CELSIUS",
                "Engine coolant temperature (deg C); COOLANT_TEMPERATURE; CELSIUS",
                "ECT_F; COOLANT_TEMPERATURE; FAHRENHEIT",
                "gps_speed_kmh; GPS_SPEED; KILOMETRE_PER_HOUR",
                "speed_mph; VEHICLE_SPEED; MILE_PER_HOUR",
                "VSS (km/h); VEHICLE_SPEED; KILOMETRE_PER_HOUR",
                "Calculated engine load value (%); CALCULATED_LOAD; PERCENT",
                "load_pct; CALCULATED_LOAD; PERCENT",
                "Absolute load value; ABSOLUTE_LOAD; ",
                "Intake manifold absolute pressure (kPa); MANIFOLD_PRESSURE; KILOPASCAL",
                "MAP (inHg); MANIFOLD_PRESSURE; INCH_OF_MERCURY",
                "Barometric pressure [kPa]; BAROMETER; KILOPASCAL",
                "Intake air temperature; INTAKE_AIR_TEMPERATURE; ",
                "IAT (°F); INTAKE_AIR_TEMPERATURE; FAHRENHEIT",
                "Absolute throttle position (%); THROTTLE; PERCENT",
                "Accelerator PedalPosition D (%); PEDAL; PERCENT",
                "Short term fuel trim - Bank 1 (%); SHORT_TRIM_1; PERCENT",
                "Long Term Fuel Trim Bank 2 [%]; LONG_TRIM_2; PERCENT",
                "STFT B1 (%); SHORT_TRIM_1; PERCENT",
                "LTFT2; LONG_TRIM_2; ",
                "SHRTFT1 (%); SHORT_TRIM_1; PERCENT",
                "LONGFT2 (%); LONG_TRIM_2; PERCENT",
                "O2 Voltage (Bank 1 Sensor 1) (V); O2_VOLTS_B1S1; VOLT",
                "O2S21 (V); O2_VOLTS_B2S1; VOLT",
                "O2 Sensor B1S2 Voltage; O2_VOLTS_B1S2; ",
                "Commanded equivalence ratio; COMMANDED_LAMBDA; ",
                "Lambda; LAMBDA; ",
                "AFR (:1); LAMBDA; AFR",
                "Engine fuel rate (L/h); FUEL_RATE; LITRE_PER_HOUR",
                "consumption_lph; FUEL_RATE; LITRE_PER_HOUR",
                "Timing advance (°); SPARK_ADVANCE; DEGREE",
                "Control module voltage (V); MODULE_VOLTAGE; VOLT",
                "Battery voltage; MODULE_VOLTAGE; ",
                "Fuel level input (%); FUEL_LEVEL; PERCENT",
                "Fuel rail pressure (bar); RAIL_PRESSURE; BAR",
                "0x0C; ENGINE_SPEED; ",
                "010C; ENGINE_SPEED; ",
                "PID 10; UNKNOWN; ",
                "Run time since engine start (s); RUN_TIME; SECOND"
            })
    void knowsHeadersOfAllKinds(String header, LogQuantity quantity, Unit unit) {
        Headers.Match match = Headers.match(header, "");

        assertThat(match.quantity()).isEqualTo(quantity);
        assertThat(match.unit()).isEqualTo(unit);
        if (quantity != LogQuantity.UNKNOWN) {
            assertThat(match.confidence()).isBetween(Headers.SURE_ENOUGH, 1.0);
        }
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "Injection time (ms)",
                "Input shaft speed (rpm)",
                "Fan speed",
                "Wheel speed FL",
                "Desired idle rpm",
                "co2_kgph",
                "Average consumption (L/100 km)",
                "Catalyst temperature B1S1 (°C)",
                "Vehicle speed (V)",
                "O2 sensor current B1S1 (mA)",
                "Knock",
                "Mass air flow (mg/stroke)",
                "",
                "???"
            })
    void doesNotTakeOneThingForAnother(String header) {
        assertThat(Headers.match(header, "").quantity()).isEqualTo(LogQuantity.UNKNOWN);
    }

    @ParameterizedTest
    @CsvSource({"Speed, Vehicle speed (km/h)", "calc_maf_gps, Mass air flow (g/s)"})
    void isSurerOfTheClearerHeader(String vague, String clear) {
        assertThat(Headers.match(vague, "").confidence())
                .isLessThan(Headers.match(clear, "").confidence());
    }
}
