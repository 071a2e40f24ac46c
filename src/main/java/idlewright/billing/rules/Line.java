package idlewright.billing.rules;

import idlewright.reference.money.Money;
import java.math.BigDecimal;
import java.util.Locale;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * One line of an estimate, a charge or an invoice, priced as the shop prices; place 0 belongs to the whole ticket. What takes something
 * off has a price below zero, never a quantity below zero.
 */
public record Line(
        int place,
        LineKind kind,
        String what,
        BigDecimal quantity,
        Money each,
        @Nullable String partNumber) {

    public Line {
        if (quantity.signum() <= 0) {
            throw new IllegalArgumentException("A line has a quantity above zero, not " + quantity);
        }
    }

    /** A line with its price as a person types it: above zero for a deduction too. */
    public static Line typed(
            int place, LineKind kind, String what, BigDecimal quantity, Money price, @Nullable String partNumber) {
        return new Line(place, kind, what, quantity, kind.deduction() ? price.negate() : price, partNumber);
    }

    /** The price as a person types it. */
    public Money price() {
        return kind.deduction() ? each.negate() : each;
    }

    public Money net() {
        return each.times(quantity);
    }

    /** Why this line cannot be written down as it is; a credit note turns its lines round and does not ask. */
    public Optional<String> wrong() {
        if (kind.deduction() && !each.isNegative()) {
            return Optional.of("%s: enter what is taken off as an amount above 0.".formatted(kind.words()));
        }
        if (!kind.deduction() && each.isNegative()) {
            return Optional.of("%s: enter a price from 0 up. What is taken off is a discount or a core returned."
                    .formatted(kind.words()));
        }
        if (kind == LineKind.SUBLET && !namesFirm()) {
            return Optional.of(
                    "Sublet work: name the firm that does it, like: cylinder head skimmed, by Halden Machine Works.");
        }
        return Optional.empty();
    }

    private boolean namesFirm() {
        int by = what.toLowerCase(Locale.ROOT).indexOf("by ");
        return by >= 0 && (by == 0 || !Character.isLetterOrDigit(what.charAt(by - 1))) && by + 3 < what.length();
    }

    public String quantityText() {
        String plain = quantity.stripTrailingZeros().toPlainString();
        return kind == LineKind.LABOUR ? plain + " h" : plain;
    }

    /** The same line at nothing, and why: what was given is seen on paper too. */
    public Line given(String because) {
        String why = ", not charged: " + because;
        if (why.length() > 200) {
            why = why.substring(0, 199) + "…";
        }
        String shown = what.length() + why.length() > 300 ? what.substring(0, 299 - why.length()) + "…" : what;
        return new Line(place, kind, shown + why, quantity, Money.zero(each.currency()), partNumber);
    }
}
