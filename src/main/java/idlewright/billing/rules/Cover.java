package idlewright.billing.rules;

import idlewright.reference.money.Money;
import java.math.BigDecimal;

/** Whether what is charged is covered by what was agreed; both with tax. */
public record Cover(Money agreed, Money charged, BigDecimal tolerancePercent) {

    public Money limit() {
        return Money.rounded(
                agreed.amount()
                        .multiply(BigDecimal.valueOf(100).add(tolerancePercent))
                        .movePointLeft(2),
                agreed.currency());
    }

    public boolean covers() {
        return !charged.isMoreThan(limit());
    }

    public Money missing() {
        return covers() ? Money.zero(agreed.currency()) : charged.minus(agreed);
    }

    public String whyNot() {
        return "That would make %s with tax, and %s is agreed. Get the rise of %s agreed first."
                .formatted(charged.text(), agreed.text(), missing().text());
    }
}
