package idlewright.billing;

import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.billing.rules.Prices;
import idlewright.billing.rules.Remainder;
import idlewright.billing.rules.Rounding;
import idlewright.billing.rules.Total;
import idlewright.frame.NotFound;
import idlewright.frame.Together;
import idlewright.frame.Tuple;
import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.math.BigDecimal;
import java.util.Currency;
import java.util.Map;
import org.springframework.stereotype.Component;

/** Reads what is left to credit of an invoice, in one statement. */
@Component
class Remainders {

    private static final String LEFT = """
            select i.currency, i.prices, i.rounding, i.exempt_number is not null exempt,
                   (select json_agg(l order by l.nr) from (
                        select o.*, coalesce(-c.net, 0) credited, coalesce(c.quantity, 0) quantity_credited
                        from invoice_line o left join (
                            select n.nr, sum(n.net) net, sum(n.quantity) filter (where n.each = -m.each) quantity
                            from invoice_line n join invoice j on j.number = n.invoice_number
                                join invoice_line m on m.invoice_number = j.credits and m.nr = n.nr
                            where j.credits = :number group by n.nr) c on c.nr = o.nr
                        where o.invoice_number = i.number) l) lines,
                   (select json_agg(t order by t.percent) from (
                        select t.percent, sum(t.net) net, sum(t.tax) tax, sum(t.left_off) left_off
                        from invoice_tax t join invoice j on j.number = t.invoice_number
                        where j.number = i.number or j.credits = i.number group by t.percent) t) taxes
            from invoice i where i.number = :number""";

    private final Together together;

    Remainders(Together together) {
        this.together = together;
    }

    Remainder of(String number) {
        Tuple found = together.read(Map.of("number", number), LEFT).get(0).stream()
                .findFirst()
                .orElseThrow(() -> NotFound.of("invoice " + number));
        Currency currency = Currency.getInstance(found.getString("currency"));
        return new Remainder(
                Prices.valueOf(found.getString("prices")),
                Rounding.valueOf(found.getString("rounding")),
                found.getBoolean("exempt"),
                found.getRows("lines").stream()
                        .map(r -> new Remainder.Item(
                                r.getInt("nr"),
                                new Line(
                                        r.getInt("place"),
                                        LineKind.valueOf(r.getString("kind")),
                                        r.getString("what"),
                                        r.getBigDecimal("quantity"),
                                        money(r, "each", currency),
                                        r.getString("part_number")),
                                new TaxRate(r.getBigDecimal("tax_percent")),
                                money(r, "credited", currency),
                                r.getBigDecimal("quantity_credited")))
                        .toList(),
                Total.of(
                        found.getRows("taxes").stream()
                                .map(r -> new Total.Part(
                                        new TaxRate(r.getBigDecimal("percent")),
                                        money(r, "net", currency),
                                        money(r, "tax", currency),
                                        money(r, "left_off", currency)))
                                .toList(),
                        currency));
    }

    private static Money money(Tuple r, String column, Currency currency) {
        BigDecimal amount = r.getBigDecimal(column);
        return Money.rounded(amount == null ? BigDecimal.ZERO : amount, currency);
    }
}
