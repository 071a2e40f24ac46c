package idlewright.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.DayOfWeek;
import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class StoriesTest {

    @ParameterizedTest
    @ValueSource(
            strings = {
                "2026-11-25T09:30:00Z",
                "2026-11-22T23:59:00Z",
                "2026-11-23T00:01:00Z",
                "2026-03-29T01:30:00Z",
                "2027-01-01T17:44:00Z",
                "2028-02-29T18:00:00Z"
            })
    void lieInThePastWheneverTheShopIsFirstStarted(String firstStart) {
        var days = new Days(Instant.parse(firstStart), Cast.SHOP.zone());
        assertThat(Stories.script(days).inOrder()).hasSizeGreaterThan(1_000).allSatisfy(step -> {
            assertThat(step.at()).as(step.what()).isBefore(days.origin());
            assertThat(step.at().atZone(days.zone()).getDayOfWeek()).isNotEqualTo(DayOfWeek.SUNDAY);
        });
    }

    @Test
    void areTheSameAgainSoThatAnInterruptedStartCanGoOn() {
        var days = new Days(Instant.parse("2026-11-25T09:30:00Z"), Cast.SHOP.zone());
        var once = Stories.script(days).inOrder();
        var again = Stories.script(days).inOrder();
        assertThat(again)
                .extracting("at")
                .isEqualTo(once.stream().map(Script.Step::at).toList());
        assertThat(again)
                .extracting("what")
                .isEqualTo(once.stream().map(Script.Step::what).toList());
    }
}
