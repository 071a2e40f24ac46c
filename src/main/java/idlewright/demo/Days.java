package idlewright.demo;

import java.time.DayOfWeek;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;

/** The working days of the demo shop, counted back from its first start; it is closed on Sundays. */
record Days(Instant origin, ZoneId zone) {

    private static final LocalTime CLOSING = LocalTime.of(17, 45);

    /** The last working day that is over: nothing the demo shop did lies in the future. */
    LocalDate last() {
        var now = origin.atZone(zone);
        return open(now.toLocalTime().isBefore(CLOSING) ? now.toLocalDate().minusDays(1) : now.toLocalDate());
    }

    LocalDate ago(int days) {
        return open(last().minusDays(days));
    }

    LocalDate after(LocalDate day) {
        LocalDate next = day.plusDays(1);
        return next.getDayOfWeek() == DayOfWeek.SUNDAY ? next.plusDays(1) : next;
    }

    Instant at(LocalDate day, LocalTime time) {
        return day.atTime(time).atZone(zone).toInstant();
    }

    private static LocalDate open(LocalDate day) {
        return day.getDayOfWeek() == DayOfWeek.SUNDAY ? day.minusDays(1) : day;
    }
}
