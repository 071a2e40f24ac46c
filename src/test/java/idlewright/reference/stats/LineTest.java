package idlewright.reference.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class LineTest {

    private static final double[][] NORRIS = {
        {0.1, 0.2}, {338.8, 337.4}, {118.1, 118.2}, {888.0, 884.6}, {9.2, 10.1}, {228.1, 226.5}, {668.5, 666.3},
        {998.5, 996.3}, {449.1, 448.6}, {778.9, 777.0}, {559.2, 558.2}, {0.3, 0.4}, {0.1, 0.6}, {778.1, 775.5},
        {668.8, 666.9}, {339.3, 338.0}, {448.9, 447.5}, {10.8, 11.6}, {557.7, 556.0}, {228.3, 228.1}, {998.0, 995.8},
        {888.8, 887.6}, {119.6, 120.2}, {0.3, 0.3}, {0.6, 0.3}, {557.6, 556.8}, {339.3, 339.1}, {888.0, 887.2},
        {998.5, 999.0}, {778.9, 779.0}, {10.2, 11.1}, {117.6, 118.3}, {228.9, 229.2}, {668.4, 669.1}, {449.2, 448.9},
        {0.2, 0.5}
    };

    // NIST StRD Norris, certified values.
    @Test
    void meetsTheCertifiedLine() {
        Line line = Line.through(column(0), column(1));
        assertThat(line.intercept()).isCloseTo(-0.262323073774029, within(1e-11));
        assertThat(line.slope()).isCloseTo(1.00211681802045, within(1e-13));
        assertThat(line.interceptError()).isCloseTo(0.232818234301152, within(1e-11));
        assertThat(line.slopeError()).isCloseTo(0.429796848199937E-03, within(1e-13));
        assertThat(line.residualSd()).isCloseTo(0.884796396144373, within(1e-11));
        assertThat(line.rSquared()).isCloseTo(0.999993745883712, within(1e-13));
    }

    // NIST StRD NoInt1, certified values.
    @Test
    void meetsTheCertifiedLineThroughTheOrigin() {
        double[] x = new double[11];
        double[] y = new double[11];
        for (int i = 0; i < 11; i++) {
            x[i] = 60 + i;
            y[i] = 130 + i;
        }
        Line line = Line.throughOrigin(x, y);
        assertThat(line.slope()).isCloseTo(2.07438016528926, within(1e-13));
        assertThat(line.slopeError()).isCloseTo(0.0165289256198347, within(1e-13));
        assertThat(line.residualSd()).isCloseTo(3.56753034006338, within(1e-11));
        assertThat(line.rSquared()).isCloseTo(0.999365492298663, within(1e-13));
    }

    // SciPy 1.17.1 theilslopes gives slope 2.5 for these points.
    @Test
    void drawsALineThatOneWildPointCannotMove() {
        assertThat(Line.robust(new double[] {1, 2, 3, 4, 5}, new double[] {1, 3, 2, 5, 40})
                        .slope())
                .isEqualTo(2.5);
        double[] y = column(1);
        y[7] = 20_000;
        Line line = Line.robust(column(0), y);
        assertThat(line.slope()).isCloseTo(1.002, within(1e-3));
        assertThat(line.at(500)).isCloseTo(500.8, within(0.5));
    }

    // Iglewicz and Hoaglin's example and the textbook MAD example.
    @Test
    void findsCentreAndSpreadThatOneWildValueCannotMove() {
        assertThat(Robust.median(1, 1, 2, 2, 4, 6, 9)).isEqualTo(2);
        assertThat(Robust.mad(1, 1, 2, 2, 4, 6, 9)).isEqualTo(1);
        double[] values = {6.27, 6.34, 6.25, 63.1, 6.28};
        assertThat(Robust.median(values)).isEqualTo(6.28);
        assertThat(Robust.mad(values)).isCloseTo(0.03, within(1e-12));
        assertThat(Robust.sigma(values, 0)).isCloseTo(0.0445, within(5e-5));
        assertThat(Robust.modifiedZ(63.1, values, 0)).isCloseTo(1277.5, within(0.1));
        assertThat(Robust.median(4, 1, 3, 2)).isEqualTo(2.5);
    }

    @Test
    void fallsBackToOneStepWhenQuantisedValuesHaveNoSpread() {
        double[] values = {14.5, 14.5, 14.5, 14.5, 15.7};
        assertThat(Robust.sigma(values, 0.4)).isEqualTo(0.4);
        assertThat(Robust.modifiedZ(15.7, values, 0.4)).isCloseTo(3, within(1e-9));
        assertThat(Robust.modifiedZ(15.7, values, 0)).isInfinite();
    }

    @Test
    void refusesPointsThatMakeNoLine() {
        assertThatThrownBy(() -> Line.through(new double[] {1, 1}, new double[] {1, 2}))
                .hasMessageContaining("one place");
        assertThatThrownBy(() -> Line.through(new double[] {1}, new double[] {1}))
                .hasMessageContaining("at least 2");
        assertThatThrownBy(() -> Line.robust(new double[] {1, Double.NaN}, new double[] {1, 2}))
                .hasMessageContaining("not a number");
        assertThatThrownBy(() -> Robust.median()).hasMessageContaining("number of values");
    }

    private static double[] column(int place) {
        double[] values = new double[NORRIS.length];
        for (int i = 0; i < values.length; i++) {
            values[i] = NORRIS[i][1 - place];
        }
        return values;
    }
}
