package idlewright.reference.obd;

import java.math.BigDecimal;
import java.util.Optional;

/**
 * One value out of an answer.
 *
 * @param value a {@link BigDecimal} in the unit, or a {@link String} where the answer is a choice or a text
 * @param unit as written after a number: degC, %, kPa, rpm, g/s ...; empty for a text or a plain count
 */
public record Value(String name, Object value, String unit) {

    public Value {
        if (!(value instanceof BigDecimal || value instanceof String)) {
            throw new IllegalArgumentException("A value is a number or a text.");
        }
    }

    /** The number, unless this is a text. */
    public Optional<BigDecimal> number() {
        return value instanceof BigDecimal number ? Optional.of(number) : Optional.empty();
    }

    /** "792.75 rpm" or "closed loop". */
    public String text() {
        String bare = value instanceof BigDecimal number ? number.toPlainString() : value.toString();
        return unit.isEmpty() ? bare : bare + " " + unit;
    }
}
