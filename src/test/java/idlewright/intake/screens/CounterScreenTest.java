package idlewright.intake.screens;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.intake.CounterLine;
import idlewright.intake.TicketNumber;
import idlewright.intake.rules.Move;
import idlewright.intake.rules.Whose;
import java.time.Instant;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class CounterScreenTest {

    @Test
    void countsACarWithTwoTicketsOnce() {
        assertThat(CounterScreen.cars(List.of(line(1042, "KL 204 B"), line(1051, "KL 204 B"), line(1052, "KL 205 B"))))
                .isEqualTo(2);
        assertThat(CounterScreen.heading(2, 1)).isEqualTo("Two cars, one waiting for us");
    }

    @Test
    void showsTheSixtyThatWaitLongestUntilAllAreAskedFor() {
        var lines =
                IntStream.range(0, 84).mapToObj(n -> line(1000 + n, "KL " + n)).toList();
        assertThat(CounterScreen.group(Whose.COUNTER, lines, 60).first()).isEqualTo(lines.subList(0, 60));
        assertThat(CounterScreen.group(Whose.COUNTER, lines, Integer.MAX_VALUE).first())
                .isEqualTo(lines);
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
