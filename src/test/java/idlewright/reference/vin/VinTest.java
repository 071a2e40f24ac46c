package idlewright.reference.vin;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.reference.OpenData;
import java.time.Year;
import java.util.List;
import java.util.Objects;
import java.util.Random;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class VinTest {

    private static final Year NOW = Year.of(2027);
    private static final String ALPHABET = "ABCDEFGHJKLMNPRSTUVWXYZ0123456789";

    @TestFactory
    List<DynamicTest> agreesWithThePublicVectors() {
        return OpenData.eachRow("vin-vectors.csv", row -> {
            Vin checked = Vin.check(row.get(0));
            assertThat(checked.wellFormed()).isTrue();
            assertThat(digit(checked).applies()).isTrue();
            if (row.get(1).equals("valid")) {
                assertThat(digit(checked).ok()).isTrue();
                assertThat(checked.problems()).isEmpty();
                assertThat(row.get(2)).contains("sum " + Vin.weightedSum(row.get(0)));
            } else {
                assertThat(digit(checked).ok()).isFalse();
                assertThat(row.get(2)).isEqualTo("expected " + digit(checked).expected());
                assertThat(checked.problems())
                        .containsExactly("The check digit at position 9 should be X but is 0: read the number again.");
            }
        });
    }

    private static Vin.CheckDigit digit(Vin vin) {
        return Objects.requireNonNull(vin.checkDigit());
    }

    @Test
    void addsUpTheSampleOfTheRegulation() {
        // 49 CFR 565, table V: sum 411 = 37 x 11 + 4
        assertThat(Vin.weightedSum("1G4AH59H45G118341")).isEqualTo(411);
        assertThat(Vin.weightedSum("11111111111111111")).isEqualTo(89);
        assertThat(Vin.weightedSum("1M8GDM9AXKP042788")).isEqualTo(351);
    }

    @Test
    void tellsTheYearOfACarFromPositionsSevenAndTen() {
        Vin car = Vin.check("1G4AH59H45G118341", NOW);
        assertThat(car.modelYears()).containsExactly(2005);
        assertThat(car.modelYearsWhy()).isEqualTo("Position 10 is 5: 2005, because 2035 is still to come.");
    }

    @Test
    void offersBothYearsWhenTheWeightIsNotKnown() {
        Vin bus = Vin.check("1M8GDM9AXKP042788", NOW);
        assertThat(bus.modelYears()).containsExactly(1989, 2019);
        assertThat(bus.modelYearsWhy())
                .isEqualTo("Position 10 is K: 1989 or 2019. Position 7 is a digit, so a car or a truck up to 10,000 lb"
                        + " (4,536 kg) is of 1989; over that weight position 7 does not tell.");
        assertThat(Vin.check("1M8GDMAAXKP042788", NOW).modelYears())
                .as("a letter at position 7")
                .containsExactly(2019, 1989);
    }

    @ParameterizedTest(name = "code {0} is {1} and thirty years later")
    @CsvSource({
        // 49 CFR 565.15, table of model years
        "A,1980",
        "B,1981",
        "H,1987",
        "J,1988",
        "N,1992",
        "P,1993",
        "R,1994",
        "S,1995",
        "T,1996",
        "V,1997",
        "Y,2000",
        "1,2001",
        "9,2009"
    })
    void knowsTheYearCodes(String code, int year) {
        assertThat(Vin.check("1M8GDM9AX" + code + "P042788").modelYears()).containsExactly(year, year + 30);
    }

    @Test
    void findsNoYearInALetterThatStandsForNone() {
        for (String code : List.of("U", "Z", "0")) {
            Vin american = Vin.check("1M8GDM9AX" + code + "P042788");
            assertThat(american.modelYears()).isEmpty();
            assertThat(american.problems()).contains("Position 10 is " + code + ", which stands for no model year.");
            Vin european = Vin.check("WM8GDM9AX" + code + "P042788");
            assertThat(european.modelYears()).isEmpty();
            assertThat(european.problems()).isEmpty();
        }
    }

    @Test
    void doesNotJudgeTheCheckDigitOutsideNorthAmerica() {
        Vin european = Vin.check("WXX1234567Z123456");
        assertThat(european.region()).isEqualTo(Vin.Region.EUROPE);
        assertThat(digit(european).applies()).isFalse();
        assertThat(digit(european).ok()).isNull();
        assertThat(digit(european).words()).contains("does not apply").doesNotContainIgnoringCase("invalid");
        assertThat(european.problems()).isEmpty();
    }

    @ParameterizedTest(name = "{0} is from {1}")
    @CsvSource({
        "A,AFRICA",
        "H,AFRICA",
        "J,ASIA",
        "R,ASIA",
        "S,EUROPE",
        "Z,EUROPE",
        "1,NORTH_AMERICA",
        "5,NORTH_AMERICA",
        "6,OCEANIA",
        "7A,OCEANIA",
        "7F,NORTH_AMERICA",
        "8,SOUTH_AMERICA",
        "9,SOUTH_AMERICA",
        "0,"
    })
    void namesTheRegion(String start, Vin.Region region) {
        assertThat(Vin.check((start + "M8GDM9AXKP042788").substring(0, 17)).region())
                .isEqualTo(region);
    }

    @Test
    void forgivesCaseSpacesHyphensAndTheBarCodeLetter() {
        for (String typed :
                List.of(" 1m8gdm9axkp042788 ", "1M8 GDM9AX-KP042788", "*1M8GDM9AXKP042788*", "I1M8GDM9AXKP042788")) {
            assertThat(Vin.check(typed).vin()).isEqualTo("1M8GDM9AXKP042788");
            assertThat(Vin.check(typed).problems()).isEmpty();
        }
    }

    @Test
    void saysWhatIsWrongInWords() {
        assertThat(Vin.check("1M8GDM9AXKP04278").problems())
                .containsExactly(
                        "A VIN has 17 characters; this one has 16. Vehicles built before 1981 may have a shorter"
                                + " number.");
        assertThat(Vin.check("1M8GDM9AXKPO42788").problems())
                .containsExactly("Position 12 is O, which a VIN never uses: is it a 0 (zero)?");
        assertThat(Vin.check("1M8GDM9AXKP0427I8").problems())
                .containsExactly("Position 16 is I, which a VIN never uses: is it a 1 (one)?");
        assertThat(Vin.check("1M8GDM9AXKP0427_8").problems())
                .containsExactly("Position 16 is “_”: a VIN has only letters and digits.");
        assertThat(Vin.check("").problems()).containsExactly("A VIN has 17 characters; this one has 0.");
        assertThat(Vin.check("").wellFormed()).isFalse();
        assertThat(Vin.check("").checkDigit()).isNull();
    }

    @Test
    void catchesEveryMisreadCharacterThatChangesTheSum() {
        Random random = new Random(565);
        for (int i = 0; i < 20_000; i++) {
            StringBuilder vin = new StringBuilder("1");
            while (vin.length() < 17) {
                vin.append(ALPHABET.charAt(random.nextInt(ALPHABET.length())));
            }
            String expected = digit(Vin.check(vin.toString())).expected();
            vin.setCharAt(8, expected.charAt(0));
            assertThat(digit(Vin.check(vin.toString())).ok()).isTrue();

            int place = 1 + random.nextInt(16);
            StringBuilder misread = new StringBuilder(vin);
            misread.setCharAt(place, ALPHABET.charAt(random.nextInt(ALPHABET.length())));
            boolean sameRemainder = Vin.weightedSum(vin.toString()) % 11 == Vin.weightedSum(misread.toString()) % 11
                    && misread.charAt(8) == vin.charAt(8);
            assertThat(digit(Vin.check(misread.toString())).ok()).isEqualTo(sameRemainder);
        }
    }

    @Test
    void answersAnythingThatIsTyped() {
        Random random = new Random(3779);
        for (int i = 0; i < 50_000; i++) {
            StringBuilder typed = new StringBuilder();
            for (int n = random.nextInt(20); n > 0; n--) {
                typed.append((char) random.nextInt(random.nextBoolean() ? 128 : 0x10000));
            }
            Vin checked = Vin.check(typed.toString(), NOW);
            assertThat(checked.wellFormed()).isEqualTo(checked.checkDigit() != null);
            assertThat(checked.wellFormed() || !checked.problems().isEmpty()).isTrue();
        }
    }
}
