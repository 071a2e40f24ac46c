package idlewright.frame;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Says moments and spans in words; for templates as {@code @times}. The shop's zone is told by the people room. */
@Component("times")
public class Times {

    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("d MMM uuuu", Locale.ENGLISH);
    private static final DateTimeFormatter HOUR = DateTimeFormatter.ofPattern("H:mm", Locale.ENGLISH);

    private final Clock clock;
    private volatile ZoneId zone = ZoneId.systemDefault();

    Times(Clock clock) {
        this.clock = clock;
    }

    public void liveIn(ZoneId shopZone) {
        zone = shopZone;
    }

    public ZoneId zone() {
        return zone;
    }

    public LocalDate today() {
        return LocalDate.ofInstant(clock.instant(), zone);
    }

    public String at(@Nullable Instant moment) {
        return moment == null ? "" : day(moment) + ", " + hour(moment);
    }

    public String hour(@Nullable Instant moment) {
        return moment == null ? "" : HOUR.format(moment.atZone(zone));
    }

    public String day(@Nullable Instant moment) {
        return moment == null ? "" : DAY.format(moment.atZone(zone));
    }

    public String day(@Nullable LocalDate date) {
        return date == null ? "" : DAY.format(date);
    }

    /** The hour when it was today, the day and hour otherwise. */
    public String shortly(@Nullable Instant moment) {
        if (moment == null) {
            return "";
        }
        return LocalDate.ofInstant(moment, zone).equals(today()) ? hour(moment) : at(moment);
    }

    /** How long ago, as a counter says it: "50 min", "3 h 05", "2 days". */
    public String since(@Nullable Instant moment) {
        return moment == null ? "" : span(Duration.between(moment, clock.instant()));
    }

    public boolean olderThan(@Nullable Instant moment, int hours) {
        return moment != null && Duration.between(moment, clock.instant()).toHours() >= hours;
    }

    static String span(Duration span) {
        long minutes = Math.max(0, span.toMinutes());
        if (minutes < 60) {
            return minutes + " min";
        }
        if (minutes < 24 * 60) {
            return "%d h %02d".formatted(minutes / 60, minutes % 60);
        }
        long days = minutes / (24 * 60);
        return days == 1 ? "1 day" : days + " days";
    }
}
