package idlewright.reference.obd.log;

import java.util.Map;
import java.util.OptionalDouble;
import java.util.function.LongConsumer;
import org.jspecify.annotations.Nullable;

/**
 * What the reader of a log knows better than the log.
 *
 * @param overrides header as it stands in the file (case does not matter) to what it is; {@link LogQuantity#IGNORED}
 *     leaves a column out
 * @param fuel what the engine burns, or null when nobody said
 * @param displacementL engine displacement in litres, 0.1 to 30
 * @param progress told the bytes read so far, about once a megabyte and at the end
 */
public record LogOptions(
        Map<String, LogQuantity> overrides, @Nullable Fuel fuel, OptionalDouble displacementL, LongConsumer progress) {

    public LogOptions {
        overrides = Map.copyOf(overrides);
        if (displacementL.isPresent() && !(displacementL.getAsDouble() >= 0.1 && displacementL.getAsDouble() <= 30)) {
            throw new IllegalArgumentException(
                    "Displacement is 0.1 to 30 litres, not " + displacementL.getAsDouble() + ".");
        }
    }

    /** Nothing known. */
    public static LogOptions plain() {
        return new LogOptions(Map.of(), null, OptionalDouble.empty(), bytes -> {});
    }

    public LogOptions burning(Fuel burnt) {
        return new LogOptions(overrides, burnt, displacementL, progress);
    }

    public LogOptions withOverrides(Map<String, LogQuantity> known) {
        return new LogOptions(known, fuel, displacementL, progress);
    }

    public LogOptions withDisplacement(double litres) {
        return new LogOptions(overrides, fuel, OptionalDouble.of(litres), progress);
    }

    public LogOptions telling(LongConsumer listener) {
        return new LogOptions(overrides, fuel, displacementL, listener);
    }
}
