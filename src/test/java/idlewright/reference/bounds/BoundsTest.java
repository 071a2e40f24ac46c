package idlewright.reference.bounds;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;

class BoundsTest {

    @Test
    void namesTheRangeAndWhatWasGiven() {
        assertThatThrownBy(() -> Bounds.within("engine speed", -3, 1, 20_000, "rpm"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("engine speed must lie between 1 and 20,000 rpm, but was -3");
    }

    @Test
    void refusesWhatIsNotANumber() {
        assertThatThrownBy(() -> Bounds.within("share", Double.NaN, 0, 1, ""))
                .hasMessage("share must lie between 0 and 1, but was not a number");
        assertThatThrownBy(() -> Bounds.finite("the points", 1, Double.NEGATIVE_INFINITY))
                .hasMessage("the points must be finite numbers, but number 2 is below all numbers");
    }

    @Test
    void writesNumbersAsAPersonDoes() {
        assertThat(Bounds.plain(0.1 + 0.2)).isEqualTo("0.3");
        assertThat(Bounds.plain(1_234_567.9)).isEqualTo("1,234,570");
        assertThat(Bounds.plain(16383.75)).isEqualTo("16,383.8");
        assertThat(Bounds.plain(0)).isEqualTo("0");
        assertThat(Bounds.plain(Double.MIN_VALUE)).startsWith("0.0");
    }
}
