package idlewright.reference.verdict;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;

/** Guard band as JCGM 106:2012 sets it out (from memory). */
class BandTest {

    @Test
    void callsAReadingWithinOrOutsideWhenItsUncertaintyLeavesNoDoubt() {
        Band band = new Band(13.5, 14.8);
        assertThat(band.hold(14.1, 0.1)).isEqualTo(Verdict.WITHIN);
        assertThat(band.hold(13.3, 0.1)).isEqualTo(Verdict.OUTSIDE);
        assertThat(band.hold(13.5)).isEqualTo(Verdict.WITHIN);
    }

    @Test
    void isTooCloseToCallWhenTheLimitLiesInsideTheUncertainty() {
        assertThat(Band.atMost(0.2).hold(0.19, 0.02)).isEqualTo(Verdict.TOO_CLOSE);
        assertThat(Band.atMost(0.2).hold(0.21, 0.02)).isEqualTo(Verdict.TOO_CLOSE);
        assertThat(Band.atLeast(9.6).hold(9.9, 0.1)).isEqualTo(Verdict.WITHIN);
    }

    @Test
    void refusesABandTurnedAround() {
        assertThatThrownBy(() -> new Band(2, 1)).hasMessageContaining("2 and 1");
    }
}
