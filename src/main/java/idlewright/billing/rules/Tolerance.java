package idlewright.billing.rules;

import idlewright.reference.money.Money;
import java.math.BigDecimal;

/**
 * How far charges may pass what is agreed without asking again: the greater of so many per cent and an amount, but no
 * more than the cap; a cap of zero is no cap. Nothing at all until the owner sets it.
 */
public record Tolerance(BigDecimal percent, Money amount, Money cap) {

    public Tolerance {
        if (percent.signum() < 0 || amount.isNegative() || cap.isNegative()) {
            throw new IllegalArgumentException("A tolerance is never below zero.");
        }
    }

    public Money on(Money agreed) {
        Money share = agreed.times(percent.movePointLeft(2));
        Money greater = share.isMoreThan(amount) ? share : amount;
        return cap.isPositive() && greater.isMoreThan(cap) ? cap : greater;
    }
}
