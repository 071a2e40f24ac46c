package idlewright.reference.obd;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import idlewright.reference.OpenData;
import idlewright.reference.units.Unit;
import java.math.BigDecimal;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.function.ToDoubleFunction;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

class PidTest {

    /** The formulas of public PID tables, written a second time in the style those tables use. */
    private static final Map<Integer, ToDoubleFunction<int[]>> FORMULAS = Map.ofEntries(
            Map.entry(0x04, d -> 100.0 * d[0] / 255),
            Map.entry(0x05, d -> d[0] - 40.0),
            Map.entry(0x06, d -> 100.0 * (d[0] - 128) / 128),
            Map.entry(0x09, d -> 100.0 * (d[0] - 128) / 128),
            Map.entry(0x0A, d -> 3.0 * d[0]),
            Map.entry(0x0B, d -> d[0]),
            Map.entry(0x0C, d -> (256 * d[0] + d[1]) / 4.0),
            Map.entry(0x0D, d -> d[0]),
            Map.entry(0x0E, d -> d[0] / 2.0 - 64),
            Map.entry(0x10, d -> (256 * d[0] + d[1]) / 100.0),
            Map.entry(0x14, d -> d[0] / 200.0),
            Map.entry(0x1F, d -> 256 * d[0] + d[1]),
            Map.entry(0x22, d -> 0.079 * (256 * d[0] + d[1])),
            Map.entry(0x23, d -> 10.0 * (256 * d[0] + d[1])),
            Map.entry(0x24, d -> 2.0 * (256 * d[0] + d[1]) / 65536),
            Map.entry(0x2D, d -> 100.0 * (d[0] - 128) / 128),
            Map.entry(0x32, d -> (short) (256 * d[0] + d[1]) / 4.0),
            Map.entry(0x34, d -> 2.0 * (256 * d[0] + d[1]) / 65536),
            Map.entry(0x3C, d -> (256 * d[0] + d[1]) / 10.0 - 40),
            Map.entry(0x42, d -> (256 * d[0] + d[1]) / 1000.0),
            Map.entry(0x43, d -> 100.0 * (256 * d[0] + d[1]) / 255),
            Map.entry(0x44, d -> 2.0 * (256 * d[0] + d[1]) / 65536),
            Map.entry(0x4D, d -> 256 * d[0] + d[1]),
            Map.entry(0x5D, d -> (256 * d[0] + d[1] - 26880) / 128.0),
            Map.entry(0x5E, d -> (256 * d[0] + d[1]) / 20.0));

    private static Value first(String answer) {
        return Obd.decode(answer).values().get(0);
    }

    private static String bytes(int... data) {
        StringBuilder hex = new StringBuilder();
        for (int one : data) {
            hex.append(String.format(" %02X", one));
        }
        return hex.toString();
    }

    @TestFactory
    List<DynamicTest> agreesWithThePublicVectors() {
        return OpenData.eachRow("pid-vectors.csv", PidTest::agrees);
    }

    private static void agrees(List<String> row) {
        Decoded decoded = Obd.decode("41" + row.get(0) + row.get(1));
        assertThat(decoded.problem()).isNull();
        assertThat(decoded.pid()).isEqualTo(row.get(0));
        String unit = row.get(3).split(" ")[0];
        Value value = decoded.values().stream()
                .filter(one -> one.unit().split(" ")[0].equals(unit))
                .findFirst()
                .orElseThrow();
        // python-OBD divides wide-band volts by 65535, the standard by 65536: 7.99988 and 8
        double tolerance = row.get(0).equals("24") ? 2e-4 : 1e-6;
        assertThat(value.number().orElseThrow())
                .isCloseTo(new BigDecimal(row.get(2)), within(BigDecimal.valueOf(tolerance)));
    }

    @ParameterizedTest(name = "PID {0}: {1} is {2}")
    @CsvSource(
            delimiter = '|',
            value = {
                // computed from the formulas of the check table, smallest and largest raw values
                "04|00|0 %",
                "05|00|-40 degC",
                "05|FF|215 degC",
                "06|00|-100 %",
                "06|FF|99.21875 %",
                "0A|FF|765 kPa",
                "0C|0C 63|792.75 rpm",
                "1F|00 3C|60 s",
                "22|FF FF|5177.265 kPa",
                "23|FF FF|655350 kPa",
                "30|FF|255",
                "32|80 00|-8192 Pa",
                "32|7F FF|8191.75 Pa",
                "33|65|101 kPa",
                "3C|FF FF|6513.5 degC",
                "42|FF FF|65.535 V",
                "43|FF FF|25700 %",
                "5D|FF FF|301.9921875 deg",
                "5E|00 14|1 L/h",
                "51|01|gasoline",
                "51|04|diesel",
                "51|C8|not defined (C8)",
                "1C|01|OBD II, California ARB",
                "1C|06|EOBD",
                "03|02 00|closed loop",
                "13|33|bank 1 sensor 1, bank 1 sensor 2, bank 2 sensor 1, bank 2 sensor 2"
            })
    void readsTheEndsOfTheScale(String pid, String data, String text) {
        assertThat(first("41 " + pid + " " + data).text()).isEqualTo(text);
        assertThat(Obd.decode("41 " + pid + " " + data).problem()).isNull();
    }

    @Test
    void readsBothValuesOfAnOxygenSensor() {
        assertThat(Obd.decode("41 14 5A 80").values()).extracting(Value::text).containsExactly("0.45 V", "0 %");
        assertThat(Obd.decode("41 14 5A FF").values()).extracting(Value::text).containsExactly("0.45 V", "not used");
        // 8000h is 4.0 V by the /65536 form; python-OBD's /65535 gives 4.00006
        assertThat(Obd.decode("41 24 80 00 80 00").values())
                .extracting(Value::text)
                .containsExactly("1 lambda", "4 V");
        assertThat(Obd.decode("41 34 80 00 80 00").values())
                .extracting(Value::text)
                .containsExactly("1 lambda", "0 mA");
    }

    @Test
    void saysWhenAFuelSystemIsInTwoStatesAtOnce() {
        Decoded decoded = Obd.decode("41 03 06 00");
        assertThat(decoded.problem())
                .isEqualTo("Byte 3, “06”, sets several fuel system states at once, which is not allowed.");
    }

    @Test
    void listsSupportedParameters() {
        assertThat(first("41 00 BE 3F A8 13").text())
                .isEqualTo("01 03 04 05 06 07 0B 0C 0D 0E 0F 10 11 13 15 1C 1F 20");
        assertThat(first("41 20 00 00 00 01").text()).isEqualTo("40");
        assertThat(first("41 40 00 00 00 00").text()).isEqualTo("none");
    }

    static Stream<Pid> figured() {
        return Pid.all().stream().filter(pid -> pid.fields().stream().anyMatch(Pid.Figure.class::isInstance));
    }

    @ParameterizedTest
    @MethodSource("figured")
    void comesBackFromBytesWithinHalfABit(Pid pid) {
        Random random = new Random(pid.id());
        for (Pid.Field field : pid.fields()) {
            if (!(field instanceof Pid.Figure figure)) {
                continue;
            }
            int span = 1 << (8 * figure.bytes());
            for (int i = 0; i < 300; i++) {
                int raw = random.nextInt(span);
                int[] data = random.ints(pid.length(), 0, 256).toArray();
                for (int b = 0; b < figure.bytes(); b++) {
                    data[figure.at() + b] = (raw >> (8 * (figure.bytes() - 1 - b))) & 0xFF;
                }
                Decoded decoded = Obd.decode("41 " + pid.hex() + bytes(data));
                assertThat(decoded.problem()).isNull();
                Value value = decoded.values().stream()
                        .filter(one -> one.name().equals(figure.name()))
                        .findFirst()
                        .orElseThrow();
                if (figure.blank() != null && figure.blank() == raw) {
                    assertThat(value.text()).isEqualTo("not used");
                    continue;
                }
                BigDecimal number = value.number().orElseThrow();
                double back = number.subtract(figure.offset()).doubleValue()
                        * figure.denominator().doubleValue()
                        / figure.numerator().doubleValue();
                int signed = figure.signed() && raw >= span / 2 ? raw - span : raw;
                assertThat(Math.round(back)).isEqualTo(signed);
                assertThat(number).isBetween(figure.min(), figure.max());
            }
        }
    }

    @ParameterizedTest
    @MethodSource("figured")
    void growsWithTheRawValue(Pid pid) {
        for (Pid.Field field : pid.fields()) {
            if (field instanceof Pid.Figure figure) {
                int half = 1 << (8 * figure.bytes() - 1);
                int from = figure.signed() ? -half : 0;
                BigDecimal before = figure.value(from);
                for (int raw = from + 1; raw < from + 2 * half; raw += figure.bytes() == 1 ? 1 : 17) {
                    BigDecimal now = figure.value(raw);
                    assertThat(now).isGreaterThan(before);
                    before = now;
                }
            }
        }
    }

    @Test
    void agreesWithTheFormulasForRandomBytes() {
        Random random = new Random(1979);
        FORMULAS.forEach((id, formula) -> {
            Pid pid = Pid.find(id).orElseThrow();
            for (int i = 0; i < 400; i++) {
                int[] data = random.ints(pid.length(), 0, 256).toArray();
                double value = first("41" + pid.hex() + bytes(data))
                        .number()
                        .orElseThrow()
                        .doubleValue();
                assertThat(value).as(pid.hex()).isCloseTo(formula.applyAsDouble(data), within(1e-6));
            }
        });
    }

    @Test
    void hasEveryParameterOfTheCheckTable() {
        int[] listed = IntStream.of(
                        0x00, 0x01, 0x03, 0x04, 0x05, 0x06, 0x07, 0x08, 0x09, 0x0A, 0x0B, 0x0C, 0x0D, 0x0E, 0x0F, 0x10,
                        0x11, 0x14, 0x15, 0x16, 0x17, 0x18, 0x19, 0x1A, 0x1B, 0x1C, 0x1F, 0x20, 0x21, 0x22, 0x23, 0x24,
                        0x25, 0x26, 0x27, 0x28, 0x29, 0x2A, 0x2B, 0x2C, 0x2D, 0x2E, 0x2F, 0x30, 0x31, 0x32, 0x33, 0x34,
                        0x35, 0x36, 0x37, 0x38, 0x39, 0x3A, 0x3B, 0x3C, 0x3D, 0x3E, 0x3F, 0x40, 0x42, 0x43, 0x44, 0x45,
                        0x46, 0x49, 0x4A, 0x4B, 0x4C, 0x4D, 0x4E, 0x51, 0x52, 0x5C, 0x5D, 0x5E)
                .toArray();
        for (int id : listed) {
            assertThat(Pid.find(id)).as("PID %02X", id).isPresent();
        }
    }

    @Test
    void usesOnlyUnitsThatTheHouseKnows() {
        Pid.all().stream()
                .flatMap(pid -> pid.fields().stream())
                .filter(Pid.Figure.class::isInstance)
                .map(field -> ((Pid.Figure) field).unit())
                .forEach(unit -> assertThat(Unit.of(unit)).as(unit).isPresent());
    }
}
