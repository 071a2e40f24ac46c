package idlewright.billing.rules;

import idlewright.reference.money.Money;
import java.math.BigDecimal;
import org.jspecify.annotations.Nullable;

/**
 * One line of an estimate, a charge or an invoice, before tax; place 0 belongs to the whole ticket.
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

    public Money net() {
        return each.times(quantity);
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
