package idlewright.billing.rules;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Currency;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

class LineTest {

    private static final Currency USD = Currency.getInstance("USD");

    @ParameterizedTest
    @EnumSource(LineKind.class)
    void givesBackThePriceAsItWasTyped(LineKind kind) {
        Line line = typed(kind, "20.00");
        assertThat(line.price()).isEqualTo(Money.of("20.00", "USD"));
        assertThat(line.each().isNegative()).isEqualTo(kind.deduction());
        assertThat(line.wrong()).isEmpty();
    }

    @ParameterizedTest
    @EnumSource(LineKind.class)
    void refusesAnAmountTheWrongWayRound(LineKind kind) {
        assertThat(typed(kind, "-20.00").wrong())
                .hasValueSatisfying(why -> assertThat(why).startsWith(kind.words()));
    }

    @Test
    void refusesADiscountOfNothingAndTakesALabourOfNothing() {
        assertThat(typed(LineKind.DISCOUNT_WORK, "0.00").wrong()).isPresent();
        assertThat(typed(LineKind.LABOUR, "0.00").wrong()).isEmpty();
    }

    @ParameterizedTest
    @ValueSource(strings = {"Cylinder head skimmed", "Rubyworks", "Skimmed nearby", "Skimmed by "})
    void refusesSubletWorkThatDoesNotNameItsFirm(String what) {
        assertThat(new Line(1, LineKind.SUBLET, what, BigDecimal.ONE, Money.of("80.00", "USD"), null).wrong())
                .hasValueSatisfying(why -> assertThat(why).contains("name the firm"));
    }

    @Test
    void keepsQuantitiesAboveZero() {
        assertThatThrownBy(() ->
                        new Line(1, LineKind.PART, "clip", BigDecimal.ONE.negate(), Money.of("1.00", "USD"), null))
                .hasMessageContaining("above zero");
    }

    @Test
    void taxesEveryDeductionLikeWhatItIsTakenFrom() {
        var taxes = new Taxes("Tax", TaxRate.of("5"), TaxRate.of("10"));
        for (LineKind kind : LineKind.values()) {
            assertThat(taxes.on(kind)).isEqualTo(kind.work() ? taxes.onWork() : taxes.onParts());
        }
        assertThat(taxes.on(LineKind.DISCOUNT_WORK)).isEqualTo(taxes.on(LineKind.LABOUR));
        assertThat(taxes.on(LineKind.DISCOUNT_PARTS)).isEqualTo(taxes.on(LineKind.PART));
        assertThat(taxes.on(LineKind.CORE_RETURNED)).isEqualTo(taxes.on(LineKind.CORE));
    }

    @Test
    void comesBackToNothingWhenEveryLineIsTakenOffAgain() {
        long seed = 20261125;
        var random = new SplittableRandom(seed);
        for (int i = 0; i < 2_000; i++) {
            var taxes = new Taxes("Tax", rate(random), rate(random));
            var lines = new ArrayList<Line>();
            for (int n = random.nextInt(1, 6); n > 0; n--) {
                Money price = new Money(BigDecimal.valueOf(random.nextInt(1, 500_000), 2), USD);
                BigDecimal quantity = BigDecimal.valueOf(random.nextInt(1, 9_000), 3);
                boolean work = random.nextBoolean();
                lines.add(Line.typed(0, work ? LineKind.LABOUR : LineKind.CORE, "given", quantity, price, null));
                lines.add(Line.typed(
                        0, work ? LineKind.DISCOUNT_WORK : LineKind.CORE_RETURNED, "taken off", quantity, price, null));
            }
            Total total = Total.of(lines, taxes, USD);
            assertThat(total.gross().isZero()).as("seed %d, round %d", seed, i).isTrue();
            assertThat(total.belowZero()).isFalse();
            assertThat(Total.of(List.of(lines.get(1)), taxes, USD).belowZero())
                    .as("seed %d, round %d", seed, i)
                    .isEqualTo(!lines.get(1).net().isZero());
        }
    }

    private static TaxRate rate(SplittableRandom random) {
        return new TaxRate(BigDecimal.valueOf(random.nextInt(0, 25_000), 3));
    }

    private static Line typed(LineKind kind, String price) {
        String what = kind == LineKind.SUBLET ? "Head skimmed, by Halden Machine Works" : "words";
        return Line.typed(1, kind, what, BigDecimal.ONE, Money.of(price, "USD"), null);
    }
}
