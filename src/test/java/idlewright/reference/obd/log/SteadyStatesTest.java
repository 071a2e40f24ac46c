package idlewright.reference.obd.log;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import idlewright.reference.obd.log.LogReading.Kind;
import idlewright.reference.obd.log.LogReading.Ramp;
import idlewright.reference.obd.log.LogReading.State;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class SteadyStatesTest {

    @Test
    void findsEveryPhaseOfADriveAtTenRowsASecond() {
        LogReading log = Drive.read(Drive.csv(0.1));

        assertThat(log.states())
                .extracting(State::kind)
                .containsExactly(
                        Kind.KEY_ON,
                        Kind.CRANKING,
                        Kind.WARM_UP,
                        Kind.HOT_IDLE,
                        Kind.RPM_2500_NO_LOAD,
                        Kind.CRUISE,
                        Kind.WIDE_OPEN);
        between(only(log, Kind.KEY_ON), Drive.KEY_ON, Drive.CRANK, 0.5);
        between(only(log, Kind.CRANKING), Drive.CRANK, Drive.WARM_UP, 0.5);
        between(only(log, Kind.RPM_2500_NO_LOAD), Drive.PARKED_2500, Drive.PARKED_2500_END, 1.5);
        between(only(log, Kind.CRUISE), Drive.CRUISE, Drive.CRUISE_END, 2);
        between(only(log, Kind.WIDE_OPEN), Drive.WIDE_OPEN, Drive.WIDE_OPEN_END, 0.5);
        median(only(log, Kind.CRANKING), LogQuantity.MODULE_VOLTAGE, 10.3, 0.01);
        median(only(log, Kind.RPM_2500_NO_LOAD), LogQuantity.ENGINE_SPEED, 2500, 8);
        median(only(log, Kind.CRUISE), LogQuantity.VEHICLE_SPEED, 80, 0.5);
        assertThat(only(log, Kind.HOT_IDLE).note()).isEmpty();
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.05, 0.1, 0.25, 1, 2, 5})
    void readsTheSameMediansAtEverySamplingRate(double step) {
        LogReading log = Drive.read(Drive.csv(step));

        median(last(log, Kind.HOT_IDLE), LogQuantity.ENGINE_SPEED, 750, 10);
        median(last(log, Kind.RPM_2500_NO_LOAD), LogQuantity.ENGINE_SPEED, 2500, 20);
        median(last(log, Kind.CRUISE), LogQuantity.ENGINE_SPEED, 2100, 12);
        between(last(log, Kind.CRUISE), Drive.CRUISE, Drive.CRUISE_END, Math.max(2, step));
        assertThat(log.distanceKm().orElseThrow()).isCloseTo(2.41, within(0.02));
    }

    @Test
    void isNotMovedBySpikes() {
        String spiked = Drive.csv(0.1).replaceAll("(?m)^(200\\.[1-9]00|2[0-3]5\\.000|33[0-9]\\.000),\\d+,", "$1,6000,");
        assertThat(spiked).isNotEqualTo(Drive.csv(0.1));
        LogReading log = Drive.read(spiked);

        State cruise = only(log, Kind.CRUISE);
        between(cruise, Drive.CRUISE, Drive.CRUISE_END, 2);
        median(cruise, LogQuantity.ENGINE_SPEED, 2100, 5);
        median(last(log, Kind.HOT_IDLE), LogQuantity.ENGINE_SPEED, 750, 10);
    }

    @Test
    void endsAStateWhereTheLevelChanges() {
        StringBuilder csv = new StringBuilder("Time (s),RPM,Speed (km/h),Coolant (°C),MAF (g/s)\n");
        SplittableRandom random = new SplittableRandom(5);
        for (int i = 0; i < 1200; i++) {
            boolean loaded = i >= 600;
            double noise = random.nextDouble() - 0.5;
            csv.append(String.format(
                    Locale.ROOT,
                    "%.1f,%.0f,0,90,%.2f%n",
                    i / 10.0,
                    (loaded ? 850 : 700) + 20 * noise,
                    loaded ? 4.6 : 3.1));
        }
        LogReading log = Drive.read(csv.toString());

        assertThat(log.states()).hasSize(2).allMatch(state -> state.kind() == Kind.HOT_IDLE);
        assertThat(log.states().get(0).to()).isCloseTo(60, within(0.3));
        assertThat(log.states().get(1).from()).isCloseTo(60, within(0.3));
        median(log.states().get(0), LogQuantity.MASS_AIR_FLOW, 3.1, 1e-9);
        median(log.states().get(1), LogQuantity.MASS_AIR_FLOW, 4.6, 1e-9);
    }

    @Test
    void keepsAHuntingIdleAsOneStateWithItsSpread() {
        StringBuilder csv = new StringBuilder("Time (s),RPM,Speed (km/h),Coolant (°C)\n");
        for (int i = 0; i < 600; i++) {
            csv.append(String.format(
                    Locale.ROOT, "%.1f,%.0f,0,90%n", i / 10.0, 750 + 90 * Math.sin(i / 10.0 * 2 * Math.PI / 2.5)));
        }
        LogReading log = Drive.read(csv.toString());

        State idle = only(log, Kind.HOT_IDLE);
        between(idle, 0, 60, 3);
        assertThat(idle.reading(LogQuantity.ENGINE_SPEED).orElseThrow().spread())
                .isGreaterThan(60);
    }

    @Test
    void givesAConstantReadingTheSpreadOfOneStep() {
        StringBuilder csv = new StringBuilder("Time (s),RPM,Speed (km/h),Coolant (°C)\n");
        for (int i = 0; i < 60; i++) {
            csv.append(i).append(",750,0,90\n");
        }
        State idle = only(Drive.read(csv.toString()), Kind.HOT_IDLE);

        assertThat(idle.reading(LogQuantity.ENGINE_SPEED).orElseThrow().spread())
                .isEqualTo(0.25);
        assertThat(idle.reading(LogQuantity.COOLANT_TEMPERATURE).orElseThrow().spread())
                .isEqualTo(1);
        assertThat(idle.reading(LogQuantity.COOLANT_TEMPERATURE).orElseThrow().n())
                .isEqualTo(60);
    }

    @Test
    void saysWhatCannotBeToldForWantOfData() {
        StringBuilder csv = new StringBuilder("Time (s),RPM\n");
        for (int i = 0; i < 60; i++) {
            csv.append(i).append(",750\n");
        }
        LogReading log = Drive.read(csv.toString());

        assertThat(only(log, Kind.IDLE).note())
                .hasValueSatisfying(note -> assertThat(note).contains("coolant"));
        assertThat(log.problems())
                .anyMatch(problem -> problem.startsWith("No vehicle speed: idle is taken from engine speed alone"))
                .anyMatch(problem -> problem.startsWith("No coolant temperature: an idle cannot be called hot"))
                .anyMatch(problem -> problem.startsWith("No accelerator pedal or throttle"))
                .anyMatch(problem -> problem.startsWith("One row every 1.0 s: cranking is too short"));
    }

    @Test
    void doesNotCallTheOpenPlateOfADieselWideOpenThrottle() {
        StringBuilder csv = new StringBuilder("Time (s),RPM,Speed (km/h),Coolant (°C),Throttle (%)\n");
        for (int i = 0; i < 120; i++) {
            csv.append(i).append(i < 60 ? ",800,0,90,92\n" : ",1800,70,90,92\n");
        }
        LogReading log = Drive.read(csv.toString(), LogOptions.plain().burning(Fuel.DIESEL));

        assertThat(log.states()).extracting(State::kind).containsExactly(Kind.HOT_IDLE, Kind.CRUISE);
        assertThat(log.problems()).anyMatch(problem -> problem.contains("wide open throttle is not told"));
    }

    @Test
    void offersPullsAsSweeps() {
        LogReading log = Drive.read(Drive.csv(0.1));

        assertThat(log.ramps()).extracting(Ramp::x).contains(LogQuantity.THROTTLE, LogQuantity.ENGINE_SPEED);
        Ramp pull = log.ramps().stream()
                .filter(ramp -> ramp.x() == LogQuantity.ENGINE_SPEED && ramp.from() > 355)
                .findFirst()
                .orElseThrow();
        assertThat(pull.xs()[0]).isBetween(2000.0, 2200.0);
        assertThat(pull.xs()[pull.xs().length - 1]).isGreaterThan(5600);
        assertThat(pull.ys()).hasSameSizeAs(pull.xs());
        assertThat(pull.to()).isCloseTo(Drive.WIDE_OPEN_END, within(1.0));
    }

    @Test
    void asksWhetherFlowAndDisplacementBelongTogether() {
        assertThat(Drive.read(Drive.csv(1), LogOptions.plain().withDisplacement(2.0))
                        .problems())
                .noneMatch(problem -> problem.startsWith("Absolute load"));
        assertThat(Drive.read(
                                Drive.csv(1).replace("MAF (g/s)", "MAF (lb/min)"),
                                LogOptions.plain().withDisplacement(2.0))
                        .problems())
                .anyMatch(
                        problem -> problem.startsWith("Absolute load would be") || problem.startsWith("Mass air flow"));
    }

    private static State only(LogReading log, Kind kind) {
        List<State> states =
                log.states().stream().filter(state -> state.kind() == kind).toList();
        assertThat(states)
                .as("%s in %s", kind, log.states().stream().map(State::kind).toList())
                .hasSize(1);
        return states.get(0);
    }

    private static State last(LogReading log, Kind kind) {
        return log.states().stream()
                .filter(state -> state.kind() == kind)
                .reduce((first, second) -> second)
                .orElseThrow(() -> new AssertionError("no " + kind));
    }

    private static void between(State state, double from, double to, double tolerance) {
        assertThat(state.from()).isCloseTo(from, within(tolerance));
        assertThat(state.to()).isCloseTo(to, within(tolerance));
    }

    private static void median(State state, LogQuantity quantity, double expected, double tolerance) {
        assertThat(state.reading(quantity).orElseThrow().median()).isCloseTo(expected, within(tolerance));
    }
}
