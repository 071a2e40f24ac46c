package idlewright.billing.rules;

import idlewright.reference.money.Money;
import java.util.Comparator;
import java.util.Currency;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/** What the agreements of a ticket come to: each adds to those before it, save one that was made in their place. */
public final class Agreed {

    /**
     * One agreement.
     *
     * @param replaces the one that it corrects; it stands where that one stood
     */
    public record Given(long id, @Nullable Long replaces, Agreement kind, Money amount) {}

    private Agreed() {}

    public static Money sum(List<Given> given, Currency currency) {
        return diagnosis(given, currency).plus(forRepair(given, currency));
    }

    public static Money diagnosis(List<Given> given, Currency currency) {
        return Money.sum(
                counting(given).stream()
                        .filter(each -> each.kind() == Agreement.DIAGNOSIS)
                        .map(Given::amount)
                        .toList(),
                currency);
    }

    /** Beyond the diagnosis: the repair and its rises, from the latest sum on that took the place of those before. */
    public static Money forRepair(List<Given> given, Currency currency) {
        Money sum = Money.zero(currency);
        for (Given each : counting(given)) {
            if (each.kind() == Agreement.INSTEAD) {
                sum = each.amount();
            } else if (each.kind() != Agreement.DIAGNOSIS) {
                sum = sum.plus(each.amount());
            }
        }
        return sum;
    }

    /** Those that nobody corrected, each in the place of the first of its corrections. */
    private static List<Given> counting(List<Given> given) {
        Map<Long, Long> places = new HashMap<>();
        given.stream()
                .sorted(Comparator.comparingLong(Given::id))
                .forEach(each -> places.put(
                        each.id(),
                        each.replaces() == null ? each.id() : places.getOrDefault(each.replaces(), each.id())));
        var corrected = given.stream().map(Given::replaces).toList();
        return given.stream()
                .filter(each -> !corrected.contains(each.id()))
                .sorted(Comparator.comparingLong(each -> places.get(each.id())))
                .toList();
    }
}
