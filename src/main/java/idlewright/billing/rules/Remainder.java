package idlewright.billing.rules;

import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;

/**
 * What is left to credit of an issued invoice, and what a credit note over some of it comes to. The tax of a note is the tax
 * of all that is credited with it, less the tax of what was credited before: so all notes together are the invoice, to the
 * coin, in whatever order and parts.
 */
public record Remainder(Prices prices, Rounding rounding, boolean exempt, List<Item> items, Total left) {

    /** A line of the invoice, its number and rate there, and what was credited of it; a deduction is below zero. */
    public record Item(int nr, Line line, TaxRate rate, Money credited, BigDecimal quantityCredited) {

        public Money left() {
            return line.net().minus(credited);
        }

        public boolean gone() {
            return left().isZero();
        }

        /** Less may be left in money, where an amount was credited. */
        public BigDecimal quantityLeft() {
            return line.quantity().subtract(quantityCredited).max(BigDecimal.ZERO);
        }

        /** What is left in words: "100.00, 1 h". */
        public String leftText() {
            return rest().quantity().compareTo(BigDecimal.ONE) == 0 && line.kind() != LineKind.LABOUR
                    ? left().text()
                    : "%s, %s".formatted(left().text(), rest().quantityText());
        }

        private Line rest() {
            if (credited.isZero() && quantityCredited.signum() == 0) {
                return line;
            }
            BigDecimal quantity = quantityLeft();
            return quantity.signum() > 0 && line.each().times(quantity).equals(left())
                    ? with(line.what(), quantity, line.each())
                    : with(line.what() + ", the rest of its price", BigDecimal.ONE, left());
        }

        private Line part(Wish wish) {
            if (wish.quantity() != null) {
                return wish.quantity().compareTo(quantityLeft()) == 0 && reaches()
                        ? rest()
                        : with(line.what(), wish.quantity(), line.each());
            }
            if (wish.amount() == null || wish.amount().equals(size(left()))) {
                return rest();
            }
            Money signed = left().isNegative() ? wish.amount().negate() : wish.amount();
            return with(line.what() + ", part of its price", BigDecimal.ONE, signed);
        }

        /** The quantity left and the money left are the same, but for a coin of rounding a credit. */
        private boolean reaches() {
            Money gap = size(left().minus(line.each().times(quantityLeft())));
            return gap.amount().unscaledValue().longValueExact() <= 5;
        }

        private Line with(String what, BigDecimal quantity, Money each) {
            return new Line(line.place(), line.kind(), what, quantity, each, line.partNumber());
        }

        private Optional<String> wrong(Wish wish) {
            if (wish.quantity() != null) {
                if (wish.quantity().signum() <= 0
                        || wish.quantity().stripTrailingZeros().scale() > 3) {
                    return Optional.of("Enter a quantity above 0, with three decimals at most.");
                }
                if (wish.quantity().compareTo(quantityLeft()) > 0) {
                    return Optional.of("Only %s is left of this line."
                            .formatted(with(line.what(), quantityLeft().max(new BigDecimal("0.001")), line.each())
                                    .quantityText()));
                }
            }
            if (wish.amount() != null && !wish.amount().isPositive()) {
                return Optional.of("Enter an amount above 0.");
            }
            if (wish.amount() != null && wish.amount().isMoreThan(size(left()))) {
                return Optional.of(
                        "Only %s is left of this line.".formatted(size(left()).text()));
            }
            Money taken = size(part(wish).net());
            if (taken.isMoreThan(size(left()))) {
                return Optional.of(
                        "Only %s is left of this line.".formatted(size(left()).text()));
            }
            return taken.isZero() ? Optional.of("That comes to nothing. Enter more.") : Optional.empty();
        }
    }

    /** What is wanted of one line: a quantity, or an amount above zero; neither means all that is left. */
    public record Wish(
            int nr, @Nullable BigDecimal quantity, @Nullable Money amount) {

        public static Wish all(int nr) {
            return new Wish(nr, null, null);
        }

        /** The field that says it. */
        public String field() {
            return (quantity != null ? "quantity-" : amount != null ? "amount-" : "all-") + nr;
        }
    }

    /** What is credited of one line of the invoice. */
    public record Piece(int nr, Line line, TaxRate rate) {}

    /** A credit note before its signs are turned. */
    public record Note(List<Piece> pieces, Total total) {}

    public boolean untouched() {
        return items.stream().allMatch(item -> item.credited().isZero());
    }

    /** The lines of which something is left. */
    public List<Item> open() {
        return items.stream().filter(item -> !item.gone()).toList();
    }

    public boolean nothingLeft() {
        return open().isEmpty();
    }

    /** A note over all that is left; the first mirrors the lines at no charge too. */
    public Note rest() {
        var pieces = (untouched() ? items : open())
                .stream()
                        .map(item -> new Piece(item.nr(), item.rest(), item.rate()))
                        .toList();
        return new Note(pieces, total(pieces));
    }

    /** Why these wishes cannot be met, by field; empty where they can. */
    public Map<String, String> wrong(List<Wish> wishes) {
        var wrong = new LinkedHashMap<String, String>();
        for (Wish wish : wishes) {
            item(wish.nr())
                    .map(item -> item.wrong(wish))
                    .orElse(Optional.of("Nothing is left of this line."))
                    .ifPresent(why -> wrong.put(wish.field(), why));
        }
        if (wrong.isEmpty() && !wishes.isEmpty()) {
            Total given = take(wishes).total();
            if (given.belowZero()) {
                wrong.put(
                        wishes.get(0).field(),
                        "This takes more off than it gives back. Choose what it was taken off of too.");
            } else if (minus(left, given).belowZero()) {
                wrong.put(
                        wishes.get(0).field(),
                        "Only %s is left of the invoice, with what it takes off. Choose less, or credit what was taken off too."
                                .formatted(left.gross().text()));
            }
        }
        return wrong;
    }

    /** A note over some of it; ask {@link #wrong} first. */
    public Note take(List<Wish> wishes) {
        var pieces = new ArrayList<Piece>();
        for (Wish wish : wishes) {
            Item item = item(wish.nr()).orElseThrow();
            pieces.add(new Piece(item.nr(), item.part(wish), item.rate()));
        }
        pieces.sort(Comparator.comparingInt(Piece::nr));
        return new Note(pieces, total(pieces));
    }

    private Optional<Item> item(int nr) {
        return items.stream().filter(item -> item.nr() == nr && !item.gone()).findFirst();
    }

    private Total total(List<Piece> pieces) {
        var taken = new TreeMap<Integer, Money>();
        pieces.forEach(piece -> taken.put(piece.nr(), piece.line().net()));
        var byRate = new TreeMap<TaxRate, List<Item>>(Comparator.comparing(TaxRate::percent));
        items.forEach(item ->
                byRate.computeIfAbsent(item.rate(), rate -> new ArrayList<>()).add(item));
        var parts = new ArrayList<Total.Part>();
        byRate.forEach((rate, its) -> {
            if (its.stream().anyMatch(item -> taken.containsKey(item.nr()))) {
                parts.add(part(rate, its, taken));
            }
        });
        return Total.of(parts, left.net().currency());
    }

    private Total.Part part(TaxRate rate, List<Item> its, Map<Integer, Money> taken) {
        Money none = Money.zero(left.net().currency());
        boolean last = its.stream().allMatch(item -> item.left().equals(taken.getOrDefault(item.nr(), none)));
        if (last) {
            return left(rate);
        }
        if (rounding == Rounding.LINE) {
            return its.stream()
                    .filter(item -> taken.containsKey(item.nr()))
                    .map(item -> step(rate, item.credited(), taken.get(item.nr())))
                    .reduce(Total.Part::plus)
                    .orElseThrow();
        }
        return step(
                rate,
                Money.sum(its.stream().map(Item::credited).toList(), none.currency()),
                Money.sum(
                        its.stream()
                                .map(item -> taken.getOrDefault(item.nr(), none))
                                .toList(),
                        none.currency()));
    }

    private Total.Part step(TaxRate rate, Money before, Money more) {
        return Total.part(rate, before.plus(more), prices, exempt)
                .plus(Total.part(rate, before, prices, exempt).negate());
    }

    private Total.Part left(TaxRate rate) {
        return left.taxes().stream()
                .filter(part -> part.rate().percent().compareTo(rate.percent()) == 0)
                .findFirst()
                .orElseThrow();
    }

    private static Total minus(Total from, Total less) {
        return new Total(
                from.net().minus(less.net()),
                List.of(),
                from.tax().minus(less.tax()),
                from.gross().minus(less.gross()));
    }

    private static Money size(Money money) {
        return money.isNegative() ? money.negate() : money;
    }
}
