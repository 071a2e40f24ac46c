package idlewright.reference.sweep;

import idlewright.reference.bounds.Bounds;
import java.util.OptionalDouble;

/**
 * How a sweep is to be read.
 *
 * @param axis what x is
 * @param unit unit of x, for the words
 * @param step smallest step the instrument shows in y, 0 to have it found in the data
 * @param ceiling the most the signal can show, such as 5 V, where it is known
 */
public record SweepOptions(Axis axis, String unit, double step, OptionalDouble ceiling) {

    /** What the points are drawn over. */
    public enum Axis {
        /** Time: the ramp may start late, end early and come down again; a rest is no fault. */
        TIME,
        /** What drives the signal (engine speed, pedal): while it rises the signal must rise. */
        DRIVER
    }

    public SweepOptions {
        Bounds.within("step of the instrument", step, 0, Double.MAX_VALUE, "");
        ceiling.ifPresent(most -> Bounds.finite("the ceiling", most));
    }

    public static SweepOptions overTime() {
        return new SweepOptions(Axis.TIME, "s", 0, OptionalDouble.empty());
    }

    /** Over what drives the signal, such as {@code over("rpm")}. */
    public static SweepOptions over(String unit) {
        return new SweepOptions(Axis.DRIVER, unit, 0, OptionalDouble.empty());
    }

    public SweepOptions withStep(double smallest) {
        return new SweepOptions(axis, unit, smallest, ceiling);
    }

    public SweepOptions withCeiling(double most) {
        return new SweepOptions(axis, unit, step, OptionalDouble.of(most));
    }
}
