package idlewright.billing.rules;

import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;

/** One line of the bookkeeper's journal: an amount above zero that one account receives and another gives. */
public record Posting(
        LocalDate booked,
        LocalDate date,
        String kind,
        String document,
        @Nullable Integer ticket,
        String customer,
        Account debit,
        Account credit,
        Money amount,
        @Nullable TaxRate rate,
        @Nullable Money base,
        String words) {

    /** Turns an amount below zero round, so that every posting is above zero. */
    public static Posting of(
            LocalDate booked,
            LocalDate date,
            String kind,
            String document,
            @Nullable Integer ticket,
            String customer,
            Account debit,
            Account credit,
            Money amount,
            @Nullable TaxRate rate,
            @Nullable Money base,
            String words) {
        return amount.isNegative()
                ? new Posting(
                        booked,
                        date,
                        kind,
                        document,
                        ticket,
                        customer,
                        credit,
                        debit,
                        amount.negate(),
                        rate,
                        base,
                        words)
                : new Posting(booked, date, kind, document, ticket, customer, debit, credit, amount, rate, base, words);
    }
}
