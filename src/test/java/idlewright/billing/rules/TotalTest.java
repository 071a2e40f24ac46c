package idlewright.billing.rules;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.Currency;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class TotalTest {

    private static final Currency USD = Currency.getInstance("USD");
    private static final Taxes TAXES = new Taxes("Tax", TaxRate.NONE, TaxRate.of("8.25"));

    @Test
    void takesTaxOnceOnTheSumOfEachRate() {
        // Three parts at 0.10: the tax of the sum is 0.02 (2.475 cents), line by line it would be 0.03.
        var lines = List.of(part("0.10"), part("0.10"), part("0.10"));
        assertThat(Total.of(lines, TAXES, USD).tax()).isEqualTo(Money.of("0.02", "USD"));
    }

    @Test
    void derivesEveryTotalFromItsLinesAgain() {
        long seed = 20261125;
        var random = new SplittableRandom(seed);
        for (int i = 0; i < 20_000; i++) {
            var taxes = new Taxes("Tax", rate(random), rate(random));
            var lines = new ArrayList<Line>();
            int count = random.nextInt(1, 12);
            for (int n = 0; n < count; n++) {
                lines.add(new Line(
                        0,
                        LineKind.values()[random.nextInt(LineKind.values().length)],
                        "line",
                        BigDecimal.valueOf(random.nextInt(1, 20_000), 3),
                        new Money(BigDecimal.valueOf(random.nextInt(-5_000, 500_000), 2), USD),
                        null));
            }
            Total total = Total.of(lines, taxes, USD);
            BigDecimal net = BigDecimal.ZERO;
            BigDecimal work = BigDecimal.ZERO;
            BigDecimal parts = BigDecimal.ZERO;
            for (Line line : lines) {
                BigDecimal amount =
                        line.quantity().multiply(line.each().amount()).setScale(2, RoundingMode.HALF_UP);
                net = net.add(amount);
                if (line.kind().work()) {
                    work = work.add(amount);
                } else {
                    parts = parts.add(amount);
                }
            }
            BigDecimal tax = taxes.onWork().percent().compareTo(taxes.onParts().percent()) == 0
                    ? tax(work.add(parts), taxes.onWork())
                    : tax(work, taxes.onWork()).add(tax(parts, taxes.onParts()));
            assertThat(total.net().amount()).as("seed %d, round %d", seed, i).isEqualByComparingTo(net);
            assertThat(total.tax().amount()).as("seed %d, round %d", seed, i).isEqualByComparingTo(tax);
            assertThat(total.gross()).isEqualTo(total.net().plus(total.tax()));
        }
    }

    private static BigDecimal tax(BigDecimal net, TaxRate rate) {
        return net.multiply(rate.percent()).movePointLeft(2).setScale(2, RoundingMode.HALF_UP);
    }

    private static TaxRate rate(SplittableRandom random) {
        return new TaxRate(BigDecimal.valueOf(random.nextInt(0, 25_000), 3));
    }

    private static Line part(String each) {
        return new Line(0, LineKind.PART, "clip", BigDecimal.ONE, Money.of(each, "USD"), null);
    }
}
