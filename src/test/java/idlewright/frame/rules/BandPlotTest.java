package idlewright.frame.rules;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.SplittableRandom;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

@DisplayName("The band picture")
class BandPlotTest {

    private static final BandPlot.Sketch FLOW =
            BandPlot.in("g/s").limits(11.4, 13.9).good(12.1, 11.8, 13.5).uncertainty(0.3);

    @Test
    void saysEverythingItShowsInOneSentence() {
        assertThat(FLOW.value(9.6, "9.60").verdict("outside").draw().sentence())
                .isEqualTo("9.60\u00a0g/s give or take 0.3\u00a0g/s; limit 11.4 to 13.9\u00a0g/s;"
                        + " 3 known-good cars from 11.8 to 13.5\u00a0g/s; outside.");
    }

    @Test
    void saysSoWhenNothingHasBeenReadAndNothingIsKnown() {
        BandPlot empty = BandPlot.in("V").draw();
        assertThat(empty.sentence()).isEqualTo("Nothing read yet; no limit.");
        assertThat(empty.at()).isNull();
        assertThat(empty.band()).isNull();
        assertThat(empty.shown()).isEqualTo("\u2013");
    }

    @Test
    void leavesTheBandOpenWhereALimitIsMissing() {
        BandPlot drop =
                BandPlot.in("V").limits(null, 0.2).value(0.08).verdict("within").draw();
        assertThat(drop.band().from()).isEqualTo("0.00%");
        assertThat(drop.edges()).extracting(BandPlot.Edge::words).containsExactly("0.2");
        assertThat(drop.sentence()).contains("at most 0.2");
        BandPlot floor = BandPlot.in("V").limits(9.6, null).value(10.4).draw();
        assertThat(floor.band().to()).isEqualTo("100.00%");
        assertThat(floor.sentence()).contains("at least 9.6");
    }

    @Test
    void placesTheValueInTheMiddleOfItsUncertaintyAndLeftOfAHigherLimit() {
        BandPlot plot = FLOW.value(9.6).draw();
        double middle = (number(plot.unsure().from()) + number(plot.unsure().to())) / 2;
        assertThat(number(plot.at())).isCloseTo(middle, org.assertj.core.data.Offset.offset(0.02));
        assertThat(number(plot.at())).isLessThan(number(plot.band().from()));
    }

    @Test
    void keepsMarksInsideThePictureWhateverTheNumbers() {
        SplittableRandom random = new SplittableRandom(1042);
        for (int i = 0; i < 2_000; i++) {
            double size = Math.pow(10, random.nextInt(-6, 7));
            double low = (random.nextDouble() - 0.5) * size;
            double high = low + random.nextDouble() * size * (i % 7 == 0 ? 0 : 1);
            double value = (random.nextDouble() - 0.5) * size * 3;
            BandPlot plot = BandPlot.in("")
                    .limits(low, high)
                    .value(value)
                    .uncertainty(size / 50)
                    .draw();
            assertThat(number(plot.at()))
                    .as("value %s in %s to %s", value, low, high)
                    .isBetween(0.0, 100.0);
            assertThat(number(plot.band().width())).isBetween(0.0, 100.0);
            assertThat(plot.edges())
                    .hasSize(2)
                    .allSatisfy(e -> assertThat(number(e.at())).isBetween(0.0, 100.0));
        }
    }

    @Test
    void ignoresNumbersThatAreNone() {
        assertThat(BandPlot.in("V")
                        .limits(Double.NaN, null)
                        .value(Double.POSITIVE_INFINITY)
                        .good(Double.NaN)
                        .draw()
                        .sentence())
                .isEqualTo("Nothing read yet; no limit.");
    }

    @Test
    void readsAVerdictFromAWordOrAnyEnumOfThatName() {
        assertThat(Mark.of("too close to call")).isEqualTo(Mark.TOO_CLOSE);
        assertThat(Mark.of("TOO_CLOSE_TO_CALL")).isEqualTo(Mark.TOO_CLOSE);
        assertThat(Mark.of(Mark.OUTSIDE)).isEqualTo(Mark.OUTSIDE);
        assertThat(Mark.of("Within")).isEqualTo(Mark.WITHIN);
        assertThat(Mark.of(null)).isEqualTo(Mark.NOT_JUDGED);
        assertThat(Mark.of("not judged")).isEqualTo(Mark.NOT_JUDGED);
    }

    private static double number(String percent) {
        return Double.parseDouble(percent.replace("%", ""));
    }
}
