package idlewright.billing.rules;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class AgeTest {

    @ParameterizedTest(name = "{0} days after its due day an invoice is {1}")
    @CsvSource({
        "-14, NOT_DUE",
        "0, NOT_DUE",
        "1, TO_30",
        "30, TO_30",
        "31, TO_60",
        "60, TO_60",
        "61, TO_90",
        "90, TO_90",
        "91, OVER_90",
        "4000, OVER_90"
    })
    void countsFromTheDueDay(int late, Age age) {
        LocalDate due = LocalDate.of(2024, 2, 28);
        assertThat(Age.of(due, due.plusDays(late))).isEqualTo(age);
    }
}
