package idlewright.billing.rules;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.math.BigDecimal;
import java.util.Random;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

@DisplayName("Clocked time for charge")
class HoursStepTest {

    @ParameterizedTest
    @CsvSource({
        "EXACT, 3600, 1",
        "EXACT, 4320, 1.2",
        "EXACT, 1, 0.001",
        "TENTH, 1, 0.1",
        "TENTH, 360, 0.1",
        "TENTH, 539, 0.1",
        "TENTH, 540, 0.2",
        "TENTH, 4321, 1.2",
        "QUARTER, 60, 0.25",
        "QUARTER, 1349, 0.25",
        "QUARTER, 1350, 0.5",
        "QUARTER, 3600, 1",
    })
    @DisplayName("goes to the nearest step, a half up, and never to nothing (the shop's setting, no outside source)")
    void goesToTheNearestStep(HoursStep rounding, long seconds, BigDecimal hours) {
        assertThat(rounding.hours(seconds)).isEqualByComparingTo(hours);
    }

    @Test
    void isNeverFurtherOffThanHalfAStepOnceItIsAStep() {
        var chance = new Random(18);
        for (int i = 0; i < 2000; i++) {
            long seconds = 900 + chance.nextInt(100_000);
            for (HoursStep rounding : HoursStep.values()) {
                double step = rounding == HoursStep.EXACT ? 0.001 : rounding == HoursStep.TENTH ? 0.1 : 0.25;
                double hours = rounding.hours(seconds).doubleValue();
                assertThat(Math.abs(hours - seconds / 3600.0)).isLessThanOrEqualTo(step / 2 + 1e-9);
            }
        }
    }

    @Test
    void refusesNoTime() {
        assertThatThrownBy(() -> HoursStep.EXACT.hours(0)).isInstanceOf(IllegalArgumentException.class);
    }
}
