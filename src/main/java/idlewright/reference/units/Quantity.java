package idlewright.reference.units;

import java.math.BigDecimal;
import java.math.RoundingMode;

/** A measured amount with its unit; mixing dimensions is refused. */
public record Quantity(BigDecimal value, Unit unit) {

    public static Quantity of(BigDecimal value, Unit unit) {
        return new Quantity(value, unit);
    }

    /** Reads a number as a person types it, see {@link Typed#number}. */
    public static Quantity of(String typed, Unit unit) {
        return new Quantity(Typed.number(typed), unit);
    }

    /**
     * From a computed value.
     *
     * @throws NumberFormatException for infinity and not-a-number
     */
    public static Quantity of(double value, Unit unit) {
        return new Quantity(BigDecimal.valueOf(value), unit);
    }

    /** The value in the SI unit of its dimension. */
    public BigDecimal si() {
        return unit.toSi(value);
    }

    /** The same amount in another unit of the same dimension. */
    public Quantity to(Unit other) {
        if (other == unit) {
            return this;
        }
        if (other.dimension() != unit.dimension()) {
            throw new IllegalArgumentException("%s is %s and cannot be given in %s, which measures %s."
                    .formatted(
                            text(),
                            unit.dimension().words(),
                            other.symbol(),
                            other.dimension().words()));
        }
        return new Quantity(other.fromSi(si()), other);
    }

    /** The sum in this quantity's unit; a temperature takes only a temperature difference. */
    public Quantity plus(Quantity other) {
        if (unit.dimension() == Dimension.TEMPERATURE && other.unit.dimension() == Dimension.TEMPERATURE_DIFFERENCE) {
            return new Quantity(unit.fromSi(si().add(other.si())), unit);
        }
        refuseUnlessAddable(other, "added to");
        if (unit.dimension() == Dimension.TEMPERATURE) {
            throw new IllegalArgumentException(
                    "Two temperatures cannot be added: %s and %s.".formatted(text(), other.text()));
        }
        return new Quantity(value.add(other.to(unit).value), unit);
    }

    /** The difference in this quantity's unit; two temperatures give a temperature difference. */
    public Quantity minus(Quantity other) {
        if (unit.dimension() == Dimension.TEMPERATURE && other.unit.dimension() == Dimension.TEMPERATURE_DIFFERENCE) {
            return new Quantity(unit.fromSi(si().subtract(other.si())), unit);
        }
        refuseUnlessAddable(other, "taken from");
        if (unit.dimension() == Dimension.TEMPERATURE) {
            return new Quantity(si().subtract(other.si()), Unit.KELVIN_APART);
        }
        return new Quantity(value.subtract(other.to(unit).value), unit);
    }

    private void refuseUnlessAddable(Quantity other, String verb) {
        if (other.unit.dimension() != unit.dimension()) {
            throw new IllegalArgumentException("%s is %s and cannot be %s %s, which is %s."
                    .formatted(
                            other.text(),
                            other.unit.dimension().words(),
                            verb,
                            text(),
                            unit.dimension().words()));
        }
        if (unit.upsideDown() || other.unit.upsideDown()) {
            throw new IllegalArgumentException(
                    "Distances per gallon cannot be added or subtracted; use L/100 km instead.");
        }
    }

    /** Which is more, in SI: negative, zero or positive as {@link Comparable} has it; 1 bar and 100 kPa are equal. */
    public int compare(Quantity other) {
        if (other.unit.dimension() != unit.dimension()) {
            throw new IllegalArgumentException("%s cannot be compared with %s.".formatted(text(), other.text()));
        }
        return si().compareTo(other.si());
    }

    /** With so many decimals, halves away from zero. */
    public Quantity rounded(int decimals) {
        return new Quantity(value.setScale(decimals, RoundingMode.HALF_UP), unit);
    }

    /** "12.36 V": every digit that was given, a point for the decimals, and the unit. */
    public String text() {
        return unit.symbol().isEmpty() ? value.toPlainString() : value.toPlainString() + " " + unit.symbol();
    }

    /** As {@link #text()}, rounded for reading. */
    public String text(int decimals) {
        return rounded(decimals).text();
    }

    @Override
    public String toString() {
        return text();
    }
}
