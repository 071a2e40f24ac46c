package idlewright.reference.sweep;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import idlewright.reference.sweep.SweepFeature.Kind;
import idlewright.reference.sweep.SweepReading.Outcome;
import idlewright.reference.sweep.SweepReading.Point;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

/** No outside check exists for a sweep: sweeps are made up from seeds, with noise, rounding and known faults. */
class SweepTest {

    private static final SweepOptions OVER_RPM = SweepOptions.over("rpm");

    @Test
    void passesNinetyNineOfAHundredHealthySweeps() {
        int rounds = 2000;
        List<String> alarms = new ArrayList<>();
        for (int seed = 0; seed < rounds; seed++) {
            MadeSweep made = MadeSweep.of(1000L * seed + 7, null);
            SweepReading reading = Sweep.judge(made.x(), made.y(), made.options());
            if (reading.outcome() != Outcome.SMOOTH) {
                alarms.add(made.recipe() + " -> " + reading.words());
            }
        }
        assertThat(alarms).hasSizeLessThanOrEqualTo(rounds / 100);
    }

    @ParameterizedTest
    @EnumSource(Kind.class)
    void findsNineteenOfTwentyPlantedFaultsWhereTheyAre(Kind kind) {
        int rounds = 400;
        List<String> missed = new ArrayList<>();
        for (int seed = 0; seed < rounds; seed++) {
            MadeSweep made = MadeSweep.of(1000L * seed + kind.ordinal(), kind);
            SweepReading reading = Sweep.judge(made.x(), made.y(), made.options());
            if (!made.foundBy(reading)) {
                missed.add(made.recipe() + " -> " + reading.words());
            }
        }
        assertThat(missed).hasSizeLessThanOrEqualTo(rounds / 20);
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, 0.002, 0.01, 0.02, 0.04})
    void takesItsToleranceFromTheNoiseInTheData(double noise) {
        int alarms = 0;
        for (int seed = 0; seed < 100; seed++) {
            double[][] sweep = driven(seed, 300, Math::sqrt, noise, 0);
            alarms += Sweep.judge(sweep[0], sweep[1], OVER_RPM).outcome() == Outcome.SMOOTH ? 0 : 1;
        }
        assertThat(alarms).isLessThanOrEqualTo(1);
    }

    @Test
    void passesNoiseThatGrowsWithFlowAndSlowWander() {
        int alarms = 0;
        for (int seed = 0; seed < 200; seed++) {
            SplittableRandom random = new SplittableRandom(seed);
            double[] x = new double[800];
            double[] y = new double[800];
            double wander = 0;
            for (int i = 0; i < 800; i++) {
                double u = i / 799.0;
                wander = 0.98 * wander + 0.2 * random.nextGaussian();
                x[i] = 800 + 2500 * u;
                y[i] = 1 + 3 * (Math.sqrt(u) + 0.002 * (1 + 2 * u) * random.nextGaussian() + 0.003 * wander);
            }
            alarms += Sweep.judge(x, y, OVER_RPM).outcome() == Outcome.SMOOTH ? 0 : 1;
        }
        assertThat(alarms).isLessThanOrEqualTo(2);
    }

    @Test
    void passesAHealthySweepWithTinyDecreases() {
        double[] x = new double[40];
        double[] y = new double[40];
        for (int i = 0; i < 40; i++) {
            x[i] = 700 + 70 * i;
            y[i] = 1.2 + 0.08 * i - (i % 5 == 0 ? 0.1 : 0);
        }
        SweepReading reading = Sweep.judge(x, y, OVER_RPM);
        assertThat(reading.outcome()).isEqualTo(Outcome.SMOOTH);
        assertThat(reading.words()).startsWith("Smooth: rises without a fault clear of its noise");
    }

    @Test
    void namesAFlatSpotInWords() {
        double[][] sweep = driven(3, 120, u -> u > 0.5 && u < 0.62 ? 0.5 : u, 0.002, 0.01);
        SweepReading reading = Sweep.judge(sweep[0], sweep[1], OVER_RPM);
        assertThat(reading.outcome()).isEqualTo(Outcome.FAULTY);
        assertThat(reading.features()).singleElement().satisfies(feature -> {
            assertThat(feature.kind()).isEqualTo(Kind.FLAT_SPOT);
            assertThat(feature.from()).isCloseTo(2100, within(80.0));
            assertThat(feature.to()).isCloseTo(2436, within(80.0));
            assertThat(feature.words()).startsWith("flat spot from 2,").endsWith(" rpm");
        });
        assertThat(reading.words()).startsWith("Faulty: flat spot from");
    }

    @Test
    void namesADropoutASpikeABackwardStepAndSaturation() {
        double[][] drop = driven(4, 200, u -> u, 0.002, 0.01);
        drop[1][90] = 0;
        drop[1][91] = 0;
        assertThat(only(drop).kind()).isEqualTo(Kind.DROPOUT);
        assertThat(only(drop).from()).isEqualTo(drop[0][90]);
        assertThat(only(drop).to()).isEqualTo(drop[0][91]);
        double[][] spike = driven(4, 200, u -> u, 0.002, 0.01);
        spike[1][120] += 1.5;
        assertThat(only(spike).words()).matches("spike at 2,\\d+(\\.\\d+)? rpm, [45]\\d % of the range up and back");
        assertThat(only(driven(4, 200, u -> u > 0.6 ? u - 0.15 : u, 0.002, 0.01))
                        .kind())
                .isEqualTo(Kind.BACKWARD_STEP);
        assertThat(only(driven(4, 200, u -> Math.min(u, 0.75), 0.002, 0.01)).kind())
                .isEqualTo(Kind.SATURATION);
    }

    @Test
    void findsSeveralFaultsInOneSweep() {
        double[][] sweep = driven(5, 400, u -> u > 0.25 && u < 0.35 ? 0.25 : u, 0.002, 0.01);
        sweep[1][220] = 0;
        sweep[1][300] = 5;
        assertThat(Sweep.judge(sweep[0], sweep[1], OVER_RPM).features())
                .extracting(SweepFeature::kind)
                .containsExactly(Kind.FLAT_SPOT, Kind.DROPOUT, Kind.SPIKE);
    }

    @Test
    void knowsTheCeilingItIsTold() {
        double[][] sweep = timed(6, 300, t -> Math.min(1, t * 1.4));
        SweepOptions over = SweepOptions.overTime();
        assertThat(Sweep.judge(sweep[0], sweep[1], over).outcome()).isEqualTo(Outcome.SMOOTH);
        double most = Arrays.stream(sweep[1]).max().orElseThrow();
        double[] clipped =
                Arrays.stream(sweep[1]).map(v -> Math.min(v, most - 0.1)).toArray();
        assertThat(Sweep.judge(sweep[0], clipped, over.withCeiling(most - 0.1)).features())
                .extracting(SweepFeature::kind)
                .containsExactly(Kind.SATURATION);
    }

    /** A sweep as one types it in by hand: every 200 rpm. */
    @Test
    void findsFaultsInASweepOfFifteenPointsTypedByHand() {
        double[] x = new double[15];
        double[] y = new double[15];
        Arrays.setAll(x, i -> 700 + 200 * i);
        Arrays.setAll(y, i -> Math.rint(100 * (0.9 + 0.25 * i)) / 100);
        assertThat(Sweep.judge(x, y, OVER_RPM).outcome()).isEqualTo(Outcome.SMOOTH);
        double[] flat = y.clone();
        Arrays.fill(flat, 6, 10, flat[6]);
        assertThat(only(new double[][] {x, flat}).words()).isEqualTo("flat spot from 1,900 to 2,500 rpm");
        double[] spike = y.clone();
        spike[7] += 1;
        assertThat(only(new double[][] {x, spike}).words()).startsWith("spike at 2,100 rpm");
        double[] dropout = y.clone();
        dropout[8] = 0;
        assertThat(only(new double[][] {x, dropout}).words()).startsWith("dropout at 2,300 rpm");
        double[] top = Arrays.stream(y).map(v -> Math.min(v, y[11])).toArray();
        assertThat(only(new double[][] {x, top}).kind()).isEqualTo(Kind.SATURATION);
    }

    @Test
    void callsARestAtTheFiveVoltRailSaturationOverTimeToo() {
        double[][] sweep = timed(6, 300, t -> t);
        double[] clipped =
                Arrays.stream(sweep[1]).map(v -> Math.min(v * 1.6, 5.0)).toArray();
        assertThat(Sweep.judge(sweep[0], clipped, SweepOptions.by("s").withRail("V", clipped))
                        .features())
                .extracting(SweepFeature::kind)
                .containsExactly(Kind.SATURATION);
        double[] reaching = Arrays.stream(sweep[1]).map(v -> v * 1.25).toArray();
        assertThat(Sweep.judge(sweep[0], reaching, SweepOptions.by("s").withRail("V", reaching))
                        .outcome())
                .isEqualTo(Outcome.SMOOTH);
        double[] flow = Arrays.stream(clipped).map(v -> v * 20).toArray();
        assertThat(Sweep.judge(sweep[0], flow, SweepOptions.by("s").withRail("g/s", flow))
                        .outcome())
                .isEqualTo(Outcome.SMOOTH);
    }

    @Test
    void judgesTheRisingPartOfARampUpAndDown() {
        double[][] sweep = timed(7, 500, t -> t < 0.1 ? 0 : t < 0.5 ? (t - 0.1) / 0.4 : t < 0.6 ? 1 : (1 - t) / 0.4);
        SweepReading reading = Sweep.judge(sweep[0], sweep[1], SweepOptions.overTime());
        assertThat(reading.outcome()).isEqualTo(Outcome.SMOOTH);
        assertThat(reading.words()).contains("Judged from 0 to 6").endsWith("s, the rising part.");
    }

    @Test
    void takesADropoutForNoTurn() {
        double[][] sweep = timed(8, 500, t -> t < 0.1 ? 0 : t < 0.7 ? (t - 0.1) / 0.6 : 1);
        Arrays.fill(sweep[1], 300, 315, 0);
        assertThat(Sweep.judge(sweep[0], sweep[1], SweepOptions.overTime()).features())
                .extracting(SweepFeature::kind)
                .containsExactly(Kind.DROPOUT);
    }

    @Test
    void readsASensorWhoseSignalFalls() {
        double[][] sweep = driven(9, 150, u -> 1 - u, 0.002, 0.01);
        assertThat(Sweep.judge(sweep[0], sweep[1], OVER_RPM).outcome()).isEqualTo(Outcome.SMOOTH);
        sweep[1][70] += 1;
        assertThat(Sweep.judge(sweep[0], sweep[1], OVER_RPM).features()).hasSize(1);
    }

    @Test
    void judgesNothingFromTooFewPointsOrNoRange() {
        double[] few = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11};
        assertThat(Sweep.judge(few, few, OVER_RPM).words())
                .isEqualTo("Not judged. Only 11 points: at least 12 are needed to see a fault.");
        double[][] still = driven(10, 100, u -> 0, 0.01, 0);
        assertThat(Sweep.judge(still[0], still[1], OVER_RPM).words()).contains("hardly moved");
        double[][] same = driven(10, 100, u -> 0, 0, 0);
        assertThat(Sweep.judge(same[0], same[1], OVER_RPM).outcome()).isEqualTo(Outcome.NOT_JUDGED);
        double[] place = new double[100];
        assertThat(Sweep.judge(place, same[0], OVER_RPM).words()).contains("one place");
        assertThat(Sweep.judge(new double[0], new double[0], OVER_RPM).outcome())
                .isEqualTo(Outcome.NOT_JUDGED);
    }

    @Test
    void callsNothingSmoothThatHasAHoleInIt() {
        double[][] sweep = driven(11, 200, u -> u, 0.002, 0);
        double[] x = new double[120];
        double[] y = new double[120];
        for (int i = 0; i < 120; i++) {
            int from = i < 60 ? i : i + 80;
            x[i] = sweep[0][from];
            y[i] = sweep[1][from];
        }
        assertThat(Sweep.judge(x, y, OVER_RPM).words()).contains("No points over 41 % of the sweep");
    }

    @Test
    void refusesWhatIsNoNumberAndPointsWithoutAPartner() {
        double[] x = {1, 2, 3};
        assertThatThrownBy(() -> Sweep.judge(x, new double[] {1, Double.NaN, 3}, OVER_RPM))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("y of the points must be finite numbers, but number 2 is not a number");
        assertThatThrownBy(() -> Sweep.judge(new double[] {1, 2, Double.POSITIVE_INFINITY}, x, OVER_RPM))
                .hasMessageContaining("number 3");
        assertThatThrownBy(() -> Sweep.judge(x, new double[] {1}, OVER_RPM)).hasMessageContaining("3 and 1");
        assertThatThrownBy(() -> OVER_RPM.withStep(-1)).hasMessageContaining("step of the instrument");
    }

    @Test
    void takesThePointsInAnyOrderAndLeavesThemAlone() {
        double[][] sweep = driven(12, 100, u -> u > 0.5 && u < 0.65 ? 0.5 : u, 0.002, 0.01);
        double[] x = new double[100];
        double[] y = new double[100];
        for (int i = 0; i < 100; i++) {
            x[i] = sweep[0][(i * 37) % 100];
            y[i] = sweep[1][(i * 37) % 100];
        }
        double[] before = x.clone();
        assertThat(Sweep.judge(x, y, OVER_RPM)).isEqualTo(Sweep.judge(sweep[0], sweep[1], OVER_RPM));
        assertThat(x).containsExactly(before);
    }

    @Test
    void cutsTheCurveAtItsFaultsForDrawing() {
        double[][] sweep = driven(13, 10_000, u -> u > 0.4 && u < 0.5 ? 0.4 : u, 0.003, 0.01);
        SweepReading reading = Sweep.judge(sweep[0], sweep[1], OVER_RPM);
        assertThat(reading.segments()).hasSize(3);
        assertThat(reading.segments())
                .extracting(SweepReading.Segment::fault)
                .containsExactly(null, Kind.FLAT_SPOT, null);
        double at = Double.NEGATIVE_INFINITY;
        for (SweepReading.Segment segment : reading.segments()) {
            assertThat(segment.points()).hasSizeBetween(2, 600);
            for (Point point : segment.points()) {
                assertThat(point.x()).isGreaterThanOrEqualTo(at);
                at = point.x();
            }
        }
        assertThat(at).isEqualTo(3500);
    }

    @Test
    void keepsASpikeWhenItThinsTheCurveOut() {
        double[][] sweep = driven(14, 10_000, u -> u, 0.003, 0.01);
        sweep[1][5000] = 9;
        SweepReading reading = Sweep.judge(sweep[0], sweep[1], OVER_RPM);
        assertThat(reading.features()).extracting(SweepFeature::kind).containsExactly(Kind.SPIKE);
        assertThat(reading.segments().stream().flatMap(segment -> segment.points().stream()))
                .anyMatch(point -> point.y() == 9);
    }

    // Measured 4 to 8 ms on two shared cores; the bound only catches a quadratic slip.
    @Test
    void readsTenThousandPointsInMilliseconds() {
        double[][] sweep = driven(15, 10_000, Math::sqrt, 0.005, 0.01);
        double best = Double.MAX_VALUE;
        for (int i = 0; i < 20; i++) {
            long start = System.nanoTime();
            Sweep.judge(sweep[0], sweep[1], OVER_RPM);
            best = Math.min(best, (System.nanoTime() - start) / 1e6);
        }
        assertThat(best).isLessThan(50);
    }

    private static SweepFeature only(double[][] sweep) {
        SweepReading reading = Sweep.judge(sweep[0], sweep[1], OVER_RPM);
        assertThat(reading.features()).as(reading.words()).hasSize(1);
        return reading.features().get(0);
    }

    private static double[][] driven(long seed, int n, DoubleUnaryOperator curve, double noise, double step) {
        SplittableRandom random = new SplittableRandom(seed);
        double[] x = new double[n];
        double[] y = new double[n];
        for (int i = 0; i < n; i++) {
            double u = i / (n - 1.0);
            x[i] = 700 + 2800 * u;
            double value = 1 + 3 * (curve.applyAsDouble(u) + noise * random.nextGaussian());
            y[i] = step == 0 ? value : Math.rint(value / step) * step;
        }
        return new double[][] {x, y};
    }

    private static double[][] timed(long seed, int n, DoubleUnaryOperator curve) {
        double[][] sweep = driven(seed, n, curve, 0.003, 0.01);
        Arrays.setAll(sweep[0], i -> 10.0 * i / (n - 1));
        return sweep;
    }
}
