package idlewright.reference.obd.log;

import idlewright.reference.units.Unit;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;

/**
 * What one log says. Times are seconds from its first row.
 *
 * @param rows data rows read; bad and repeated lines are not among them
 * @param badLines lines that could not be read; the first of them are named in the problems
 * @param plausible false when this cannot be a car; then states, ramps, distance and fuel stay empty
 * @param problems what the reader of the log should know, in whole sentences, gravest first
 * @param seconds from first to last row
 * @param fuelL litres burnt, from the fuel rate or else from the mass air flow
 * @param airFuelRatio median mass of air per mass of fuel while fuel flows; needs mass flow, fuel rate and the fuel
 * @param preview one series per quantity for plotting, at most 2,000 points each, extremes kept
 */
public record LogReading(
        long rows,
        long badLines,
        boolean plausible,
        List<String> problems,
        List<Column> columns,
        double seconds,
        List<State> states,
        List<Ramp> ramps,
        OptionalDouble distanceKm,
        OptionalDouble fuelL,
        OptionalDouble litresPer100Km,
        OptionalDouble airFuelRatio,
        List<Series> preview) {

    /**
     * One column of the file, or one name of a log in long form.
     *
     * @param unit as written in the file, or the quantity's own unit where none was written; null for what is not read
     * @param confidence 0 to 1 that the header means the quantity; 1 for what the reader said
     * @param used false when another column of the same quantity was read instead
     * @param stuck one value throughout while the engine was seen to work, or the end of the sensor's range
     * @param n values read
     */
    public record Column(
            String header,
            LogQuantity quantity,
            @Nullable Unit unit,
            double confidence,
            boolean used,
            boolean stuck,
            long n) {}

    /** What the engine does during a steady state. */
    public enum Kind {
        KEY_ON("key on, engine off", 2),
        CRANKING("cranking", 0.3),
        WARM_UP("warming up at idle", 20),
        /** Idle of a log without coolant temperature: warm or cold is not known. */
        IDLE("idle", 10),
        HOT_IDLE("hot idle", 10),
        RPM_2500_NO_LOAD("2,500 rpm, parked", 5),
        CRUISE("cruise", 15),
        WIDE_OPEN("wide open throttle", 1.5);

        private final String words;
        private final double seconds;

        Kind(String words, double seconds) {
            this.words = words;
            this.seconds = seconds;
        }

        public String words() {
            return words;
        }

        /** Shorter than this is not called a state (common practice, no source). */
        public double shortestSeconds() {
            return seconds;
        }
    }

    /** A stretch in which the engine did one thing. */
    public record State(Kind kind, double from, double to, List<Reading> readings, Optional<String> note) {

        public Optional<Reading> reading(LogQuantity quantity) {
            return readings.stream()
                    .filter(reading -> reading.quantity() == quantity)
                    .findFirst();
        }
    }

    /**
     * One quantity over one state.
     *
     * @param spread 1.4826 times the median absolute deviation, never under one step of the coding
     * @param n values in the state
     */
    public record Reading(LogQuantity quantity, Unit unit, double median, double spread, long n) {}

    /** A pull from low to high, offered as a sweep: {@code x} is throttle, pedal or engine speed. */
    public record Ramp(double from, double to, LogQuantity x, LogQuantity y, double[] xs, double[] ys) {}

    /** A quantity over time. */
    public record Series(LogQuantity quantity, Unit unit, double[] seconds, double[] values) {}

    public Optional<Series> series(LogQuantity quantity) {
        return preview.stream().filter(series -> series.quantity() == quantity).findFirst();
    }

    public Optional<Column> column(String header) {
        return columns.stream()
                .filter(column -> column.header().equalsIgnoreCase(header))
                .findFirst();
    }
}
