package idlewright.repair.rules;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.repair.rules.PartNumbers.Likeness;
import java.util.Random;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

@DisplayName("Part numbers")
class PartNumbersTest {

    private static final String LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789";

    @ParameterizedTest(name = "{0} and {1}: {2}")
    @CsvSource({
        "AF-2210-7, AF-2210-7, SAME",
        "AF-2210-7, AF 2210 7, SAME_WRITTEN_OTHERWISE",
        "AF-2210-7, af22107, SAME_WRITTEN_OTHERWISE",
        "AF–2210−7, AF-2210-7, SAME_WRITTEN_OTHERWISE",
        "AF-2210-7, AF-221O-7, LOOK_ALIKE",
        "1AF-20, IAF-2O, LOOK_ALIKE",
        "AF-2210-7, AF-2210-8, DIFFERENT",
        "AF-2210-7, AF-2210-7.1, DIFFERENT",
        "AF-2210-7, AF/2210/7, DIFFERENT",
        "'', AF-2210-7, NOT_READ",
        "' - ', AF-2210-7, NOT_READ",
    })
    void standToEachOtherAsTheyRead(String removed, String fitted, Likeness likeness) {
        assertThat(PartNumbers.compare(removed, fitted)).isEqualTo(likeness);
    }

    @ParameterizedTest(name = "{0} beside {1} shows {2}")
    @CsvSource({
        "AF-2210-7, AF-2210-8, AF-2210-[7]",
        "AF-2210-7, af 22107, AF-2210-7",
        "AF-2210-7, AF-221O-7, AF-221[0]-7",
        "AF-2210-7.1, AF-2210-7, AF-2210-7[.1]",
        "QX, AF-2210-7, [QX]",
        "AF-2210-7, '', AF-2210-7"
    })
    void showWhereTheyDiffer(String number, String other, String shown) {
        assertThat(PartNumbers.against(number, other).stream()
                        .map(run -> run.differs() ? "[" + run.text() + "]" : run.text())
                        .collect(java.util.stream.Collectors.joining()))
                .isEqualTo(shown);
    }

    @Test
    void areNotReadWhereNobodyCould() {
        assertThat(PartNumbers.compare(null, "AF-2210-7")).isEqualTo(Likeness.NOT_READ);
    }

    @Test
    void stayTheSameHoweverTheyAreSpacedAndWhateverTheCase() {
        var random = new Random(7);
        for (int i = 0; i < 2_000; i++) {
            String number = number(random);
            String other = strewn(number, random);
            assertThat(PartNumbers.compare(number, other).same())
                    .as("%s and %s", number, other)
                    .isTrue();
            assertThat(PartNumbers.bare(other)).isEqualTo(PartNumbers.bare(number));
            assertThat(PartNumbers.bare(PartNumbers.bare(other))).isEqualTo(PartNumbers.bare(other));
        }
    }

    @Test
    void areNeverEqualWithAZeroForAnOButAreSaidToLookAlike() {
        var random = new Random(8);
        for (int i = 0; i < 2_000; i++) {
            String before = number(random);
            String after = number(random);
            String zero = before + "0" + after;
            String letter = strewn(before + "O" + after, random);
            assertThat(PartNumbers.compare(zero, letter))
                    .as("%s and %s", zero, letter)
                    .isEqualTo(Likeness.LOOK_ALIKE);
            assertThat(PartNumbers.compare(letter, zero)).isEqualTo(Likeness.LOOK_ALIKE);
        }
    }

    @Test
    void areDifferentAsSoonAsOneCharacterIs() {
        var random = new Random(9);
        for (int i = 0; i < 2_000; i++) {
            String number = number(random);
            int at = random.nextInt(number.length());
            char other = LETTERS.charAt(
                    (LETTERS.indexOf(number.charAt(at)) + 1 + random.nextInt(LETTERS.length() - 1)) % LETTERS.length());
            String changed = number.substring(0, at) + other + number.substring(at + 1);
            assertThat(PartNumbers.compare(number, changed))
                    .as("%s and %s", number, changed)
                    .isEqualTo(Likeness.DIFFERENT);
        }
    }

    private static String number(Random random) {
        var number = new StringBuilder();
        for (int i = 0; i < 3 + random.nextInt(9); i++) {
            number.append(LETTERS.charAt(random.nextInt(LETTERS.length())));
        }
        return number.toString();
    }

    private static String strewn(String number, Random random) {
        var strewn = new StringBuilder();
        for (char c : number.toCharArray()) {
            if (random.nextInt(3) == 0) {
                strewn.append(" -\u2013\u00a0\u2009".charAt(random.nextInt(5)));
            }
            strewn.append(random.nextBoolean() ? Character.toLowerCase(c) : c);
        }
        return strewn.toString();
    }
}
