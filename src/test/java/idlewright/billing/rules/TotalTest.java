package idlewright.billing.rules;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Currency;
import java.util.List;
import java.util.SplittableRandom;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;

class TotalTest {

    private static final Currency USD = Currency.getInstance("USD");
    /** Without decimals, with two and with three: ISO 4217. */
    private static final List<Currency> CURRENCIES =
            List.of(Currency.getInstance("JPY"), USD, Currency.getInstance("KWD"));

    private static final Taxes TAXES = new Taxes("Tax", TaxRate.NONE, TaxRate.of("8.25"));

    @Test
    void takesTaxOnceOnTheSumOfEachRate() {
        // Three parts at 0.10: the tax of the sum is 0.02 (2.475 cents), line by line it would be 0.03.
        var lines = List.of(part("0.10"), part("0.10"), part("0.10"));
        assertThat(Total.of(lines, TAXES, USD).tax()).isEqualTo(Money.of("0.02", "USD"));
    }

    @Test
    void tellsHowMuchTaxAPriceHolds() {
        // By hand: 119.00 with 19 % hold 19.00; 10.00 with 7 % hold 0.6542..., which is 0.65.
        var taxes = taxes(TaxRate.of("19"), Prices.WITH_TAX, Rounding.INVOICE, null);
        assertThat(Total.of(List.of(part("119.00")), taxes, USD).tax()).isEqualTo(Money.of("19.00", "USD"));
        var seven = taxes(TaxRate.of("7"), Prices.WITH_TAX, Rounding.INVOICE, null);
        Total ten = Total.of(List.of(part("10.00")), seven, USD);
        assertThat(ten.tax()).isEqualTo(Money.of("0.65", "USD"));
        assertThat(ten.gross()).isEqualTo(Money.of("10.00", "USD"));
    }

    @Test
    void takesTheTaxOutOfAPriceForWhoPaysNone() {
        var exempt = new Exemption("EX-4417", "public school");
        Total total = Total.of(
                List.of(part("119.00")), taxes(TaxRate.of("19"), Prices.WITH_TAX, Rounding.INVOICE, exempt), USD);
        assertThat(total.gross()).isEqualTo(Money.of("100.00", "USD"));
        assertThat(total.tax().isZero()).isTrue();
        assertThat(total.taxes().get(0).leftOff()).isEqualTo(Money.of("19.00", "USD"));
    }

    @Test
    void taxesEveryKindByItsOwnRate() {
        var taxes = new Taxes(
                "Tax",
                TaxRate.of("20"),
                TaxRate.of("10"),
                TaxRate.of("5"),
                TaxRate.of("2"),
                Prices.BEFORE_TAX,
                Rounding.INVOICE,
                null);
        Total total = Total.of(
                List.of(kind(LineKind.LABOUR), kind(LineKind.PART), kind(LineKind.FEE), kind(LineKind.SUBLET)),
                taxes,
                USD);
        assertThat(total.taxes())
                .extracting(part -> part.tax().text())
                .containsExactly("2.00", "5.00", "10.00", "20.00");
    }

    /** Re-derived by sums of whole coins that know nothing of Money, Total or BigDecimal's rounding modes. */
    @Test
    void derivesEveryTotalFromItsLinesAgain() {
        long seed = 20261125;
        var random = new SplittableRandom(seed);
        for (int round = 0; round < 100_000; round++) {
            Currency currency = CURRENCIES.get(random.nextInt(CURRENCIES.size()));
            int digits = currency.getDefaultFractionDigits();
            Prices prices = random.nextBoolean() ? Prices.WITH_TAX : Prices.BEFORE_TAX;
            Rounding rounding = random.nextBoolean() ? Rounding.LINE : Rounding.INVOICE;
            boolean exempt = random.nextInt(5) == 0;
            var rates = new long[] {rate(random), rate(random), rate(random), rate(random)};
            var taxes = new Taxes(
                    "Tax",
                    milli(rates[0]),
                    milli(rates[1]),
                    milli(rates[2]),
                    milli(rates[3]),
                    prices,
                    rounding,
                    exempt ? new Exemption("EX-1", "school") : null);
            var lines = new ArrayList<Line>();
            var coinsByRate = new TreeMap<Long, Long>();
            var taxByRate = new TreeMap<Long, Long>();
            long sum = 0;
            int count = random.nextInt(1, 9);
            for (int n = 0; n < count; n++) {
                LineKind kind = LineKind.values()[random.nextInt(LineKind.values().length)];
                long quantity = random.nextInt(1, 20_000);
                long each = random.nextInt(-5_000, 500_000);
                lines.add(new Line(
                        0,
                        kind,
                        "line",
                        BigDecimal.valueOf(quantity, 3),
                        new Money(BigDecimal.valueOf(each, digits), currency),
                        null));
                long amount = divided(quantity * each, 1000);
                sum += amount;
                long rate = exempt && prices == Prices.BEFORE_TAX
                        ? 0
                        : rates[kind == LineKind.FEE ? 2 : kind == LineKind.SUBLET ? 3 : kind.work() ? 0 : 1];
                coinsByRate.merge(rate, amount, Long::sum);
                taxByRate.merge(rate, taxOn(amount, rate, prices), Long::sum);
            }
            if (rounding == Rounding.INVOICE) {
                taxByRate.clear();
                coinsByRate.forEach((rate, amount) -> taxByRate.put(rate, taxOn(amount, rate, prices)));
            }
            long tax = taxByRate.values().stream().mapToLong(Long::longValue).sum();
            long net = prices == Prices.WITH_TAX ? sum - tax : sum;
            long paid = exempt ? 0 : tax;

            Total total = Total.of(lines, taxes, currency);
            String which = "seed " + seed + ", round " + round;
            check(coins(total.net()) == net, which);
            check(coins(total.tax()) == paid, which);
            check(coins(total.gross()) == net + paid, which);
            check(total.taxes().size() == coinsByRate.size(), which);
            for (Total.Part part : total.taxes()) {
                long rate = part.rate().percent().movePointRight(3).longValueExact();
                long share = taxByRate.get(rate);
                check(coins(part.tax()) == (exempt ? 0 : share), which);
                check(coins(part.leftOff()) == (exempt && prices == Prices.WITH_TAX ? share : 0), which);
                check(coins(part.net()) == coinsByRate.get(rate) - (prices == Prices.WITH_TAX ? share : 0), which);
            }
            check(Total.of(total.taxes(), currency).equals(total), which);

            var turned = lines.stream()
                    .map(l -> new Line(
                            l.place(),
                            l.kind(),
                            l.what(),
                            l.quantity(),
                            l.each().negate(),
                            null))
                    .toList();
            check(Total.of(turned, taxes, currency).equals(total.negate()), which);
            check(total.gross().plus(total.negate().gross()).isZero(), which);

            // Rounding a line moves it by half a coin at most; so does rounding a rate.
            Total other = Total.of(
                    lines, taxes(taxes, rounding == Rounding.LINE ? Rounding.INVOICE : Rounding.LINE), currency);
            long apart = Math.abs(coins(other.tax()) - coins(total.tax()));
            check(2 * apart <= count + coinsByRate.size(), which);
        }
    }

    @Test
    void writesADiagnosisOfNoMoreThanWasAgreed() {
        var random = new SplittableRandom(7);
        for (int round = 0; round < 2_000; round++) {
            Currency currency = CURRENCIES.get(random.nextInt(CURRENCIES.size()));
            Money agreed = new Money(
                    BigDecimal.valueOf(random.nextInt(1, 50_000), currency.getDefaultFractionDigits()), currency);
            var taxes = taxes(
                    milli(rate(random)),
                    random.nextBoolean() ? Prices.WITH_TAX : Prices.BEFORE_TAX,
                    Rounding.INVOICE,
                    random.nextBoolean() ? new Exemption("EX-1", "school") : null);
            Money owed = Total.of(List.of(Total.lineUpTo(agreed, LineKind.DIAGNOSIS, "x", taxes)), taxes, currency)
                    .gross();
            check(coins(agreed) - coins(owed) >= 0 && coins(agreed) - coins(owed) <= 1, "round " + round);
        }
    }

    private static void check(boolean holds, String which) {
        if (!holds) {
            throw new AssertionError(which);
        }
    }

    private static long coins(Money money) {
        return money.amount().unscaledValue().longValueExact();
    }

    /** The rate in thousandths of a per cent. */
    private static long taxOn(long amount, long rate, Prices prices) {
        return prices == Prices.WITH_TAX ? divided(amount * rate, 100_000 + rate) : divided(amount * rate, 100_000);
    }

    /** To whole coins, halves away from zero. */
    private static long divided(long number, long by) {
        long size = Math.abs(number);
        long whole = (2 * size + by) / (2 * by);
        return number < 0 ? -whole : whole;
    }

    private static long rate(SplittableRandom random) {
        return random.nextInt(4) == 0 ? 0 : random.nextInt(0, 25_000);
    }

    private static TaxRate milli(long rate) {
        return new TaxRate(BigDecimal.valueOf(rate, 3));
    }

    private static Taxes taxes(TaxRate all, Prices prices, Rounding rounding, Exemption exemption) {
        return new Taxes("Tax", all, all, all, all, prices, rounding, exemption);
    }

    private static Taxes taxes(Taxes like, Rounding rounding) {
        return new Taxes(
                like.name(),
                like.onWork(),
                like.onParts(),
                like.onFees(),
                like.onSublet(),
                like.prices(),
                rounding,
                like.exemption());
    }

    private static Line kind(LineKind kind) {
        return new Line(0, kind, "x", BigDecimal.ONE, Money.of("100.00", "USD"), null);
    }

    private static Line part(String each) {
        return new Line(0, LineKind.PART, "clip", BigDecimal.ONE, Money.of(each, "USD"), null);
    }
}
