package idlewright.billing.rules;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.billing.rules.Remainder.Item;
import idlewright.billing.rules.Remainder.Note;
import idlewright.billing.rules.Remainder.Piece;
import idlewright.billing.rules.Remainder.Wish;
import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Currency;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

@DisplayName("What is left to credit")
class RemainderTest {

    /** Without decimals, with two and with three: ISO 4217. */
    private static final List<Currency> CURRENCIES =
            List.of(Currency.getInstance("JPY"), Currency.getInstance("USD"), Currency.getInstance("KWD"));

    @Test
    void isNothingAndEveryRateIsMetToTheCoinAfterAnyPartsInAnyOrder() {
        var random = new SplittableRandom(30);
        int notes = 0;
        for (int round = 0; round < 4_000; round++) {
            Taxes taxes = taxes(random);
            Currency currency = CURRENCIES.get(random.nextInt(3));
            var lines = lines(random, currency);
            Total invoice = Total.of(lines, taxes, currency);
            if (invoice.belowZero()) {
                continue;
            }
            Remainder left = untouched(lines, taxes, invoice);
            Total back = new Total(zero(currency), List.of(), zero(currency), zero(currency));
            for (int note = 0; note < 6 && !left.nothingLeft(); note++) {
                var wishes = wishes(random, left);
                if (wishes.isEmpty() || !left.wrong(wishes).isEmpty()) {
                    continue;
                }
                Note taken = left.take(wishes);
                assertThat(taken.total().belowZero()).isFalse();
                left = after(left, taken);
                back = plus(back, taken.total());
                assertThat(left.left().belowZero()).as("never beyond").isFalse();
                assertThat(left.items())
                        .allSatisfy(item -> assertThat(item.left().amount().signum()
                                        * item.line().net().amount().signum())
                                .isNotNegative());
                notes++;
            }
            if (!left.nothingLeft()) {
                Note last = left.rest();
                left = after(left, last);
                back = plus(back, last.total());
            }
            assertThat(left.nothingLeft()).isTrue();
            assertThat(left.left().taxes()).allSatisfy(part -> {
                assertThat(part.net().isZero()).isTrue();
                assertThat(part.tax().isZero()).isTrue();
                assertThat(part.leftOff().isZero()).isTrue();
            });
            assertThat(back.net()).isEqualTo(invoice.net());
            assertThat(back.tax()).isEqualTo(invoice.tax());
            assertThat(back.gross()).isEqualTo(invoice.gross());
        }
        assertThat(notes).isGreaterThan(4_000);
    }

    @Test
    void takesTheCentThatRoundingLeftWithTheLastNote() {
        // By hand: 20 % of 0.11 is 0.022, of 0.22 it is 0.044, of 0.33 it is 0.066: 0.02, then 0.02 more, then 0.03
        // more.
        Currency usd = Currency.getInstance("USD");
        var taxes = new Taxes("Tax", TaxRate.of("20"), TaxRate.of("20"));
        var line = new Line(1, LineKind.PART, "Clamp", new BigDecimal("3"), Money.of("0.11", "USD"), null);
        var left = untouched(List.of(line), taxes, Total.of(List.of(line), taxes, usd));
        assertThat(left.left().tax()).isEqualTo(Money.of("0.07", "USD"));
        var taxed = new ArrayList<Money>();
        while (!left.nothingLeft()) {
            Note one = left.take(List.of(new Wish(1, BigDecimal.ONE, null)));
            taxed.add(one.total().tax());
            left = after(left, one);
        }
        assertThat(taxed).containsExactly(Money.of("0.02", "USD"), Money.of("0.02", "USD"), Money.of("0.03", "USD"));
    }

    @Test
    void refusesMoreThanIsLeftBesideTheField() {
        Currency usd = Currency.getInstance("USD");
        var taxes = new Taxes("Tax", TaxRate.NONE, TaxRate.NONE);
        var work = new Line(1, LineKind.LABOUR, "Work", new BigDecimal("2"), Money.of("100.00", "USD"), null);
        var less = new Line(0, LineKind.DISCOUNT_WORK, "For the wait", BigDecimal.ONE, Money.of("-50.00", "USD"), null);
        var left = untouched(List.of(work, less), taxes, Total.of(List.of(work, less), taxes, usd));
        assertThat(left.wrong(List.of(new Wish(1, new BigDecimal("2.5"), null))))
                .containsEntry("quantity-1", "Only 2 h is left of this line.");
        assertThat(left.wrong(List.of(new Wish(1, null, Money.of("200.01", "USD")))))
                .containsEntry("amount-1", "Only 200.00 is left of this line.");
        assertThat(left.wrong(List.of(Wish.all(1))).get("all-1")).startsWith("Only 150.00 is left of the invoice");
        assertThat(left.wrong(List.of(Wish.all(2))).get("all-2")).startsWith("This takes more off");
        assertThat(left.wrong(List.of(Wish.all(7)))).containsEntry("all-7", "Nothing is left of this line.");
        assertThat(left.wrong(List.of(Wish.all(1), Wish.all(2)))).isEmpty();
        var half = after(left, left.take(List.of(new Wish(1, null, Money.of("150.00", "USD")))));
        assertThat(half.wrong(List.of(new Wish(1, BigDecimal.ONE, null))))
                .containsEntry("quantity-1", "Only 50.00 is left of this line.");
    }

    private static Taxes taxes(SplittableRandom random) {
        var rates = List.of("0", "5.5", "7", "8.25", "19", "20", "23");
        return new Taxes(
                "Tax",
                TaxRate.of(rates.get(random.nextInt(7))),
                TaxRate.of(rates.get(random.nextInt(7))),
                TaxRate.of(rates.get(random.nextInt(7))),
                TaxRate.of(rates.get(random.nextInt(7))),
                random.nextBoolean() ? Prices.WITH_TAX : Prices.BEFORE_TAX,
                random.nextBoolean() ? Rounding.LINE : Rounding.INVOICE,
                random.nextInt(5) == 0 ? new Exemption("EX 12", "Public school") : null);
    }

    private static List<Line> lines(SplittableRandom random, Currency currency) {
        var kinds = List.of(LineKind.LABOUR, LineKind.PART, LineKind.FEE, LineKind.SUBLET);
        var lines = new ArrayList<Line>();
        for (int i = 0; i < 1 + random.nextInt(6); i++) {
            boolean less = i > 0 && random.nextInt(5) == 0;
            Money each = Money.rounded(BigDecimal.valueOf(random.nextInt(less ? 2_000 : 20_000), 2), currency);
            lines.add(new Line(
                    1,
                    less
                            ? random.nextBoolean() ? LineKind.DISCOUNT_WORK : LineKind.DISCOUNT_PARTS
                            : kinds.get(random.nextInt(4)),
                    "Line " + i,
                    less
                            ? BigDecimal.ONE
                            : random.nextBoolean()
                                    ? BigDecimal.valueOf(1 + random.nextInt(4))
                                    : BigDecimal.valueOf(1 + random.nextInt(4_000), 3),
                    less ? each.negate() : each,
                    null));
        }
        return lines;
    }

    private static List<Wish> wishes(SplittableRandom random, Remainder left) {
        var wishes = new ArrayList<Wish>();
        for (Item item : left.open()) {
            Money size = item.left().isNegative() ? item.left().negate() : item.left();
            switch (random.nextInt(5)) {
                case 0 -> wishes.add(Wish.all(item.nr()));
                case 1 ->
                    wishes.add(new Wish(
                            item.nr(),
                            item.quantityLeft()
                                    .multiply(BigDecimal.valueOf(random.nextInt(101), 2))
                                    .setScale(3, java.math.RoundingMode.HALF_UP),
                            null));
                case 2 -> wishes.add(new Wish(item.nr(), null, size.times(BigDecimal.valueOf(random.nextInt(101), 2))));
                default -> {
                    // this line is left alone
                }
            }
        }
        return wishes;
    }

    private static Remainder untouched(List<Line> lines, Taxes taxes, Total invoice) {
        var items = new ArrayList<Item>();
        for (Line line : lines) {
            items.add(new Item(
                    items.size() + 1,
                    line,
                    taxes.listed(line.kind()),
                    zero(line.each().currency()),
                    BigDecimal.ZERO));
        }
        return new Remainder(taxes.prices(), taxes.rounding(), taxes.exemption() != null, items, invoice);
    }

    private static Remainder after(Remainder left, Note note) {
        var items = left.items().stream()
                .map(item -> note.pieces().stream()
                        .filter(piece -> piece.nr() == item.nr())
                        .findFirst()
                        .map(piece -> with(item, piece))
                        .orElse(item))
                .toList();
        var parts = new ArrayList<Total.Part>();
        for (var part : left.left().taxes()) {
            parts.add(note.total().taxes().stream()
                    .filter(one -> one.rate().percent().compareTo(part.rate().percent()) == 0)
                    .findFirst()
                    .map(one -> part.plus(one.negate()))
                    .orElse(part));
        }
        return new Remainder(
                left.prices(),
                left.rounding(),
                left.exempt(),
                items,
                Total.of(parts, left.left().net().currency()));
    }

    private static Item with(Item item, Piece piece) {
        boolean counted = piece.line().each().equals(item.line().each());
        return new Item(
                item.nr(),
                item.line(),
                item.rate(),
                item.credited().plus(piece.line().net()),
                counted ? item.quantityCredited().add(piece.line().quantity()) : item.quantityCredited());
    }

    private static Total plus(Total one, Total more) {
        return new Total(
                one.net().plus(more.net()),
                List.of(),
                one.tax().plus(more.tax()),
                one.gross().plus(more.gross()));
    }

    private static Money zero(Currency currency) {
        return Money.zero(currency);
    }
}
