package idlewright.billing.rules;

import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import org.jspecify.annotations.Nullable;

/** The shop's tax by kind of line, what it is called and how it is taken; and whether this customer pays it. */
public record Taxes(
        String name,
        TaxRate onWork,
        TaxRate onParts,
        TaxRate onFees,
        TaxRate onSublet,
        Prices prices,
        Rounding rounding,
        @Nullable Exemption exemption) {

    /** Fees as parts, sublet work as work, added to prices and rounded once. */
    public Taxes(String name, TaxRate onWork, TaxRate onParts) {
        this(name, onWork, onParts, onParts, onWork, Prices.BEFORE_TAX, Rounding.INVOICE, null);
    }

    public Taxes without(@Nullable Exemption by) {
        return new Taxes(name, onWork, onParts, onFees, onSublet, prices, rounding, by);
    }

    /** The same taxes on prices that hold them, or do not. */
    public Taxes in(Prices other) {
        return new Taxes(name, onWork, onParts, onFees, onSublet, other, rounding, exemption);
    }

    /** A price that holds its tax or does not, as these taxes have it, in the other way of pricing. */
    public Money priced(LineKind kind, Money price, Prices wanted) {
        if (wanted == prices) {
            return price;
        }
        return wanted == Prices.WITH_TAX
                ? usual(kind).gross(price)
                : Total.part(usual(kind), price, Prices.WITH_TAX, false).net();
    }

    /** What a line of the kind is taxed with: nothing where the customer is exempt. */
    public TaxRate on(LineKind kind) {
        return exemption == null ? usual(kind) : TaxRate.NONE;
    }

    /** The rate by which a line is added up: prices with tax hold it, whoever pays. */
    public TaxRate listed(LineKind kind) {
        return withTax() ? usual(kind) : on(kind);
    }

    /** What the shop takes from everybody else. */
    TaxRate usual(LineKind kind) {
        return switch (kind) {
            case FEE -> onFees;
            case SUBLET -> onSublet;
            default -> kind.work() ? onWork : onParts;
        };
    }

    public boolean withTax() {
        return prices == Prices.WITH_TAX;
    }
}
