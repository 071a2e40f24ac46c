package idlewright.reference.codes;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import idlewright.reference.OpenData;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class TroubleCodeTest {

    @TestFactory
    List<DynamicTest> agreesWithThePublicVectors() {
        return OpenData.eachRow("dtc-vectors.csv", row -> {
            List<TroubleCode> codes = TroubleCode.decode(row.get(0));
            if (row.get(1).startsWith("(padding")) {
                assertThat(codes).isEmpty();
            } else {
                assertThat(codes).extracting(TroubleCode::text).containsExactly(row.get(1));
                assertThat(codes.get(0).bytes().replace(" ", "")).isEqualTo(row.get(0));
            }
        });
    }

    @Test
    void turnsEveryPairOfBytesIntoACodeAndBack() {
        for (int bits = 0; bits < 0x10000; bits++) {
            TroubleCode code = TroubleCode.ofBytes(bits >> 8, bits & 0xFF);
            assertThat(code.bits()).isEqualTo(bits);
            assertThat(TroubleCode.parse(code.text().toLowerCase(Locale.ROOT))).isEqualTo(code);
        }
    }

    @Test
    void decodesARowOfBytes() {
        assertThat(TroubleCode.decode("01 04 41 23"))
                .extracting(TroubleCode::text)
                .containsExactly("P0104", "C0123");
        assertThat(TroubleCode.decode("010441 23 00 00 7F")).hasSize(2);
        assertThat(TroubleCode.decode("")).isEmpty();
    }

    @Test
    void namesTheByteThatIsNone() {
        assertThatThrownBy(() -> TroubleCode.decode("01 04 4G 23"))
                .hasMessage("Byte 3, “4G”, is not two hexadecimal digits: enter bytes like 01 04 41 23.");
        assertThatThrownBy(() -> TroubleCode.decode("01 0")).hasMessageStartingWith("Byte 2, “0”,");
        assertThatThrownBy(() -> TroubleCode.ofBytes(256, 0)).hasMessageContaining("between 0 and 255");
    }

    @ParameterizedTest
    @ValueSource(strings = {"p0101", "P 0101", " P-0101 ", "P01 01", "PO1O1"})
    void readsACodeAsTyped(String typed) {
        assertThat(TroubleCode.parse(typed).text()).isEqualTo("P0101");
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "0101", "P101", "P4101", "X0101", "P01012", "P01G1", "P"})
    void refusesWhatIsNoCode(String typed) {
        assertThatThrownBy(() -> TroubleCode.parse(typed))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("is no trouble code: enter a letter P, B, C or U and four digits, like P0101.");
        assertThat(TroubleCode.find(typed)).isEmpty();
    }

    @Test
    void readsSeveralCodesFromOneField() {
        assertThat(TroubleCode.parseAll("p0101, P0171;P 0174\nP0101 U0100"))
                .extracting(TroubleCode::text)
                .containsExactly("P0101", "P0171", "P0174", "U0100");
        assertThat(TroubleCode.parseAll(" ")).isEmpty();
    }

    @ParameterizedTest(name = "{0} standard: {1}")
    @CsvSource({
        // SAE J2012 ranges, from memory
        "P0101,true", "P2187,true", "P3400,true", "P3999,true", "P1101,false", "P3000,false", "P3399,false",
        "P3A00,false", "B0003,true", "B1003,false", "C0035,true", "C17DE,false", "U0100,true", "U1100,false",
        "U20FC,false", "U3001,true"
    })
    void knowsStandardCodesFromTheMakers(String code, boolean generic) {
        assertThat(new TroubleCode(code).generic()).isEqualTo(generic);
    }

    @Test
    void readsTypedNonsenseWithoutFalling() {
        Random random = new Random(2012);
        for (int i = 0; i < 50_000; i++) {
            StringBuilder typed = new StringBuilder();
            for (int n = random.nextInt(12); n > 0; n--) {
                typed.append((char) (32 + random.nextInt(96)));
            }
            TroubleCode.find(typed.toString());
            try {
                TroubleCode.decode(typed.toString());
                TroubleCode.parseAll(typed.toString());
            } catch (IllegalArgumentException refused) {
                assertThat(refused.getMessage()).matches("(?s)(Byte|.*is no trouble code).*");
            }
        }
    }
}
