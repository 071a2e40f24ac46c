package idlewright.repair.rules;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Instant;
import java.time.ZoneId;
import java.util.Random;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

@DisplayName("A time somebody worked")
class ClockingTest {

    private static final ZoneId HERE = ZoneId.of("Europe/Dublin");
    private static final Instant NINE = Instant.parse("2026-11-09T09:00:00Z");

    @Test
    void isShownInHoursAndMinutes() {
        assertThat(Clocking.words(0)).isEqualTo("0:00");
        assertThat(Clocking.words(2_579)).isEqualTo("0:42");
        assertThat(Clocking.words(43_500)).isEqualTo("12:05");
    }

    @Test
    void countsUpToNowWhileItRuns() {
        assertThat(new Clocking(NINE, null).seconds(NINE.plusSeconds(90))).isEqualTo(90);
        assertThat(new Clocking(NINE, NINE.plusSeconds(60)).seconds(NINE.plusSeconds(90)))
                .isEqualTo(60);
    }

    @Test
    void tellsAClockThatNobodyStopped() {
        Instant late = Instant.parse("2026-11-09T23:59:00Z");
        assertThat(new Clocking(NINE, late).pastMidnight(HERE, late)).isFalse();
        assertThat(new Clocking(NINE, null).pastMidnight(HERE, late.plusSeconds(120)))
                .isTrue();
    }

    @Test
    @DisplayName("is told by the shop's day: in summer its midnight comes an hour before that of UTC")
    void isToldByTheShopsDay() {
        var summer = new Clocking(Instant.parse("2026-07-01T22:30:00Z"), Instant.parse("2026-07-01T23:30:00Z"));
        assertThat(summer.pastMidnight(HERE, NINE)).isTrue();
    }

    @Test
    void refusesAnEndBeforeItsStart() {
        assertThatThrownBy(() -> new Clocking(NINE, NINE.minusSeconds(1))).isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void overlapsExactlyWhereAMomentBelongsToBoth() {
        var chance = new Random(17);
        Instant now = NINE.plusSeconds(1000);
        for (int i = 0; i < 2000; i++) {
            int from = chance.nextInt(50);
            int to = from + 1 + chance.nextInt(50);
            int otherFrom = chance.nextInt(50);
            int otherTo = otherFrom + 1 + chance.nextInt(50);
            var one = new Clocking(NINE.plusSeconds(from), NINE.plusSeconds(to));
            var other = new Clocking(NINE.plusSeconds(otherFrom), NINE.plusSeconds(otherTo));
            boolean shared = java.util.stream.IntStream.range(from, to)
                    .anyMatch(second -> second >= otherFrom && second < otherTo);
            assertThat(one.overlaps(other, now)).isEqualTo(shared).isEqualTo(other.overlaps(one, now));
        }
    }
}
