package idlewright.reference.money;

import java.math.BigDecimal;

/** A tax in per cent of a net amount, such as 8.25; from 0 to 100. */
public record TaxRate(BigDecimal percent) {

    public static final TaxRate NONE = new TaxRate(BigDecimal.ZERO);

    public TaxRate {
        if (percent.signum() < 0 || percent.compareTo(BigDecimal.valueOf(100)) > 0) {
            throw new IllegalArgumentException(
                    "A tax rate lies between 0 and 100 per cent, not " + percent.toPlainString() + ".");
        }
        percent = percent.signum() == 0 ? BigDecimal.ZERO : percent.stripTrailingZeros();
        percent = percent.scale() < 0 ? percent.setScale(0) : percent;
    }

    public static TaxRate of(String percent) {
        return new TaxRate(new BigDecimal(percent));
    }

    /** The tax on a net amount, rounded once; take the sum of a group of lines, so that cents do not add up. */
    public Money on(Money net) {
        return Money.rounded(net.amount().multiply(percent).movePointLeft(2), net.currency());
    }

    public Money gross(Money net) {
        return net.plus(on(net));
    }

    /** "8.25 %". */
    public String text() {
        return percent.toPlainString() + " %";
    }
}
