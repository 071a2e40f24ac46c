package idlewright.reference.engine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class EngineTextTest {

    @ParameterizedTest
    @CsvSource({
        "4-FI 2.0L T/C, 4, 2.0, true",
        "4-FI S/C 1.8L GAS, 4, 1.8, true",
        "6-242-MFI 4.0L, 6, 4.0, false",
        "8-4V/FI 6.0L, 8, 6.0, false",
        "H-4 2.0 L/122, 4, 2.0, false",
        "V6 3.5 litre, 6, 3.5, false",
        "3.0L 6cyl 4A, 6, 3.0, false",
        "2.3L Gasoline I4, 4, 2.3, false",
        "1998 cc turbo diesel inline 4, 4, 1.998, true",
        "'1,6 l, 4 cyl.', 4, 1.6, false",
        "V8 350 cid, 8, 5.735, false"
    })
    void readsWhatIsWritten(String text, int cylinders, double litres, boolean boosted) {
        EngineText engine = EngineText.parse(text);

        assertThat(engine.cylinders()).hasValue(cylinders);
        assertThat(engine.litres().orElseThrow()).isCloseTo(litres, within(0.001));
        assertThat(engine.boosted()).isEqualTo(boosted);
    }

    @Test
    void leavesEmptyWhatIsNotWritten() {
        assertThat(EngineText.parse("2.4L").cylinders()).isEmpty();
        assertThat(EngineText.parse("NO DATA").litres()).isEmpty();
        assertThat(EngineText.parse("").litres()).isEmpty();
        assertThat(EngineText.parse("99-FI 88.0L").cylinders()).isEmpty();
        assertThat(EngineText.parse("99-FI 88.0L").litres()).isEmpty();
    }

    @Test
    void tellsDieselAndHybrid() {
        assertThat(EngineText.parse("8-DSL 6.7L T/C").diesel()).isTrue();
        assertThat(EngineText.parse("4-GAS/ELECTRIC 1.8L").hybrid()).isTrue();
        assertThat(EngineText.parse("3-FI 1.0L GAS/ELEC.").hybrid()).isTrue();
        assertThat(EngineText.parse("4-FI 2.0L").hybrid()).isFalse();
    }

    @Test
    @DisplayName("reads all 357 rows of the VED static table (gsoh/VED, Apache-2.0)")
    void readsTheWholeTable() throws Exception {
        Path table = Path.of(System.getProperty("open.data", "../shared/data"), "ved-static-ice-hev.csv");
        Assumptions.assumeTrue(Files.exists(table), () -> "open data absent: " + table.toAbsolutePath());
        List<String> texts = Files.readAllLines(table).stream()
                .skip(1)
                .map(line -> line.split(",")[3])
                .toList();

        List<EngineText> engines = texts.stream().map(EngineText::parse).toList();

        assertThat(texts).hasSize(357);
        assertThat(engines).allMatch(engine -> engine.litres().isPresent());
        assertThat(texts.stream()
                        .filter(text -> EngineText.parse(text).cylinders().isEmpty()))
                .containsExactly("2.4L");
        // Counted in the table: T/C or S/C is written in so many rows.
        assertThat(engines.stream().filter(EngineText::boosted).count())
                .isEqualTo(texts.stream()
                        .filter(text -> text.contains("T/C") || text.contains("S/C"))
                        .count())
                .isEqualTo(22);
        assertThat(engines.stream()
                        .filter(engine -> engine.cylinders().orElse(0) == 4)
                        .count())
                .isEqualTo(249);
    }
}
