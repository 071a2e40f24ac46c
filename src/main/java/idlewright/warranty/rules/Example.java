package idlewright.warranty.rules;

import idlewright.reference.money.Money;
import idlewright.warranty.rules.Coverage.Odometer;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;

/** A promise worked through with figures, for those who have to explain it. */
public final class Example {

    private Example() {}

    /** What is borne of an amount when half of the months and two fifths of the distance are gone. */
    public static String of(Promise promise, Money amount, LocalDate begun) {
        if (promise.months() == 0) {
            return "Nothing is promised.";
        }
        LocalDate last = begun.plusMonths(promise.months());
        LocalDate day = begun.plusDays(ChronoUnit.DAYS.between(begun, last) / 2);
        BigDecimal gone = promise.distance() == null
                ? BigDecimal.ZERO
                : promise.distance().multiply(new BigDecimal("0.4")).setScale(0, RoundingMode.HALF_UP);
        var start = new Odometer(BigDecimal.ZERO, promise.unit());
        int percent = Coverage.of(promise, begun, start, day, new Odometer(gone, promise.unit()))
                .percent();
        Money borne = amount.times(BigDecimal.valueOf(percent).movePointLeft(2));
        String after = "%d days%s"
                .formatted(
                        ChronoUnit.DAYS.between(begun, day),
                        promise.distance() == null ? "" : " and %,.0f %s".formatted(gone, promise.unit()));
        return promise.falling()
                ? "Of %s that fail after %s the promise bears %d %%, %s: the time or the distance, whichever is further gone."
                        .formatted(amount.text(), after, percent, borne.text())
                : "Of %s that fail after %s the promise bears all; by share it would be %s."
                        .formatted(amount.text(), after, share(promise, amount, begun));
    }

    private static String share(Promise promise, Money amount, LocalDate begun) {
        String falling = of(new Promise(promise.months(), promise.distance(), promise.unit(), true), amount, begun);
        return falling.replaceAll(".*bears (.*?):.*", "$1");
    }
}
