package idlewright.proof.rules;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.bench.rules.Accuracy;
import idlewright.bench.rules.Catalogue;
import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.KeyState;
import idlewright.bench.rules.Motion;
import idlewright.bench.rules.Readings;
import idlewright.bench.rules.TestResult;
import idlewright.bench.rules.VehicleFacts;
import idlewright.proof.rules.SideBySide.Compared;
import idlewright.reference.units.Unit;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

@DisplayName("Before and after")
class SideBySideTest {

    private static final Catalogue CATALOGUE = Catalogue.load();
    private static final Instant MORNING = Instant.parse("2026-11-09T08:00:00Z");
    private static final Accuracy METER = new Accuracy(0.5, 2, 0.01);

    @Test
    void asksForARepetitionOfEveryTestThatFoundSomethingOutside() {
        var compared = of(supply(1, false, 0, 12.4, 10.9), signal(2, false, 5, 1.9, 90.0));
        assertThat(compared).extracting(each -> each.before().id()).containsExactly(1L, 2L);
        assertThat(compared).extracting(Compared::words).containsOnly("not repeated yet");
    }

    @Test
    void asksForNoneOfATestThatFoundNothing() {
        assertThat(of(supply(1, false, 0, 12.4, 12.35))).isEmpty();
    }

    @Test
    void isProvedByTheSameTestAfterwards() {
        assertThat(of(supply(1, false, 0, 12.4, 10.9), supply(2, true, 60, 12.4, 12.36)))
                .singleElement()
                .satisfies(each -> {
                    assertThat(each.proved()).isTrue();
                    assertThat(each.after().id()).isEqualTo(2);
                });
    }

    @Test
    void takesTheLatestRepetitionNotTheOneThatLooksBest() {
        assertThat(of(
                        supply(1, false, 0, 12.4, 10.9),
                        supply(2, true, 60, 12.4, 12.36),
                        supply(3, true, 70, 12.4, 11.0)))
                .singleElement()
                .satisfies(each -> assertThat(each.words()).isEqualTo("not proved"));
    }

    @Test
    void leavesARepetitionAsideThatCannotBeCompared() {
        assertThat(of(signal(1, false, 0, 1.9, 90.0), signal(2, true, 60, 0.9, 90.0), signal(3, true, 70, 0.9, 30.0)))
                .singleElement()
                .satisfies(each -> {
                    assertThat(each.proved()).isTrue();
                    assertThat(each.after().id()).isEqualTo(2);
                });
    }

    @Test
    void saysWhatCannotBeComparedWhenNothingElseIsThere() {
        assertThat(of(signal(1, false, 0, 1.9, 90.0), signal(2, true, 60, 0.9, 30.0)))
                .singleElement()
                .satisfies(each -> {
                    assertThat(each.words()).isEqualTo("not comparable");
                    assertThat(each.proof().reasons())
                            .anyMatch(reason -> reason.contains("coolant 90 °C before, 30 °C after"));
                });
    }

    @Test
    void countsATestDoneOverBeforeTheRepairOnce() {
        assertThat(of(supply(1, false, 0, 12.4, 10.9), supply(2, false, 5, 12.4, 12.36)))
                .isEmpty();
        assertThat(of(supply(1, false, 0, 12.4, 10.9), supply(2, false, 5, 12.4, 11.0)))
                .extracting(each -> each.before().id())
                .containsExactly(2L);
    }

    @Test
    void forgetsARepetitionFromBeforeTheLastPart() {
        assertThat(SideBySide.of(
                        List.of(supply(1, false, 0, 12.4, 10.9), supply(2, true, 60, 12.4, 12.36)),
                        MORNING.plusSeconds(90 * 60)))
                .singleElement()
                .satisfies(each -> assertThat(each.words()).isEqualTo("not repeated yet"));
    }

    private static List<Compared> of(SideBySide.Test... tests) {
        return SideBySide.of(List.of(tests), Instant.EPOCH);
    }

    private static SideBySide.Test supply(long id, boolean after, int minute, double battery, double supply) {
        TestResult result = read(
                "sensor-supply",
                Readings.none()
                        .number("battery", battery, Unit.VOLT, METER)
                        .number("supply", supply, Unit.VOLT, METER));
        return new SideBySide.Test(
                id,
                after,
                MORNING.plusSeconds(minute * 60L),
                result,
                conditions(KeyState.KEY_ON_ENGINE_OFF, null, null));
    }

    private static SideBySide.Test signal(long id, boolean after, int minute, double idle, double coolant) {
        TestResult result = read(
                "sensor-signal",
                Readings.none()
                        .number("signal-idle", idle, Unit.VOLT, METER)
                        .number("signal-3500", 2.2, Unit.VOLT, METER));
        return new SideBySide.Test(
                id, after, MORNING.plusSeconds(minute * 60L), result, conditions(KeyState.RUNNING, 700.0, coolant));
    }

    private static TestResult read(String procedure, Readings readings) {
        return CATALOGUE.procedure(procedure).orElseThrow().read(readings, VehicleFacts.unknown(), Map.of());
    }

    private static Conditions conditions(KeyState state, @Nullable Double rpm, @Nullable Double coolant) {
        return new Conditions(state, rpm, coolant, null, null, Motion.PARKED, null, null);
    }
}
