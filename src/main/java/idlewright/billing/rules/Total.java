package idlewright.billing.rules;

import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.util.Collection;
import java.util.Currency;
import java.util.List;
import java.util.TreeMap;

/** Lines added up: tax is taken once on the sum of each rate, so that cents do not creep. */
public record Total(Money net, List<Part> taxes, Money tax, Money gross) {

    /** The sum of the lines of one rate, and its tax. */
    public record Part(TaxRate rate, Money net, Money tax) {}

    /** More is taken off than there is. */
    public boolean belowZero() {
        return net.isNegative() || gross.isNegative();
    }

    public static Total of(Collection<Line> lines, Taxes taxes, Currency currency) {
        var byRate = new TreeMap<TaxRate, Money>(java.util.Comparator.comparing(TaxRate::percent));
        Money net = Money.zero(currency);
        for (Line line : lines) {
            byRate.merge(taxes.on(line.kind()), line.net(), Money::plus);
            net = net.plus(line.net());
        }
        List<Part> parts = byRate.entrySet().stream()
                .map(rate ->
                        new Part(rate.getKey(), rate.getValue(), rate.getKey().on(rate.getValue())))
                .toList();
        Money tax = Money.sum(parts.stream().map(Part::tax).toList(), currency);
        return new Total(net, parts, tax, net.plus(tax));
    }
}
