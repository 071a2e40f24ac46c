package idlewright.reference.money;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.math.BigDecimal;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Currency;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class MoneyTest {

    private static final Currency USD = Currency.getInstance("USD");

    @ParameterizedTest(name = "{0} {1} reads {2}")
    @CsvSource(
            delimiter = '|',
            value = {
                "1386.2|USD|1,386.20",
                "0|USD|0.00",
                "-0.05|USD|-0.05",
                "-1386|USD|-1,386.00",
                "999|USD|999.00",
                "1000|USD|1,000.00",
                "1234567.89|EUR|1,234,567.89",
                "1386|JPY|1,386",
                "1.234|KWD|1.234",
                "1E+3|USD|1,000.00"
            })
    void readsTheSameInEveryLocale(String amount, String currency, String text) {
        Locale before = Locale.getDefault();
        try {
            for (Locale locale : List.of(Locale.US, Locale.GERMANY, Locale.forLanguageTag("ar-EG"))) {
                Locale.setDefault(locale);
                assertThat(Money.of(amount, currency).text()).isEqualTo(text);
                assertThat(Money.of(amount, currency)).hasToString(text + " " + currency);
            }
        } finally {
            Locale.setDefault(before);
        }
    }

    @Test
    void isEqualHoweverManyZerosWereGiven() {
        assertThat(Money.of("12.5", "USD")).isEqualTo(Money.of("12.500", "USD"));
    }

    @Test
    void refusesFractionsOfACent() {
        assertThatThrownBy(() -> Money.of("0.125", "USD"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("0.125 has more decimals than USD has (2).");
        assertThatThrownBy(() -> Money.of("0.5", "JPY")).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> Money.of("1", "XXX")).hasMessageContaining("no currency to pay in");
    }

    @ParameterizedTest(name = "{0} rounds to {1}")
    @CsvSource({"0.125, 0.13", "0.124999, 0.12", "-0.125, -0.13", "2.675, 2.68", "1.005, 1.01", "0.005, 0.01"})
    void roundsHalvesAwayFromZero(BigDecimal exact, String rounded) {
        assertThat(Money.rounded(exact, USD)).isEqualTo(Money.of(rounded, "USD"));
    }

    @Test
    void doesNotMixCurrencies() {
        Money dollars = Money.of("1", "USD");
        Money euros = Money.of("1", "EUR");
        assertThatThrownBy(() -> dollars.plus(euros))
                .hasMessage("1.00 USD and 1.00 EUR are different currencies and are not mixed.");
        assertThatThrownBy(() -> dollars.minus(euros)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> dollars.compareTo(euros)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> Money.sum(List.of(euros), USD)).isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void multipliesHoursByARate() {
        assertThat(Money.of("128.00", "USD").times(new BigDecimal("1.75"))).isEqualTo(Money.of("224", "USD"));
        assertThat(Money.of("4.99", "USD").times(3).text()).isEqualTo("14.97");
    }

    @Test
    void addsLikeWholeCentsDo() {
        Random random = new Random(1386);
        for (int round = 0; round < 2_000; round++) {
            List<Money> all = new ArrayList<>();
            BigInteger cents = BigInteger.ZERO;
            for (int i = random.nextInt(30); i >= 0; i--) {
                long one = random.nextLong() % 1_000_000_000L;
                cents = cents.add(BigInteger.valueOf(one));
                all.add(Money.of(BigDecimal.valueOf(one, 2), USD));
            }
            Money sum = Money.sum(all, USD);
            assertThat(sum.amount().unscaledValue()).isEqualTo(cents);
            Collections.shuffle(all, random);
            assertThat(Money.sum(all, USD)).isEqualTo(sum);
            assertThat(sum.minus(sum).isZero()).isTrue();
            assertThat(sum.plus(sum.negate())).isEqualTo(Money.zero(USD));
            assertThat(sum.times(3)).isEqualTo(sum.plus(sum).plus(sum));
        }
    }

    @Test
    void roundsByNoMoreThanHalfACent() {
        Random random = new Random(2);
        for (int i = 0; i < 5_000; i++) {
            BigDecimal exact = BigDecimal.valueOf(random.nextLong() % 1_000_000_000_000L, 6);
            Money rounded = Money.rounded(exact, USD);
            assertThat(rounded.amount().subtract(exact).abs()).isLessThanOrEqualTo(new BigDecimal("0.005"));
            assertThat(Money.rounded(exact.negate(), USD)).isEqualTo(rounded.negate());
        }
    }

    @Test
    void ordersByAmount() {
        Money less = Money.of("-1", "USD");
        Money more = Money.of("1.01", "USD");
        assertThat(more.isMoreThan(less)).isTrue();
        assertThat(less.isNegative()).isTrue();
        assertThat(more.isPositive()).isTrue();
        assertThat(more.compareTo(Money.of("1.010", "USD"))).isZero();
    }

    @Test
    void takesTaxOnTheSum() {
        TaxRate rate = TaxRate.of("8.250");
        Money net = Money.of("1386.20", "USD");
        assertThat(rate.text()).isEqualTo("8.25 %");
        // 1386.20 x 0.0825 = 114.3615, by hand
        assertThat(rate.on(net).text()).isEqualTo("114.36");
        assertThat(rate.gross(net).text()).isEqualTo("1,500.56");
        assertThat(TaxRate.NONE.on(net).isZero()).isTrue();
        assertThat(rate.on(net.negate())).isEqualTo(rate.on(net).negate());
    }

    @Test
    void refusesATaxRateThatCannotBe() {
        assertThatThrownBy(() -> TaxRate.of("-1")).hasMessageContaining("between 0 and 100 per cent");
        assertThatThrownBy(() -> TaxRate.of("100.01")).isInstanceOf(IllegalArgumentException.class);
        assertThat(TaxRate.of("20.0")).isEqualTo(TaxRate.of("20"));
        assertThat(TaxRate.of("20").text()).isEqualTo("20 %");
    }
}
