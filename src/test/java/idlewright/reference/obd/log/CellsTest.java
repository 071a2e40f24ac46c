package idlewright.reference.obd.log;

import static org.assertj.core.api.Assertions.assertThat;

import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class CellsTest {

    @Test
    @DisplayName("reads 200,000 numbers to the last bit as Double.parseDouble does")
    void readsNumbersExactly() {
        SplittableRandom random = new SplittableRandom(11);
        for (int i = 0; i < 200_000; i++) {
            String text = switch (i % 4) {
                case 0 -> Long.toString(random.nextLong(-1_000_000, 1_000_000));
                case 1 -> String.format(Locale.ROOT, "%." + random.nextInt(1, 10) + "f", random.nextDouble() * 1e5);
                case 2 -> Double.toString((random.nextDouble() - 0.5) * 1e4);
                default -> "-" + random.nextLong(0, 1L << 62) + "." + random.nextInt(0, 1000);
            };
            assertThat(read('.', text)).isEqualTo(Double.parseDouble(text));
        }
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = ';',
            value = {
                ".;1,234.5;1234.5",
                ".;12,5;12.5",
                ".;1.5E3;1500",
                ".;+7;7",
                ".;12.5 V;12.5",
                ".;85%;85",
                ".;85°C;85",
                ".;1234rpm;1234",
                ".;\u22125;-5",
                ".;.5;0.5",
                ".;5.;5",
                ",;12,5;12.5",
                ",;1.234,5;1234.5",
                ",;12.5;12.5"
            })
    void readsNumbersAsToolsWriteThem(char decimal, String text, double number) {
        assertThat(read(decimal, text)).isEqualTo(number);
    }

    @ParameterizedTest
    @ValueSource(strings = {"", " ", "-", "--", "n/a", "N/A", "NO DATA", "NaN", "null", "Infinity", "1e999"})
    void takesMissingValuesAsMissing(String text) {
        assertThat(outcome(text)).isEqualTo(Cells.NOTHING);
    }

    @ParameterizedTest
    @ValueSource(strings = {"OPEN", "12:30", "41 0C 1A", "7F", "0x1F", "1.2.3", "1-2", "+-3", "..", "1,2,3", "e5"})
    void takesTextAsText(String text) {
        assertThat(outcome(text)).isEqualTo(Cells.TEXT);
    }

    @Test
    @DisplayName("splits well-formed lines as FastCSV does")
    void splitsAsALibraryDoes() {
        SplittableRandom random = new SplittableRandom(3);
        String[] pieces = {"1.5", "a b", "\"x,y\"", "\"say \"\"so\"\"\"", "", "\"\"", "-40", "it's", "\"1,5\""};
        for (int i = 0; i < 20_000; i++) {
            List<String> cells = new ArrayList<>();
            for (int n = random.nextInt(1, 9); n > 0; n--) {
                cells.add(pieces[random.nextInt(pieces.length)]);
            }
            String line = String.join(",", cells);
            CsvRecord expected = CsvReader.builder()
                    .skipEmptyLines(false)
                    .ofCsvRecord(line + "\n")
                    .iterator()
                    .next();
            Fields fields = new Fields(',');
            char[] text = line.toCharArray();
            fields.split(text, 0, text.length);
            List<String> found = new ArrayList<>();
            for (int f = 0; f < fields.count; f++) {
                found.add(fields.text(text, f));
            }
            assertThat(found).as(line).isEqualTo(expected.getFields());
        }
    }

    private static double read(char decimal, String text) {
        Cells cells = new Cells(decimal);
        char[] chars = text.toCharArray();
        double value = cells.read(chars, 0, chars.length);
        assertThat(cells.outcome).as(text).isEqualTo(Cells.NUMBER);
        return value;
    }

    private static byte outcome(String text) {
        Cells cells = new Cells('.');
        char[] chars = text.toCharArray();
        cells.read(chars, 0, chars.length);
        return cells.outcome;
    }
}
