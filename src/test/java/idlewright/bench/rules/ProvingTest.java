package idlewright.bench.rules;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.bench.rules.Proving.Outcome;
import idlewright.bench.rules.Proving.Proof;
import idlewright.bench.rules.Proving.Taken;
import idlewright.reference.units.Unit;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

class ProvingTest {
    private static final Conditions KEY_ON =
            new Conditions(KeyState.KEY_ON_ENGINE_OFF, null, null, null, null, Motion.PARKED, null, null);
    private static final Accuracy METER = new Accuracy(0.5, 2, 0.01);

    private static TestResult supply(double battery, double supply) {
        return PatternsTest.CATALOGUE
                .procedure("sensor-supply")
                .orElseThrow()
                .read(
                        Readings.none()
                                .number("battery", battery, Unit.VOLT, METER)
                                .number("supply", supply, Unit.VOLT, METER),
                        PatternsTest.VEHICLE,
                        Map.of());
    }

    private static Conditions running(@Nullable Double rpm, @Nullable Double coolant, @Nullable String gear) {
        return new Conditions(KeyState.RUNNING, rpm, coolant, 25.0, gear, Motion.PARKED, "accessories off", 100.0);
    }

    private static TestResult signal(double idle) {
        return PatternsTest.CATALOGUE
                .procedure("sensor-signal")
                .orElseThrow()
                .read(
                        Readings.none()
                                .number("signal-idle", idle, Unit.VOLT, METER)
                                .number("signal-3500", 2.2, Unit.VOLT, METER),
                        PatternsTest.VEHICLE,
                        Map.of());
    }

    @Test
    void provesWhatWasOutsideAndIsWithin() {
        Proof proof = Proving.judge(new Taken(supply(12.4, 10.9), KEY_ON), new Taken(supply(12.5, 12.44), KEY_ON));

        assertThat(proof.outcome().words()).isEqualTo("proved");
        assertThat(proof.reasons())
                .containsExactly("Battery less supply was outside and is within: 1.5 V before, 0.06 V after.");
    }

    @Test
    void doesNotProveWhatIsStillOutside() {
        Proof proof = Proving.judge(new Taken(supply(12.4, 10.9), KEY_ON), new Taken(supply(12.5, 11.9), KEY_ON));

        assertThat(proof.outcome()).isEqualTo(Outcome.NOT_PROVED);
        assertThat(proof.reasons()).containsExactly("Battery less supply is still outside: 1.5 V before, 0.6 V after.");
    }

    @Test
    void doesNotProveWhatIsTooCloseAfterwards() {
        Proof proof = Proving.judge(new Taken(supply(12.4, 10.9), KEY_ON), new Taken(supply(12.4, 12.2), KEY_ON));

        assertThat(proof.outcome()).isEqualTo(Outcome.NOT_PROVED);
        assertThat(proof.reasons().get(0)).contains("too close to call");
    }

    @Test
    void doesNotProveByATestThatFoundNothing() {
        Proof proof = Proving.judge(new Taken(supply(12.4, 12.35), KEY_ON), new Taken(supply(12.4, 12.36), KEY_ON));

        assertThat(proof.outcome()).isEqualTo(Outcome.NOT_PROVED);
        assertThat(proof.reasons())
                .containsExactly("The first test found nothing outside, so it cannot show that the repair helped.");
    }

    @Test
    void saysWhatIsNotComparable() {
        Proof proof = Proving.judge(
                new Taken(signal(1.9), running(700.0, 92.0, "P")), new Taken(signal(0.9), running(800.0, 45.0, "D")));

        assertThat(proof.outcome().words()).isEqualTo("not comparable");
        assertThat(proof.reasons())
                .containsExactly(
                        "Not the same conditions: engine speed 700 rpm before, 800 rpm after: more than 5 % apart.",
                        "Not the same conditions: coolant 92 °C before, 45 °C after: not the same warmth.",
                        "Not the same conditions: gear P before, D after.");
    }

    @Test
    void acceptsFivePerCentOfSpeedAndAnyWorkingTemperature() {
        Proof proof = Proving.judge(
                new Taken(signal(1.9), running(700.0, 85.0, "P")), new Taken(signal(0.9), running(735.0, 98.0, "p")));

        assertThat(proof.outcome()).isEqualTo(Outcome.PROVED);
    }

    @Test
    void missesATemperatureThatWasNotNoted() {
        Proof proof = Proving.judge(
                new Taken(signal(1.9), running(700.0, null, "P")), new Taken(signal(0.9), running(700.0, 98.0, "P")));

        assertThat(proof.outcome()).isEqualTo(Outcome.NOT_COMPARABLE);
        assertThat(proof.reasons())
                .containsExactly("Not the same conditions: the coolant temperature was not noted before.");
    }

    @Test
    void comparesNothingAcrossTwoProcedures() {
        Proof proof =
                Proving.judge(new Taken(supply(12.4, 10.9), KEY_ON), new Taken(signal(0.9), running(700.0, 90.0, "P")));

        assertThat(proof.outcome()).isEqualTo(Outcome.NOT_COMPARABLE);
        assertThat(proof.reasons().get(0)).startsWith("Two different tests:");
    }

    @Test
    void provesAnObservationThatIsGone() {
        Procedure reproduce = PatternsTest.CATALOGUE.procedure("reproduce").orElseThrow();
        TestResult seen = reproduce.read(Readings.none().choice("complaint", "seen"), PatternsTest.VEHICLE, Map.of());
        TestResult gone =
                reproduce.read(Readings.none().choice("complaint", "not-seen"), PatternsTest.VEHICLE, Map.of());

        Proof proof =
                Proving.judge(new Taken(seen, running(null, 90.0, "D")), new Taken(gone, running(null, 91.0, "D")));

        assertThat(proof.outcome()).isEqualTo(Outcome.PROVED);
        assertThat(proof.reasons()).containsExactly("The symptom: seen as described before, not seen after.");
    }

    @Test
    void notesOtherWeatherWithoutForbiddingTheComparison() {
        var winter = new Conditions(KeyState.RUNNING, 700.0, 90.0, 2.0, "P", Motion.PARKED, null, 98.0);
        var summer = new Conditions(KeyState.RUNNING, 700.0, 90.0, 35.0, "P", Motion.PARKED, null, 102.0);

        Conditions.Comparison comparison = Conditions.compare(winter, summer);

        assertThat(comparison.matching()).isTrue();
        assertThat(comparison.notes())
                .isEqualTo(List.of("intake air 2 °C before, 35 °C after", "air pressure 98 kPa before, 102 kPa after"));
    }

    @Test
    void provesACoilThoughNothingIsLeftToFollowAfterwards() {
        var ignition = PatternsTest.CATALOGUE.procedure("ignition").orElseThrow();
        var cranking = new Conditions(KeyState.CRANKING, null, null, null, null, Motion.PARKED, null, null);
        TestResult before = ignition.read(
                Readings.none().choice("spark", "one-weak").choice("follows", "coil"), PatternsTest.VEHICLE, Map.of());
        TestResult after = ignition.read(Readings.none().choice("spark", "all-good"), PatternsTest.VEHICLE, Map.of());

        Proof proof = Proving.judge(new Taken(before, cranking), new Taken(after, cranking));

        assertThat(proof.outcome()).isEqualTo(Outcome.PROVED);
        assertThat(before.outcomes()).extracting(outcome -> outcome.key()).contains("fault-follows-coil");
    }
}
