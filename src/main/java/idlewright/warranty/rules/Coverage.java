package idlewright.warranty.rules;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * Whether something is still covered on a day at an odometer. The last day and the last distance still count.
 *
 * @param lastDay the last covered day
 * @param lastDistance the last covered odometer, in the promise's unit; null when distance does not count or is not known
 * @param distanceKnown false when an odometer is missing or shows less than before, so that only the time was judged
 */
public record Coverage(
        boolean covered, LocalDate lastDay, @Nullable BigDecimal lastDistance, String unit, boolean distanceKnown) {

    private static final BigDecimal KM_PER_MILE = new BigDecimal("1.609344");
    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("d MMM uuuu", Locale.ENGLISH);

    /** An odometer as it was read, in km or mi. */
    public record Odometer(BigDecimal value, String unit) {

        BigDecimal in(String other) {
            if (unit.equals(other)) {
                return value;
            }
            return other.equals("km")
                    ? value.multiply(KM_PER_MILE)
                    : value.divide(KM_PER_MILE, 3, RoundingMode.HALF_UP);
        }
    }

    /**
     * Judges a promise that began on a day at an odometer.
     *
     * @return empty of cover when the promise is none
     */
    public static Coverage of(
            Promise promise, LocalDate begun, @Nullable Odometer begunAt, LocalDate day, @Nullable Odometer at) {
        LocalDate lastDay = begun.plusMonths(promise.months());
        boolean inTime = promise.months() > 0 && !day.isBefore(begun) && !day.isAfter(lastDay);
        if (promise.distance() == null) {
            return new Coverage(inTime, lastDay, null, promise.unit(), true);
        }
        if (begunAt == null) {
            return new Coverage(inTime, lastDay, null, promise.unit(), false);
        }
        BigDecimal from = begunAt.in(promise.unit());
        BigDecimal last = from.add(promise.distance());
        BigDecimal now = at == null ? null : at.in(promise.unit());
        boolean known = now != null && now.compareTo(from) >= 0;
        return new Coverage(inTime && (!known || now.compareTo(last) <= 0), lastDay, last, promise.unit(), known);
    }

    /** "until 9 Nov 2027 or 106,940 km", "ended on 9 Nov 2026 or at 106,940 km". */
    public String words() {
        String ends = DAY.format(lastDay);
        String distance = lastDistance == null ? "" : "%,.0f %s".formatted(lastDistance, unit);
        if (covered) {
            return "until " + ends + (distance.isEmpty() ? "" : " or " + distance)
                    + (distanceKnown ? "" : "; the distance could not be judged");
        }
        return "ended on " + ends + (distance.isEmpty() ? "" : " or at " + distance);
    }
}
