package idlewright.reference.obd.log;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import idlewright.reference.obd.log.LogReading.Column;
import idlewright.reference.units.Unit;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** One small log, written the way different tools write. */
class LogFormsTest {
    private static final String PLAIN = """
            Time (s),Engine RPM (rpm),Vehicle speed (km/h),Coolant temp (°C)
            0.0,800.5,0,85
            0.5,810,10,86
            1.0,820,20,87
            1.5,830,30,88
            """;

    private static void isThePlainLog(LogReading log) {
        assertThat(log.problems()).noneMatch(problem -> problem.contains("could not be read"));
        assertThat(log.rows()).isEqualTo(4);
        assertThat(log.seconds()).isCloseTo(1.5, within(1e-6));
        assertThat(values(log, LogQuantity.ENGINE_SPEED))
                .containsExactly(new double[] {800.5, 810, 820, 830}, within(1e-6));
        assertThat(values(log, LogQuantity.VEHICLE_SPEED)).containsExactly(new double[] {0, 10, 20, 30}, within(1e-6));
        assertThat(values(log, LogQuantity.COOLANT_TEMPERATURE))
                .containsExactly(new double[] {85, 86, 87, 88}, within(1e-6));
    }

    private static double[] values(LogReading log, LogQuantity quantity) {
        return log.series(quantity).orElseThrow().values();
    }

    @ParameterizedTest
    @ValueSource(strings = {"UTF-8", "UTF-16", "UTF-16LE", "UTF-16BE", "ISO-8859-1", "windows-1252"})
    void readsEveryCharacterSet(String charset) {
        isThePlainLog(Drive.read(PLAIN, LogOptions.plain(), Charset.forName(charset)));
    }

    @Test
    void readsAByteOrderMark() {
        isThePlainLog(Drive.read("\ufeff" + PLAIN));
    }

    @ParameterizedTest
    @ValueSource(strings = {";", "\t", "|"})
    void readsEveryDelimiterAlsoWithDecimalCommas(String delimiter) {
        isThePlainLog(Drive.read(PLAIN.replace(",", delimiter)));
        isThePlainLog(Drive.read(PLAIN.replace(",", delimiter).replace(".", ",")));
    }

    @ParameterizedTest
    @ValueSource(strings = {"\r\n", "\r", "\n\n"})
    void readsEveryLineEnd(String end) {
        isThePlainLog(Drive.read(PLAIN.replace("\n", end)));
    }

    @Test
    void readsQuotedFields() {
        isThePlainLog(Drive.read(PLAIN.replaceAll("([^,\n]+)", "\"$1\"")));
    }

    @Test
    void skipsAPreamble() {
        isThePlainLog(
                Drive.read("Logged by,a tool\nVehicle: Brightwater Halden\n\nStarted 2026-01-02 10:11:12\n" + PLAIN));
    }

    @Test
    void readsAUnitsRow() {
        String csv = PLAIN.replace(
                "Time (s),Engine RPM (rpm),Vehicle speed (km/h),Coolant temp (°C)\n",
                "Time,Engine RPM,Vehicle speed,Coolant temp\ns,rpm,km/h,°C\n");
        isThePlainLog(Drive.read(csv));
        isThePlainLog(Drive.read(csv.replace("s,rpm,km/h,°C", "(s),(rpm),(km/h),(°C)")));
    }

    @Test
    void readsLongForm() {
        StringBuilder csv = new StringBuilder("seconds,pid,value,units\n");
        String[] lines = PLAIN.split("\n");
        for (int i = 1; i < lines.length; i++) {
            String[] cells = lines[i].split(",");
            csv.append(cells[0]).append(",Engine RPM,").append(cells[1]).append(",rpm\n");
            csv.append(cells[0]).append(",Vehicle speed,").append(cells[2]).append(",km/h\n");
            csv.append(cells[0])
                    .append(",Engine coolant temperature,")
                    .append(cells[3])
                    .append(",degC\n");
        }
        LogReading log = Drive.read(csv.toString());

        assertThat(log.rows()).isEqualTo(12);
        assertThat(values(log, LogQuantity.ENGINE_SPEED)).containsExactly(800.5, 810, 820, 830);
        assertThat(values(log, LogQuantity.COOLANT_TEMPERATURE)).containsExactly(85, 86, 87, 88);
    }

    @Test
    void givesTheCommonNameTheQuantityThatAGarbledOneTookFirst() {
        StringBuilder csv = new StringBuilder("seconds,pid,value,units\n0,-Engine RPM,700,rpm\n");
        for (int i = 1; i <= 40; i++) {
            csv.append(i).append(",Engine RPM,").append(800 + i).append(",rpm\n");
        }
        LogReading log = Drive.read(csv.toString());

        assertThat(log.column("Engine RPM").orElseThrow().used()).isTrue();
        assertThat(log.column("-Engine RPM").orElseThrow().used()).isFalse();
        assertThat(values(log, LogQuantity.ENGINE_SPEED)).hasSizeGreaterThan(25).endsWith(840);
    }

    @Test
    void readsTheTimeHoweverItIsWritten() {
        List<String[]> ways = List.of(
                new String[] {"Time (ms)", "0", "500", "1000", "1500"},
                new String[] {"time_ms", "7000", "7500", "8000", "8500"},
                new String[] {"timestamp", "1767348672000", "1767348672500", "1767348673000", "1767348673500"},
                new String[] {"Time", "0", "500", "1000", "1500"},
                new String[] {"Time", "10:11:12.0", "10:11:12.5", "10:11:13.0", "10:11:13.5"},
                new String[] {"Time", "10:11:12:000", "10:11:12:500", "10:11:13:000", "10:11:13:500"},
                new String[] {"Time", "59:59.0", "59:59.5", "60:00.0", "60:00.5"},
                new String[] {"Time", "23:59:59.0", "23:59:59.5", "00:00:00.0", "00:00:00.5"},
                new String[] {"Time", "11:59:59.0 AM", "11:59:59.5 AM", "12:00:00.0 PM", "12:00:00.5 PM"},
                new String[] {
                    "Device Time",
                    "2026-01-02T23:59:59Z",
                    "2026-01-02T23:59:59.5Z",
                    "2026-01-03T00:00:00Z",
                    "2026-01-03T00:00:00.500Z"
                },
                new String[] {
                    "Date time",
                    "02.01.2026 23:59:59",
                    "02.01.2026 23:59:59.5",
                    "03.01.2026 00:00:00",
                    "03.01.2026 00:00:00.5"
                });
        for (String[] way : ways) {
            String csv = PLAIN.replace("Time (s)", way[0])
                    .replace("\n0.0,", "\n" + way[1] + ",")
                    .replace("\n0.5,", "\n" + way[2] + ",")
                    .replace("\n1.0,", "\n" + way[3] + ",")
                    .replace("\n1.5,", "\n" + way[4] + ",");
            LogReading log = Drive.read(csv);
            assertThat(log.seconds()).as(csv).isCloseTo(1.5, within(1e-6));
            isThePlainLog(log);
        }
    }

    @Test
    void turnsEveryUnitIntoTheQuantitysOwn() {
        LogReading log = Drive.read("""
                t_s,RPM,Speed (mph),ECT [°F],MAF (lb/min),MAP (psi),Baro (inHg),Fuel rail pressure (bar),calc_load_pct,O2 Sensor Bank 1 Sensor 2 Voltage (mV),AFR
                0,800,50,212,1,14.5038,29.53,350,20,450,14.7
                1,810,50,212,1,14.5038,29.53,350,20,450,14.7
                2,820,50,212,1,14.5038,29.53,350,20,450,14.7
                """);

        assertThat(values(log, LogQuantity.VEHICLE_SPEED)[0]).isCloseTo(80.4672, within(1e-9));
        assertThat(values(log, LogQuantity.COOLANT_TEMPERATURE)[0]).isCloseTo(100, within(1e-9));
        assertThat(values(log, LogQuantity.MASS_AIR_FLOW)[0]).isCloseTo(7.5599, within(1e-4));
        assertThat(values(log, LogQuantity.MANIFOLD_PRESSURE)[0]).isCloseTo(100, within(1e-3));
        assertThat(values(log, LogQuantity.BAROMETER)[0]).isCloseTo(100, within(1e-2));
        assertThat(values(log, LogQuantity.RAIL_PRESSURE)[0]).isCloseTo(35_000, within(1e-6));
        assertThat(values(log, LogQuantity.O2_VOLTS_B1S2)[0]).isCloseTo(0.45, within(1e-9));
        assertThat(log.column("ECT [°F]").orElseThrow().unit()).isEqualTo(Unit.FAHRENHEIT);
    }

    @Test
    void takesWordsForMissingValuesAsMissing() {
        LogReading log = Drive.read("""
                Time (s),Engine RPM (rpm),Vehicle speed (km/h),Coolant temp (°C)
                0.0,NO DATA,0,-
                0.5,810,n/a,86
                1.0,820,20 km/h,
                1.5,---,30,N/A
                """);

        assertThat(log.rows()).isEqualTo(4);
        assertThat(log.badLines()).isZero();
        assertThat(values(log, LogQuantity.ENGINE_SPEED)).containsExactly(810, 820);
        assertThat(values(log, LogQuantity.VEHICLE_SPEED)).containsExactly(0, 20, 30);
        assertThat(values(log, LogQuantity.COOLANT_TEMPERATURE)).containsExactly(86);
    }

    @Test
    void namesBadLinesByTheirNumberAndReadsTheRest() {
        LogReading log = Drive.read("""
                Time (s),Engine RPM (rpm),Vehicle speed (km/h),Coolant temp (°C)
                0.0,800,0,85,,,
                0.5,810,10,86
                BUS INIT...
                1.0,820,20,87,99,12
                "1.5,830,30,88
                soon,830,30,88
                2.0,hot,cold,warm
                2.5,840,40,89
                """);

        assertThat(values(log, LogQuantity.ENGINE_SPEED)).containsExactly(800, 810, 840);
        assertThat(log.badLines()).isEqualTo(5);
        assertThat(log.problems())
                .anySatisfy(problem -> assertThat(problem)
                        .startsWith("5 lines could not be read: line 4 (no numbers)")
                        .contains("line 5 (6 fields where the header has 4)")
                        .contains("line 6 (no time that can be read)")
                        .contains("line 7 (no time that can be read)")
                        .contains("line 8 (text where numbers are expected)"));
    }

    @Test
    void countsRepeatedRowsAndHeadersOnce() {
        LogReading log = Drive.read(PLAIN.replace("0.5,810,10,86\n", "0.5,810,10,86\n0.5,810,10,86\n")
                + "Time (s),Engine RPM (rpm),Vehicle speed (km/h),Coolant temp (°C)\n");

        isThePlainLog(log);
        assertThat(log.problems()).contains("2 repeated lines are counted once.");
    }

    @Test
    void readsOnWhenTheClockFallsBack() {
        LogReading log = Drive.read(PLAIN + PLAIN.substring(PLAIN.indexOf('\n') + 1));

        assertThat(log.rows()).isEqualTo(8);
        assertThat(log.seconds()).isCloseTo(4, within(1e-9));
        assertThat(log.problems()).anyMatch(problem -> problem.startsWith("The time falls back 1 time"));
        // 0 to 30 km/h in 1.5 s, twice; nothing is driven between the pieces.
        assertThat(log.distanceKm().orElseThrow()).isCloseTo(2 * 15 * 1.5 / 3600, within(1e-12));
    }

    @Test
    void doesWhatTheReaderSaysAboutAColumn() {
        LogReading guessed = Drive.read(PLAIN.replace("Engine RPM (rpm)", "Channel 7"));
        LogReading said = Drive.read(
                PLAIN.replace("Engine RPM (rpm)", "Channel 7"),
                LogOptions.plain().withOverrides(Map.of("channel 7", LogQuantity.ENGINE_SPEED)));

        assertThat(guessed.series(LogQuantity.ENGINE_SPEED)).isEmpty();
        isThePlainLog(said);
        assertThat(said.column("Channel 7").map(Column::confidence)).hasValue(1.0);
    }

    @Test
    void readsWithoutAHeaderWhatTheReaderNames() {
        LogReading log = Drive.read(
                PLAIN.substring(PLAIN.indexOf('\n') + 1),
                LogOptions.plain()
                        .withOverrides(Map.of(
                                "column 2", LogQuantity.ENGINE_SPEED,
                                "column 3", LogQuantity.VEHICLE_SPEED,
                                "column 4", LogQuantity.COOLANT_TEMPERATURE)));

        isThePlainLog(log);
        assertThat(log.problems()).contains("No header line was found: say by hand what the columns are.");
    }

    @Test
    void saysWhichColumnsAreStuckOrEmpty() {
        StringBuilder csv =
                new StringBuilder("Time (s),RPM,MAF (g/s),Intake air temp (°C),Oil temp (°C),Barometer (kPa)\n");
        for (int i = 0; i < 60; i++) {
            csv.append(i).append(',').append(800 + 20 * i).append(",3.10,-40,n/a,99\n");
        }
        LogReading log = Drive.read(csv.toString());

        assertThat(log.column("MAF (g/s)").orElseThrow().stuck()).isTrue();
        assertThat(log.column("Intake air temp (°C)").orElseThrow().stuck()).isTrue();
        assertThat(log.column("Barometer (kPa)").orElseThrow().stuck()).isFalse();
        assertThat(log.column("RPM").orElseThrow().stuck()).isFalse();
        assertThat(log.column("Oil temp (°C)").orElseThrow().n()).isZero();
        assertThat(log.problems())
                .contains("\"Oil temp (°C)\" has no values.")
                .anyMatch(problem -> problem.startsWith("\"MAF (g/s)\" stands at 3.1 g/s throughout"));
        assertThat(log.plausible()).isTrue();
    }

    @Test
    void callsImpossibleValuesImplausibleUntilTheColumnIsLeftOut() {
        StringBuilder csv = new StringBuilder("Time (s),RPM,Coolant temp (°C),Vehicle speed (km/h)\n");
        for (int i = 0; i < 60; i++) {
            csv.append(i).append(",800,215,50\n");
        }
        LogReading log = Drive.read(csv.toString());
        LogReading without = Drive.read(
                csv.toString(), LogOptions.plain().withOverrides(Map.of("Coolant temp (°C)", LogQuantity.IGNORED)));

        assertThat(log.plausible()).isFalse();
        assertThat(log.problems().get(0))
                .startsWith("Coolant temperature is above 150 °C in 60 of 60 values (up to 215 °C)");
        assertThat(log.states()).isEmpty();
        assertThat(log.distanceKm()).isEmpty();
        assertThat(without.plausible()).isTrue();
        assertThat(without.distanceKm()).isPresent();
    }

    @Test
    void leavesSingleImpossibleValuesOut() {
        StringBuilder csv = new StringBuilder("Time (s),RPM (rpm)\n");
        for (int i = 0; i < 100; i++) {
            csv.append(i).append(i == 50 ? ",16383\n" : ",800\n");
        }
        LogReading log = Drive.read(csv.toString());

        assertThat(log.plausible()).isTrue();
        assertThat(log.problems()).contains("1 of 100 values of engine speed cannot be and are left out.");
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                " \n\n",
                "hello",
                "one,two\nthree,four\n",
                "\u0000\u0001\u0002\u0003",
                "%PDF-1.7\n%\u00e2\u00e3\n1 0 obj"
            })
    void saysWhenThereIsNoTable(String text) {
        LogReading log = Drive.read(text);

        assertThat(log.plausible()).isFalse();
        assertThat(log.rows()).isZero();
        assertThat(log.problems()).isNotEmpty();
    }

    @Test
    void isNotDrownedByAHostileField() {
        String hostile = "2.0," + "9".repeat(3_000_000) + ",1,1\n3.0,\"" + "x".repeat(2_000_000) + "\n4.0,900,40,90\n";
        LogReading log = Drive.read(PLAIN + hostile);

        assertThat(log.rows()).isEqualTo(5);
        assertThat(log.problems())
                .anyMatch(problem -> problem.contains("line 6 (longer than 65536 characters)")
                        && problem.contains("line 7 (longer than 65536 characters)"));
    }

    @Test
    void tellsItsProgressInBytes() {
        List<Long> told = new ArrayList<>();
        String csv = Drive.csv(0.01);
        Drive.read(csv, LogOptions.plain().telling(told::add));

        assertThat(told).isSorted().hasSizeGreaterThan(1);
        assertThat(told.get(told.size() - 1)).isEqualTo(csv.getBytes(StandardCharsets.UTF_8).length);
    }

    @Test
    void keepsThePreviewSmallAndItsExtremes() {
        LogReading log = Drive.read(Drive.csv(0.02));

        assertThat(log.rows()).isEqualTo(20_001);
        assertThat(log.preview()).allSatisfy(series -> {
            assertThat(series.values()).hasSizeBetween(900, 2000);
            assertThat(series.seconds()).isSorted();
        });
        double highest =
                Drive.rows(0.02).stream().mapToDouble(Drive.Row::rpm).max().orElseThrow();
        assertThat(values(log, LogQuantity.ENGINE_SPEED)).contains(Math.round(highest));
    }
}
