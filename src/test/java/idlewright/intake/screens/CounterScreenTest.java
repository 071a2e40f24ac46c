package idlewright.intake.screens;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.intake.CounterLine;
import idlewright.intake.TicketNumber;
import idlewright.intake.rules.Move;
import idlewright.intake.rules.Whose;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;

class CounterScreenTest {

    @Test
    void countsACarWithTwoTicketsOnce() {
        assertThat(CounterScreen.cars(List.of(line(1042, "KL 204 B"), line(1051, "KL 204 B"), line(1052, "KL 205 B"))))
                .isEqualTo(2);
        assertThat(CounterScreen.heading(2, 1)).isEqualTo("Two cars, one waiting for us");
    }

    private static CounterLine line(int number, String plate) {
        return new CounterLine(
                new TicketNumber(number),
                "Brightwater Finch",
                plate,
                "Grand Row Bakery",
                null,
                null,
                null,
                null,
                null,
                false,
                new Move(Whose.COUNTER, "Write the estimate.", Instant.EPOCH, 1, false));
    }
}
