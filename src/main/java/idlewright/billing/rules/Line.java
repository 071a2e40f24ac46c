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
}
