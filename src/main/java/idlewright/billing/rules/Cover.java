package idlewright.billing.rules;

import idlewright.reference.money.Money;

/** Whether what is charged is covered by what was agreed; both with tax. */
public record Cover(Money agreed, Money charged, Tolerance tolerance) {

    /** Where nothing is agreed there is nothing to be a little above. */
    public Money limit() {
        return agreed.isPositive() ? agreed.plus(tolerance.on(agreed)) : agreed;
    }

    public boolean covers() {
        return !charged.isMoreThan(limit());
    }

    public Money missing() {
        return covers() ? Money.zero(agreed.currency()) : charged.minus(agreed);
    }

    public String whyNot() {
        return "That would make %s with tax, and %s is agreed%s. Get the rise of %s agreed first."
                .formatted(
                        charged.text(),
                        agreed.text(),
                        limit().equals(agreed) ? "" : " (up to %s with the tolerance)".formatted(limit().text()),
                        missing().text());
    }
}
