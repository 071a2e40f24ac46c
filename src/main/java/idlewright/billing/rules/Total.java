package idlewright.billing.rules;

import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Collection;
import java.util.Comparator;
import java.util.Currency;
import java.util.List;
import java.util.TreeMap;

/** Lines added up, by the rate of their tax; the one place where tax is calculated. */
public record Total(Money net, List<Part> taxes, Money tax, Money gross) {

    /**
     * The sum of the lines of one rate, and its tax. Left off is the tax that the prices held and that an exempt customer
     * does not pay.
     */
    public record Part(TaxRate rate, Money net, Money tax, Money leftOff) {

        Part negate() {
            return new Part(rate, net.negate(), tax.negate(), leftOff.negate());
        }

        Part plus(Part more) {
            return new Part(rate, net.plus(more.net), tax.plus(more.tax), leftOff.plus(more.leftOff));
        }
    }

    /** The tax that the prices held and that an exempt customer does not pay. */
    public Money leftOff() {
        return Money.sum(taxes.stream().map(Part::leftOff).toList(), net.currency());
    }

    /** What lines with tax within come to as they are priced. */
    public Money listed() {
        return gross.plus(leftOff());
    }

    /** What this sum is called where its lines stand above it: they may be priced with tax or without. */
    public String called(Taxes by) {
        if (!leftOff().isZero()) {
            return "Together, " + by.name() + " left off";
        }
        return tax.isZero() ? "Together" : by.withTax() ? "Together, " + by.name() + " within" : "With " + by.name();
    }

    /** The sum in words: "386.20 USD with tax"; the amount alone where no tax is on it. */
    public String said() {
        return gross.textWithCurrency() + (tax.isZero() ? "" : " with tax");
    }

    /** More is taken off than there is. */
    public boolean belowZero() {
        return net.isNegative() || gross.isNegative();
    }

    public static Total of(Collection<Line> lines, Taxes taxes, Currency currency) {
        var byRate = new TreeMap<TaxRate, Money>(Comparator.comparing(TaxRate::percent));
        var parts = new TreeMap<TaxRate, Part>(Comparator.comparing(TaxRate::percent));
        for (Line line : lines) {
            TaxRate rate = taxes.listed(line.kind());
            if (taxes.rounding() == Rounding.LINE) {
                parts.merge(rate, part(rate, line.net(), taxes.prices(), taxes.exemption() != null), Part::plus);
            } else {
                byRate.merge(rate, line.net(), Money::plus);
            }
        }
        byRate.forEach(
                (rate, amount) -> parts.put(rate, part(rate, amount, taxes.prices(), taxes.exemption() != null)));
        return of(List.copyOf(parts.values()), currency);
    }

    /** One line of so much that the customer owes the amount, or as little less as coins allow. */
    public static Line lineUpTo(Money owed, LineKind kind, String what, Taxes taxes) {
        BigDecimal hundred = BigDecimal.valueOf(100);
        BigDecimal rate = taxes.usual(kind).percent();
        BigDecimal factor = taxes.withTax()
                ? taxes.exemption() == null ? BigDecimal.ONE : BigDecimal.ONE.add(rate.movePointLeft(2))
                : hundred.divide(hundred.add(taxes.on(kind).percent()), 10, RoundingMode.HALF_UP);
        Money coin = Money.rounded(BigDecimal.ONE.movePointLeft(owed.amount().scale()), owed.currency());
        Money each = owed.times(factor);
        Line line = new Line(0, kind, what, BigDecimal.ONE, each, null);
        while (of(List.of(line), taxes, owed.currency()).gross().isMoreThan(owed)) {
            each = each.minus(coin);
            line = new Line(0, kind, what, BigDecimal.ONE, each, null);
        }
        return line;
    }

    /** Parts that were calculated before, added up again. */
    public static Total of(List<Part> parts, Currency currency) {
        Money net = Money.sum(parts.stream().map(Part::net).toList(), currency);
        Money tax = Money.sum(parts.stream().map(Part::tax).toList(), currency);
        return new Total(net, parts, tax, net.plus(tax));
    }

    /** The same with every sign turned: what a credit note says. */
    public Total negate() {
        return new Total(net.negate(), taxes.stream().map(Part::negate).toList(), tax.negate(), gross.negate());
    }

    static Part part(TaxRate rate, Money amount, Prices prices, boolean exempt) {
        Money none = Money.zero(amount.currency());
        if (prices == Prices.BEFORE_TAX) {
            return new Part(rate, amount, rate.on(amount), none);
        }
        Money within = within(rate, amount);
        return exempt
                ? new Part(rate, amount.minus(within), none, within)
                : new Part(rate, amount.minus(within), within, none);
    }

    /** The tax that an amount with tax holds. */
    private static Money within(TaxRate rate, Money amount) {
        BigDecimal hundred = BigDecimal.valueOf(100);
        // Twelve digits more than any coin: the division cannot tip a half, whose denominator is 100 plus the rate.
        return Money.rounded(
                amount.amount().multiply(rate.percent()).divide(hundred.add(rate.percent()), 15, RoundingMode.HALF_UP),
                amount.currency());
    }
}
