package idlewright.reference.sweep;

import idlewright.reference.bounds.Bounds;
import java.util.Arrays;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.Set;

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

    private static final Set<String> TIMES =
            Set.of("s", "sec", "secs", "second", "seconds", "ms", "min", "minutes", "h", "time");

    /** By the unit of x as a program or a person names it: over time, or over what drives the signal. */
    public static SweepOptions by(String unit) {
        Axis axis = TIMES.contains(unit.strip().toLowerCase(Locale.ROOT)) ? Axis.TIME : Axis.DRIVER;
        return new SweepOptions(axis, unit.strip(), 0, OptionalDouble.empty());
    }

    /**
     * With the rail of a sensor that is fed 5 V (common practice, 4.9 to 5.1 V) as ceiling, where the signal, in volts,
     * comes up to it. Over time a rest at the top says nothing by itself; at the rail it does.
     */
    public SweepOptions withRail(String signalUnit, double[] y) {
        double volts = signalUnit.strip().equals("V") ? 1 : signalUnit.strip().equals("mV") ? 1000 : 0;
        double top = Arrays.stream(y).max().orElse(0);
        return volts > 0 && axis == Axis.TIME && top >= 4.9 * volts && top <= 5.1 * volts ? withCeiling(top) : this;
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
