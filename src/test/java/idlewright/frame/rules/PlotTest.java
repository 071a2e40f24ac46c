package idlewright.frame.rules;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

@DisplayName("Plots")
class PlotTest {

    @Test
    void listEveryPlottedFigureInTheirTable() {
        LinePlot plot = LinePlot.titled("Flow")
                .across("time", "s")
                .up("flow", "g/s")
                .series("before", new double[] {0, 1, 2}, new double[] {3, 5, 4})
                .series("after", new double[] {0, 2}, new double[] {3.5, 6})
                .draw();
        assertThat(plot.heads()).containsExactly("time (s)", "before (g/s)", "after (g/s)");
        assertThat(plot.rows())
                .containsExactly(List.of("0", "3", "3.5"), List.of("1", "5", "\u2013"), List.of("2", "4", "6"));
        assertThat(plot.thinned()).isNull();
    }

    @Test
    void drawACurveForPaperWithItsStretchGrey() throws IOException {
        LinePlot plot = LinePlot.titled("Signal")
                .across("time", "s")
                .up("signal", "V")
                .series("signal", new double[] {0, 10, 20}, new double[] {0, 10, 0})
                .stretch(5, 8, "flat spot")
                .draw();
        var picture = ImageIO.read(new ByteArrayInputStream(PlotPicture.png(plot)));
        assertThat(picture.getColorModel().hasAlpha()).isFalse();
        // The frame of the curve is 130 to 1560 across and 48 to 488 down; its top lies in the middle, at 845.
        assertThat(IntStream.range(60, 90).map(y -> grey(picture, 800, y)).min().orElseThrow())
                .isLessThan(0x40);
        assertThat(grey(picture, 140, 60)).isGreaterThan(0xf0);
        assertThat(grey(picture, 130 + 1430 * 6 / 20, 80)).isBetween(0xc0, 0xe0);
        assertThat(grey(picture, 130 + 1430 * 9 / 20, 300)).isGreaterThan(0xf0);
    }

    private static int grey(BufferedImage picture, int x, int y) {
        return picture.getRaster().getSample(x, y, 0);
    }

    @Test
    void tellCurvesApartWithoutColour() {
        LinePlot.Sketch sketch = LinePlot.titled("Six").across("x", "").up("y", "");
        for (int i = 0; i < 6; i++) {
            sketch.series("curve " + i, new double[] {0, 1}, new double[] {i, i + 1});
        }
        assertThat(sketch.draw().lines())
                .extracting(l -> l.css() + l.shape() + l.hollow())
                .doesNotHaveDuplicates();
        assertThatThrownBy(() -> sketch.series("seventh", new double[] {0}, new double[] {0}))
                .hasMessageContaining("told apart");
    }

    @Test
    void keepOneSpikeAmongAHundredThousandPoints() {
        double[] time = IntStream.range(0, 100_000).mapToDouble(i -> i / 100.0).toArray();
        double[] flow = Arrays.stream(time).map(t -> 5 + Math.sin(t) * 0.01).toArray();
        flow[54_321] = 90;
        flow[70_001] = -3;
        LinePlot plot = LinePlot.titled("Log")
                .across("time", "s")
                .up("flow", "g/s")
                .series("flow", time, flow)
                .draw();
        assertThat(plot.rows())
                .hasSizeLessThan(700)
                .anyMatch(r -> r.get(1).equals("90"))
                .anyMatch(r -> r.get(1).equals("\u22123"));
        assertThat(plot.thinned()).contains("of 100,000 points");
        assertThat(plot.description()).contains("lowest \u22123\u00a0g/s, highest 90\u00a0g/s");
    }

    @Test
    void leaveAGapWhereAValueIsMissing() {
        LinePlot plot = LinePlot.titled("Gap")
                .across("t", "s")
                .up("U", "V")
                .series("sensor", new double[] {0, 1, 2, 3}, new double[] {1, Double.NaN, 2, 3})
                .draw();
        assertThat(plot.lines().get(0).path().chars().filter(c -> c == 'M').count())
                .isEqualTo(2);
        assertThat(plot.rows().get(1)).containsExactly("1", "no value");
    }

    @Test
    void holdAStepUntilTheNextPoint() {
        LinePlot plot = LinePlot.titled("Held")
                .across("days", "")
                .up("share", "")
                .upFrom(0, 100)
                .steps("all", new double[] {0, 10}, new double[] {100, 50})
                .draw();
        assertThat(plot.lines().get(0).path()).isEqualTo("M0 0H1000V500");
    }

    @Test
    void refuseAPlaceThatFallsBack() {
        assertThatThrownBy(() -> LinePlot.titled("x").series("log", new double[] {1, 0}, new double[] {1, 1}))
                .hasMessageContaining("must not fall");
    }

    @Test
    void sayThatThereIsNothingYet() {
        assertThat(LinePlot.titled("Empty").across("t", "s").up("U", "V").draw().description())
                .isEqualTo("Nothing to show yet.");
        assertThat(DotPlot.titled("Empty").along("U", "V").draw().description()).isEqualTo("Nothing to show yet.");
        assertThat(SharePlot.titled("Empty", "Part").draw().rows()).isEmpty();
    }

    @Test
    void stackEqualDotsInsideThePicture() {
        double[] same = new double[80];
        Arrays.fill(same, 12.4);
        DotPlot plot = DotPlot.titled("Same")
                .along("flow", "g/s")
                .values(same)
                .values(13)
                .draw();
        assertThat(plot.dots())
                .hasSize(81)
                .extracting(d -> Double.parseDouble(d.y().replace("%", "")))
                .allMatch(y -> y > 0 && y < 100);
        assertThat(plot.description()).startsWith("81 values from 12.4 to 13\u00a0g/s, middle 12.4");
    }

    @Test
    void sayAShareWithItsInterval() {
        // 3 of 41: Wilson 95 % is 0.0252 to 0.1943 (formula of Wilson 1927)
        SharePlot plot = SharePlot.titled("Comebacks", "Part")
                .group("sensor", null, 3, 41, 0.0252, 0.1943)
                .draw();
        assertThat(plot.rows().get(0).words()).isEqualTo("7 %, likely 3 to 19 %");
        assertThat(plot.ticks()).extracting(LinePlot.Tick::words).startsWith("0 %");
    }
}
