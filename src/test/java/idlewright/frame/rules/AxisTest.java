package idlewright.frame.rules;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.SplittableRandom;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

@DisplayName("An axis")
class AxisTest {

    @Test
    void endsOnRoundTicks() {
        Axis axis = Axis.covering(3.2, 38.4, 5);
        assertThat(axis.ticks()).containsExactly(0.0, 10.0, 20.0, 30.0, 40.0);
        assertThat(axis.place(10)).isEqualTo(25.0);
    }

    @Test
    void holdsWhatItCoversAndKeepsAReadableNumberOfTicks() {
        SplittableRandom random = new SplittableRandom(7);
        for (int i = 0; i < 5_000; i++) {
            double size = Math.pow(10, random.nextInt(-9, 10));
            double low = (random.nextDouble() - 0.5) * size;
            double high = low + random.nextDouble() * size;
            Axis axis = Axis.covering(low, high, 5);
            assertThat(axis.place(low)).isGreaterThanOrEqualTo(-1e-6);
            assertThat(axis.place(high)).isLessThanOrEqualTo(100 + 1e-6);
            assertThat(axis.ticks()).as("%s to %s", low, high).hasSizeBetween(2, 9);
        }
    }

    @Test
    void givesEqualValuesSomeRoom() {
        assertThat(Axis.spanning(5, 5, 5).place(5)).isCloseTo(50, org.assertj.core.data.Offset.offset(1e-9));
        assertThat(Axis.spanning(0, 0, 5).ticks()).contains(0.0);
        assertThat(Axis.spanning(1e9, Math.nextUp(1e9), 5).ticks()).isNotEmpty();
    }

    @Test
    void refusesEndsThatAreNoNumbers() {
        assertThatThrownBy(() -> Axis.spanning(Double.NaN, 1, 5)).hasMessageContaining("finite");
    }

    @ParameterizedTest(name = "{0} is written {1}")
    @CsvSource({
        "0, 0",
        "9.6, 9.6",
        "12.36, 12.36",
        "86940, '86,940'",
        "0.08, 0.08",
        "-10, \u221210",
        "1234.6, '1,235'",
        "0.00012345, 0.0001235",
        "100, 100",
        "-0.5, \u22120.5",
        "20.0, 20"
    })
    void writesValuesAsPeopleDo(double value, String written) {
        assertThat(Axis.say(value)).isEqualTo(written);
    }

    @ParameterizedTest(name = "tick {1} at step {0} is written {2}")
    @CsvSource({"0.5, 12, 12.0", "10, -10, \u221210", "500, 2500, '2,500'", "0.02, 0.1, 0.10", "0.1, -0.00000001, 0.0"})
    void writesTicksWithTheDecimalsTheirStepNeeds(double step, double tick, String written) {
        assertThat(new Axis(0, 1, step).words(tick)).isEqualTo(written);
    }
}
