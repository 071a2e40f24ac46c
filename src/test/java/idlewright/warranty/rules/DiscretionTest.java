package idlewright.warranty.rules;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class DiscretionTest {

    private static final Discretion ABOUT =
            Discretion.about(Arrays.asList("555 0142", null, "AB 12 CD"), List.of("Mrs Ilse Marran", "the customer"));

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "Ilse Marran agreed by phone|the customer agreed by phone",
                "mrs ilse marran agreed|the customer agreed",
                "Call Marran's husband|Call the customer's husband",
                "Marranville is a town|Marranville is a town",
                "call 555 0142, plate ab 12 cd|call the customer, plate the customer",
                "the customer wants it|the customer wants it",
                "Mrs Owl is the neighbour|Mrs Owl is the neighbour"
            })
    void hidesNamesAndNumbersWhereTheyStandAsWords(String text, String read) {
        assertThat(ABOUT.read(text)).isEqualTo(read);
        assertThat(ABOUT.hides(text)).isEqualTo(!text.equals(read));
    }

    @Test
    void leavesOrdinaryWordsOfATradeName() {
        var bakery = Discretion.about(List.of(), List.of("Grand Row Bakery"));
        assertThat(bakery.read("the third row of Grand Row Bakery")).isEqualTo("the third row of the customer");
    }

    @Test
    void hidesNothingWhenNothingIsToBeHidden() {
        assertThat(Discretion.none().read("Ilse Marran")).isEqualTo("Ilse Marran");
        assertThat(Discretion.about(List.of(), List.of("")).hides("anything")).isFalse();
    }
}
