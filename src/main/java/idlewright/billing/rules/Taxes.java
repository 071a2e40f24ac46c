package idlewright.billing.rules;

import idlewright.reference.money.TaxRate;

/** The shop's tax on work and on parts, and what it is called. */
public record Taxes(String name, TaxRate onWork, TaxRate onParts) {

    public TaxRate on(LineKind kind) {
        return kind.work() ? onWork : onParts;
    }
}
