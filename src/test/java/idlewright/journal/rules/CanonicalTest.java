package idlewright.journal.rules;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.math.BigDecimal;
import java.time.Instant;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The values are those of RFC 8785 as its text prints them, taken down from memory. */
@DisplayName("Canonical JSON, against the samples of RFC 8785")
class CanonicalTest {

    @ParameterizedTest(name = "{0} is {1} (RFC 8785, appendix B)")
    @CsvSource({
        "0000000000000000, 0",
        "8000000000000000, 0",
        "0000000000000001, 5e-324",
        "8000000000000001, -5e-324",
        "7fefffffffffffff, 1.7976931348623157e+308",
        "ffefffffffffffff, -1.7976931348623157e+308",
        "4340000000000000, 9007199254740992",
        "c340000000000000, -9007199254740992",
        "4430000000000000, 295147905179352830000",
        "44b52d02c7e14af5, 9.999999999999997e+22",
        "44b52d02c7e14af6, 1e+23",
        "44b52d02c7e14af7, 1.0000000000000001e+23",
        "444b1ae4d6e2ef4e, 999999999999999700000",
        "444b1ae4d6e2ef4f, 999999999999999900000",
        "444b1ae4d6e2ef50, 1e+21",
        "3eb0c6f7a0b5ed8c, 9.999999999999997e-7",
        "3eb0c6f7a0b5ed8d, 0.000001",
        "41b3de4355555553, 333333333.3333332",
        "41b3de4355555554, 333333333.33333325",
        "41b3de4355555555, 333333333.3333333",
        "41b3de4355555556, 333333333.3333334",
        "41b3de4355555557, 333333333.33333343",
        "becbf647612f3696, -0.0000033333333333333333",
        "43143ff3c1cb0959, 1424953923781206.2"
    })
    void writesADoubleAsTheStandardDoes(String bits, String written) {
        assertThat(Canonical.json(Double.longBitsToDouble(Long.parseUnsignedLong(bits, 16))))
                .isEqualTo(written);
    }

    @Test
    void takesTheShorterNeighbourBesideAPowerOfTwo() {
        // 2^-44 as ECMAScript writes it; the nearest 16 digits, ...801, read back as another double. From memory.
        assertThat(Canonical.json(Math.scalb(1.0, -44))).isEqualTo("5.684341886080802e-14");
    }

    @Test
    void readsEveryWrittenDoubleBackAsItWas() {
        var random = new SplittableRandom(8785);
        for (int i = 0; i < 20_000; i++) {
            var value = Double.longBitsToDouble(random.nextLong());
            if (Double.isFinite(value)) {
                assertThat(Double.parseDouble(Canonical.json(value))).isEqualTo(value == 0 ? 0.0 : value);
            }
        }
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY})
    void refusesWhatIsNoNumber(double value) {
        assertThatIllegalArgumentException().isThrownBy(() -> Canonical.json(value));
    }

    @Test
    @DisplayName("writes the sample of RFC 8785, section 3.2.2 as section 3.2.3 shows it")
    void writesTheSampleOfTheStandard() {
        var sample = Map.of(
                "numbers", List.of(333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001),
                "string", "\u20ac$\u000F\nA'\u0042\"\\\\\"/",
                "literals", Arrays.asList(null, true, false));
        assertThat(Canonical.json(sample))
                .isEqualTo("{\"literals\":[null,true,false],"
                        + "\"numbers\":[333333333.3333333,1e+30,4.5,0.002,1e-27],"
                        + "\"string\":\"\u20ac$\\u000f\\nA'B\\\"\\\\\\\\\\\"/\"}");
    }

    @Test
    @DisplayName("sorts members by UTF-16 code units, as the sample of RFC 8785, section 3.2.3")
    void sortsMembersByCodeUnits() {
        var sample = new LinkedHashMap<String, String>();
        sample.put("\u20ac", "Euro Sign");
        sample.put("\r", "Carriage Return");
        sample.put("\ufb33", "Hebrew Letter Dalet With Dagesh");
        sample.put("1", "One");
        sample.put("\ud83d\ude00", "Emoji: Grinning Face");
        sample.put("\u0080", "Control");
        sample.put("\u00f6", "Latin Small Letter O With Diaeresis");
        assertThat(Canonical.json(sample))
                .containsSubsequence(
                        "Carriage Return",
                        "One",
                        "Control",
                        "Latin Small Letter O With Diaeresis",
                        "Euro Sign",
                        "Emoji: Grinning Face",
                        "Hebrew Letter Dalet With Dagesh");
    }

    @Test
    void writesDecimalsTimesAndEnumsAsStrings() {
        assertThat(Canonical.json(Map.of(
                        "amount",
                        new BigDecimal("119.00"),
                        "at",
                        Instant.parse("2026-11-09T08:12:00Z"),
                        "rounding",
                        java.math.RoundingMode.HALF_UP,
                        "ticket",
                        1042)))
                .isEqualTo("{\"amount\":\"119.00\",\"at\":\"2026-11-09T08:12:00Z\",\"rounding\":\"HALF_UP\","
                        + "\"ticket\":1042}");
    }

    @Test
    void refusesAWholeNumberThatADoubleCanNotHold() {
        assertThat(Canonical.json(9007199254740991L)).isEqualTo("9007199254740991");
        assertThatIllegalArgumentException().isThrownBy(() -> Canonical.json(9007199254740993L));
        assertThatIllegalArgumentException().isThrownBy(() -> Canonical.json(Long.MIN_VALUE));
    }

    @ParameterizedTest
    @ValueSource(strings = {"\ud83d", "\ude00\ud83d", "a\ud83db"})
    void refusesHalfACharacter(String text) {
        assertThatIllegalArgumentException().isThrownBy(() -> Canonical.json(text));
    }

    @Test
    void refusesAnObjectItDoesNotKnow() {
        assertThatIllegalArgumentException().isThrownBy(() -> Canonical.json(new StringBuilder("x")));
    }
}
