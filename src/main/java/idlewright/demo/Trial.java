package idlewright.demo;

import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.KeyState;
import idlewright.bench.rules.Motion;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** One test as somebody of the demo shop does it. */
record Trial(String procedure, Conditions conditions, List<Take> takes) {

    /** One reading as it is typed; unit is null for a choice, for codes and for a series. */
    record Take(
            String point, int spot, String typed, @Nullable String unit) {}

    static Take take(String point, String typed, String unit) {
        return new Take(point, 0, typed, unit);
    }

    static Take take(String point, int spot, String typed, String unit) {
        return new Take(point, spot, typed, unit);
    }

    static Take choose(String point, String choice) {
        return new Take(point, 0, choice, null);
    }

    static Trial keyOff(String procedure, Take... takes) {
        return of(
                procedure, new Conditions(KeyState.KEY_OFF, null, null, null, null, Motion.PARKED, null, null), takes);
    }

    static Trial keyOn(String procedure, Take... takes) {
        return of(
                procedure,
                new Conditions(KeyState.KEY_ON_ENGINE_OFF, null, null, null, null, Motion.PARKED, null, null),
                takes);
    }

    static Trial cranking(String procedure, Take... takes) {
        return of(
                procedure, new Conditions(KeyState.CRANKING, null, null, null, null, Motion.PARKED, null, null), takes);
    }

    /** Hot, standing, out of gear, consumers off: what most tests ask for. */
    static Trial hot(String procedure, double idleRpm, double coolantC, Take... takes) {
        return of(
                procedure,
                new Conditions(KeyState.RUNNING, idleRpm, coolantC, 24.0, "N", Motion.PARKED, "consumers off", 101.1),
                takes);
    }

    static Trial onTheRoad(String procedure, double coolantC, Take... takes) {
        return of(
                procedure,
                new Conditions(KeyState.RUNNING, null, coolantC, 21.0, null, Motion.DRIVEN, null, null),
                takes);
    }

    private static Trial of(String procedure, Conditions conditions, Take... takes) {
        return new Trial(procedure, conditions, List.of(takes));
    }
}
