package idlewright.warranty.rules;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * Whether something is still covered on a day at an odometer. The last day and the last distance still count.
 *
 * @param lastDay the last covered day
 * @param lastDistance the last covered odometer, in the promise's unit; null when distance does not count or is not known
 * @param distanceKnown false when an odometer is missing or shows less than before, so that only the time was judged
 * @param percent the share that is borne: 0 when not covered, 1 to 100 when covered
 */
public record Coverage(
        boolean covered,
        LocalDate lastDay,
        @Nullable BigDecimal lastDistance,
        String unit,
        boolean distanceKnown,
        int percent) {

    private static final BigDecimal KM_PER_MILE = new BigDecimal("1.609344");
    private static final BigDecimal HUNDRED = BigDecimal.valueOf(100);
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
        // The first day and the last both count, so that the share is whole on the first and still something on the
        // last.
        BigDecimal timeLeft = left(
                BigDecimal.valueOf(ChronoUnit.DAYS.between(day, lastDay) + 1),
                BigDecimal.valueOf(ChronoUnit.DAYS.between(begun, lastDay) + 1));
        BigDecimal whole = promise.distance();
        if (whole == null || begunAt == null) {
            return judged(promise, inTime, lastDay, null, whole == null, timeLeft);
        }
        BigDecimal from = begunAt.in(promise.unit());
        BigDecimal last = from.add(whole);
        BigDecimal now = at == null ? null : at.in(promise.unit());
        if (now == null || now.compareTo(from) < 0) {
            return judged(promise, inTime, lastDay, last, false, timeLeft);
        }
        BigDecimal wayLeft = left(last.subtract(now), whole);
        return judged(promise, inTime && now.compareTo(last) <= 0, lastDay, last, true, timeLeft.min(wayLeft));
    }

    private static BigDecimal left(BigDecimal left, BigDecimal whole) {
        return left.divide(whole, 8, RoundingMode.HALF_UP);
    }

    /** A started per cent counts as one. */
    private static Coverage judged(
            Promise promise,
            boolean covered,
            LocalDate lastDay,
            @Nullable BigDecimal lastDistance,
            boolean known,
            BigDecimal left) {
        int percent = !covered
                ? 0
                : !promise.falling()
                        ? 100
                        : Math.max(
                                1,
                                left.multiply(HUNDRED)
                                        .setScale(0, RoundingMode.CEILING)
                                        .intValue());
        return new Coverage(covered, lastDay, lastDistance, promise.unit(), known, Math.min(100, percent));
    }

    /** "until 9 Nov 2027 or 106,940 km", "ended on 9 Nov 2026 or at 106,940 km". */
    public String words() {
        String ends = DAY.format(lastDay);
        String distance = lastDistance == null ? "" : "%,.0f %s".formatted(lastDistance, unit);
        if (covered) {
            return "until " + ends + (distance.isEmpty() ? "" : " or " + distance)
                    + (percent == 100 ? "" : ", a share of " + percent + " %")
                    + (distanceKnown ? "" : "; the distance could not be judged");
        }
        return "ended on " + ends + (distance.isEmpty() ? "" : " or at " + distance);
    }
}
