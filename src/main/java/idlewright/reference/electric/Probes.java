package idlewright.reference.electric;

import idlewright.reference.bounds.Bounds;
import java.util.Locale;
import java.util.Optional;

/**
 * A voltmeter reading with its probes put right: swapped probes flip the sign, the magnitude stands.
 *
 * @param volts as it would read with the probes the right way round
 * @param swapped the sign was flipped
 */
public record Probes(double volts, boolean swapped) {

    /**
     * Reads a voltage that can only be positive, such as a battery's or a feed's.
     *
     * @param shownVolts -60 to 60 V; a 12 V vehicle shows no more, even overcharging
     */
    public static Probes read(double shownVolts) {
        Bounds.within("voltage", shownVolts, -60, 60, "V");
        return new Probes(Math.abs(shownVolts), shownVolts < 0);
    }

    /** The word to keep beside the reading when the probes were swapped. */
    public Optional<String> note() {
        return swapped
                ? Optional.of(String.format(
                        Locale.ROOT, "The meter showed -%.2f V: probes swapped, %.2f V counts.", volts, volts))
                : Optional.empty();
    }
}
