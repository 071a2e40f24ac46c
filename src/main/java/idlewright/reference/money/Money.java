package idlewright.reference.money;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Currency;

/**
 * An amount in whole minor units of its currency (1386.20 USD, 1386 JPY); currencies never mix.
 *
 * <p>The constructor refuses fractions of a minor unit: whoever has such a fraction says {@link #rounded}, and nothing
 * else rounds.
 */
public record Money(BigDecimal amount, Currency currency) implements Comparable<Money> {

    public Money {
        if (currency.getDefaultFractionDigits() < 0) {
            throw new IllegalArgumentException(currency + " is no currency to pay in.");
        }
        BigDecimal bare = amount.stripTrailingZeros();
        if (bare.scale() > currency.getDefaultFractionDigits()) {
            throw new IllegalArgumentException("%s has more decimals than %s has (%d)."
                    .formatted(amount.toPlainString(), currency, currency.getDefaultFractionDigits()));
        }
        amount = amount.setScale(currency.getDefaultFractionDigits(), RoundingMode.UNNECESSARY);
    }

    /** From code and tests, such as {@code Money.of("1386.20", "USD")}. */
    public static Money of(String amount, String currency) {
        return new Money(new BigDecimal(amount), Currency.getInstance(currency));
    }

    public static Money of(BigDecimal amount, Currency currency) {
        return new Money(amount, currency);
    }

    public static Money zero(Currency currency) {
        return new Money(BigDecimal.ZERO, currency);
    }

    /** The only rounding of money in the house: to the minor unit, halves away from zero. */
    public static Money rounded(BigDecimal exact, Currency currency) {
        return new Money(
                exact.setScale(Math.max(0, currency.getDefaultFractionDigits()), RoundingMode.HALF_UP), currency);
    }

    /** The sum of all; zero of the named currency when there is nothing to add. */
    public static Money sum(Iterable<Money> all, Currency currency) {
        Money total = zero(currency);
        for (Money one : all) {
            total = total.plus(one);
        }
        return total;
    }

    public Money plus(Money other) {
        return new Money(amount.add(sameCurrency(other).amount), currency);
    }

    public Money minus(Money other) {
        return new Money(amount.subtract(sameCurrency(other).amount), currency);
    }

    /** So many times this, rounded once: 1.75 h at 128.00 or 3 pieces at 4.99. */
    public Money times(BigDecimal factor) {
        return rounded(amount.multiply(factor), currency);
    }

    public Money times(long factor) {
        return times(BigDecimal.valueOf(factor));
    }

    public Money negate() {
        return new Money(amount.negate(), currency);
    }

    public boolean isZero() {
        return amount.signum() == 0;
    }

    public boolean isNegative() {
        return amount.signum() < 0;
    }

    public boolean isPositive() {
        return amount.signum() > 0;
    }

    public boolean isMoreThan(Money other) {
        return compareTo(other) > 0;
    }

    /**
     * Orders by amount.
     *
     * @throws IllegalArgumentException when the currencies differ
     */
    @Override
    public int compareTo(Money other) {
        return amount.compareTo(sameCurrency(other).amount);
    }

    private Money sameCurrency(Money other) {
        if (!other.currency.equals(currency)) {
            throw new IllegalArgumentException(
                    "%s and %s are different currencies and are not mixed.".formatted(toString(), other));
        }
        return other;
    }

    /** "1,386.20", whatever the machine's locale. */
    public String text() {
        String plain = amount.abs().toPlainString();
        int point = plain.indexOf('.');
        String whole = point < 0 ? plain : plain.substring(0, point);
        StringBuilder grouped = new StringBuilder(whole);
        for (int i = whole.length() - 3; i > 0; i -= 3) {
            grouped.insert(i, ',');
        }
        return (isNegative() ? "-" : "") + grouped + (point < 0 ? "" : plain.substring(point));
    }

    /** "1,386.20 USD". */
    public String textWithCurrency() {
        return text() + " " + currency.getCurrencyCode();
    }

    @Override
    public String toString() {
        return textWithCurrency();
    }
}
