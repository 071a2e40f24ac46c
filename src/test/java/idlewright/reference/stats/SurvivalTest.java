package idlewright.reference.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import org.junit.jupiter.api.Test;

/** The 6-MP trial of Freireich and others 1963, weeks in remission; treated group as published, control group from memory. */
class SurvivalTest {

    private static final double[] TREATED = {
        6, 6, 6, 6, 7, 9, 10, 10, 11, 13, 16, 17, 19, 20, 22, 23, 25, 32, 32, 34, 35
    };
    private static final boolean[] TREATED_BACK = {
        true, true, true, false, true, false, true, false, false, true, true, false, false, false, true, true, false,
        false, false, false, false
    };
    private static final double[] CONTROL = {1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23};

    // Textbook values; SciPy 1.17.1 agrees.
    @Test
    void followsThePublishedCurve() {
        Survival curve = Survival.of(TREATED, TREATED_BACK);
        double[][] published = {
            {6, 21, .8571, .0764},
            {7, 17, .8067, .0869},
            {10, 15, .7529, .0963},
            {13, 12, .6902, .1068},
            {16, 11, .6275, .1141},
            {22, 7, .5378, .1282},
            {23, 6, .4482, .1346}
        };
        assertThat(curve.steps()).hasSize(published.length);
        for (int i = 0; i < published.length; i++) {
            Survival.Step step = curve.steps().get(i);
            assertThat(step.time()).isEqualTo(published[i][0]);
            assertThat(step.atRisk()).isEqualTo((int) published[i][1]);
            assertThat(step.survival()).isCloseTo(published[i][2], within(5e-5));
            assertThat(step.standardError()).isCloseTo(published[i][3], within(5e-5));
        }
        assertThat(curve.median()).hasValue(23);
        assertThat(curve.rate()).isCloseTo(9.0 / 359, within(1e-12));
        assertThat(Survival.of(CONTROL, all(21)).rate()).isCloseTo(21.0 / 182, within(1e-12));
    }

    // SciPy 1.17.1, log-log interval.
    @Test
    void givesIntervalsThatStayBetweenNoneAndAll() {
        Survival curve = Survival.of(TREATED, TREATED_BACK);
        assertThat(curve.steps().get(0).likely().low()).isCloseTo(0.61971796, within(1e-7));
        assertThat(curve.steps().get(0).likely().high()).isCloseTo(0.95155175, within(1e-7));
        assertThat(curve.steps().get(6).likely().low()).isCloseTo(0.18805201, within(1e-7));
        assertThat(curve.words(12, "weeks")).isEqualTo("After 12 weeks 75 % hold, likely 50 to 89 %.");
        assertThat(curve.words(3, "weeks")).isEqualTo("After 3 weeks all 21 hold.");
        assertThat(curve.survivalAt(9)).isCloseTo(.8067, within(5e-5));
    }

    // Published: O 9, E 19.2505, V 6.2570, chi2 16.7929, p 4.17E-5.
    @Test
    void comparesTwoGroupsByLogRank() {
        LogRank test = LogRank.compare(TREATED, TREATED_BACK, CONTROL, all(21));
        assertThat(test.observed()).isEqualTo(9);
        assertThat(test.expected()).isCloseTo(19.2505, within(5e-5));
        assertThat(test.variance()).isCloseTo(6.2570, within(5e-5));
        assertThat(test.chiSquared()).isCloseTo(16.7929, within(5e-5));
        assertThat(test.p()).isCloseTo(4.17e-5, within(5e-8));
        assertThat(test.words())
                .isEqualTo(
                        "9 came back where 19.3 would if both lasted alike. That is more than chance (p under 0.001).");
    }

    @Test
    void takesTheTimesInAnyOrder() {
        double[] times = TREATED.clone();
        boolean[] back = TREATED_BACK.clone();
        for (int i = 0; i < 10; i++) {
            int j = 20 - i;
            double time = times[i];
            times[i] = times[j];
            times[j] = time;
            boolean was = back[i];
            back[i] = back[j];
            back[j] = was;
        }
        assertThat(Survival.of(times, back)).isEqualTo(Survival.of(TREATED, TREATED_BACK));
    }

    @Test
    void hasNoMedianWhileMostHold() {
        Survival curve = Survival.of(new double[] {3, 10, 10, 10}, new boolean[] {true, false, false, false});
        assertThat(curve.median()).isEmpty();
        assertThat(LogRank.compare(new double[] {1}, new boolean[] {false}, new double[] {2}, new boolean[] {false})
                        .p())
                .isEqualTo(1);
    }

    @Test
    void refusesTimesThatCannotBe() {
        assertThatThrownBy(() -> Survival.of(new double[0], new boolean[0])).hasMessageContaining("at least one time");
        assertThatThrownBy(() -> Survival.of(new double[] {-1}, new boolean[] {true}))
                .hasMessage("time must be 0 or more, but was -1");
    }

    private static boolean[] all(int n) {
        boolean[] back = new boolean[n];
        Arrays.fill(back, true);
        return back;
    }
}
