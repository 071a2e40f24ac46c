package idlewright.reference.trim;

import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;

/**
 * The trims of one bank, by band.
 *
 * @param bank 1 or 2
 */
public record BankTrims(int bank, Map<TrimBand, Trim> byBand) {

    public BankTrims {
        if (bank != 1 && bank != 2) {
            throw new IllegalArgumentException("the bank must be 1 or 2, but was " + bank);
        }
        if (byBand.isEmpty()) {
            throw new IllegalArgumentException(
                    "bank %d has no trims: read at least idle and 2,500 rpm".formatted(bank));
        }
        byBand = Collections.unmodifiableMap(new EnumMap<>(byBand));
    }
}
