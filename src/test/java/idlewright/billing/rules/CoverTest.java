package idlewright.billing.rules;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import idlewright.reference.money.Money;
import java.math.BigDecimal;
import java.util.Currency;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CoverTest {

    private static final Currency USD = Currency.getInstance("USD");

    @Test
    void coversUpToTheToleranceAndNotACentMore() {
        var tenPercent = tolerance("10", "0", "0");
        assertThat(new Cover(usd("100.00"), usd("110.00"), tenPercent).covers()).isTrue();
        assertThat(new Cover(usd("100.00"), usd("110.01"), tenPercent).covers()).isFalse();
        assertThat(new Cover(usd("100.00"), usd("100.01"), tolerance("0", "0", "0")).whyNot())
                .contains("100.01", "100.00", "0.01");
    }

    /** Fla. Stat. 559.909 (copy of 2024): more than $10 or 10 %, whichever is greater, but not above $50. */
    @ParameterizedTest(name = "{0} agreed: {1} may be passed by at most")
    @CsvSource({"40.00, 10.00", "100.00, 10.00", "100.10, 10.01", "386.20, 38.62", "500.00, 50.00", "2000.00, 50.00"})
    void takesTheGreaterOfPerCentAndAmountButNoMoreThanTheCap(String agreed, String passed) {
        assertThat(tolerance("10", "10.00", "50.00").on(usd(agreed))).isEqualTo(usd(passed));
    }

    @Test
    void allowsNothingWhereNothingIsAgreed() {
        assertThat(new Cover(usd("0.00"), usd("0.01"), tolerance("10", "10.00", "50.00")).covers())
                .isFalse();
    }

    @Test
    void staysBetweenItsPartsWhateverIsSet() {
        long seed = 20261126;
        var random = new SplittableRandom(seed);
        for (int i = 0; i < 5_000; i++) {
            var tolerance = new Tolerance(
                    BigDecimal.valueOf(random.nextInt(0, 2_500), 2), cents(random, 10_000), cents(random, 10_000));
            Money agreed = cents(random, 1_000_000);
            Money allowed = tolerance.on(agreed);
            String at = "seed %d, round %d".formatted(seed, i);
            assertThat(allowed.isNegative()).as(at).isFalse();
            if (tolerance.cap().isPositive()) {
                assertThat(allowed.isMoreThan(tolerance.cap())).as(at).isFalse();
            } else {
                assertThat(tolerance.amount().isMoreThan(allowed)).as(at).isFalse();
            }
            assertThat(tolerance.on(agreed.plus(usd("0.01"))).compareTo(allowed))
                    .as(at)
                    .isNotNegative();
        }
    }

    @Test
    void isNeverBelowZero() {
        assertThatThrownBy(() -> tolerance("-1", "0", "0")).hasMessageContaining("below zero");
    }

    private static Money cents(SplittableRandom random, int most) {
        return new Money(BigDecimal.valueOf(random.nextInt(0, most), 2), USD);
    }

    private static Tolerance tolerance(String percent, String amount, String cap) {
        return new Tolerance(new BigDecimal(percent), usd(amount), usd(cap));
    }

    private static Money usd(String amount) {
        return Money.of(amount, "USD");
    }
}
