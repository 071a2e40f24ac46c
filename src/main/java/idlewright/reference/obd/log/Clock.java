package idlewright.reference.obd.log;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.regex.Pattern;

/**
 * Times as tools write them: seconds or milliseconds as a number, a clock (h:mm:ss.SSS, mm:ss.S, with AM or PM), or a
 * date with a clock. A clock that falls back by more than half a day has passed midnight.
 */
final class Clock {
    private static final double DAY = 86_400;
    private static final Pattern AFTER_CLOCK = Pattern.compile("(?i)[AP]M|Z|[+-]\\d{2}:?\\d{2}");
    private static final Pattern YEAR_FIRST = Pattern.compile("\\d{4}[-/.]\\d{1,2}[-/.]\\d{1,2}");
    private static final Pattern OTHER_DATE = Pattern.compile("\\d{1,2}[-/. ]\\w{1,9}[-/. ]\\d{2,4}|[A-Za-z]{2,9}");

    private final Cells cells;
    private final double scale;
    private double midnights;
    private double last = Double.NaN;

    /** @param scale seconds in one unit of a plain number */
    Clock(char decimal, double scale) {
        this.cells = new Cells(decimal);
        this.scale = scale;
    }

    /** Seconds from an unknown origin, or NaN. */
    double read(char[] text, int from, int to) {
        double number = cells.read(text, from, to);
        if (cells.outcome == Cells.NUMBER) {
            return number * scale;
        }
        if (cells.outcome == Cells.NOTHING || to - from > 40) {
            return Double.NaN;
        }
        double clock = ofClock(text, from, to);
        if (Double.isNaN(clock) || clock > 2 * DAY) {
            return clock;
        }
        double time = clock + midnights;
        if (time < last - DAY / 2) {
            midnights += DAY;
            time += DAY;
        }
        last = time;
        return time;
    }

    /** Seconds of the day, plus those of the days since 1970 when the date is written year first. */
    static double ofClock(char[] text, int from, int to) {
        int colon = from;
        while (colon < to && text[colon] != ':') {
            colon++;
        }
        if (colon == to || colon == from || !Cells.isDigit(text[colon - 1])) {
            return Double.NaN;
        }
        int hour = colon - 1;
        while (hour > from && Cells.isDigit(text[hour - 1])) {
            hour--;
        }
        double days = 0;
        if (hour > from) {
            if (text[hour - 1] != 'T' && text[hour - 1] != ' ' && text[hour - 1] != '_') {
                return Double.NaN;
            }
            days = date(text, from, hour - 1);
            if (Double.isNaN(days)) {
                return Double.NaN;
            }
        }
        double[] parts = new double[4];
        int n = 0;
        int at = hour;
        boolean fraction = false;
        while (n < 4) {
            int begin = at;
            double value = 0;
            while (at < to && Cells.isDigit(text[at])) {
                value = value * 10 + (text[at++] - '0');
            }
            if (at == begin || at - begin > 9) {
                return Double.NaN;
            }
            if (n > 0 && at < to && (text[at] == '.' || text[at] == ',')) {
                double share = 0.1;
                at++;
                while (at < to && Cells.isDigit(text[at])) {
                    value += (text[at++] - '0') * share;
                    share /= 10;
                }
                fraction = true;
            }
            parts[n++] = value;
            if (fraction || at == to || text[at] != ':') {
                break;
            }
            at++;
        }
        String rest = new String(text, at, to - at).strip();
        double seconds = switch (n) {
            case 2 -> parts[0] * 60 + parts[1];
            case 3 -> parts[0] * 3600 + parts[1] * 60 + parts[2];
            // h:mm:ss:SSS
            case 4 -> parts[0] * 3600 + parts[1] * 60 + parts[2] + (parts[3] < 1000 ? parts[3] / 1000 : 0);
            default -> Double.NaN;
        };
        if (n >= 2 && parts[1] >= 60 || n >= 3 && parts[2] >= 61) {
            return Double.NaN;
        }
        if (n >= 3 && parts[0] == 12 && rest.equalsIgnoreCase("AM")) {
            seconds -= DAY / 2;
        } else if (n >= 3 && parts[0] < 12 && rest.equalsIgnoreCase("PM")) {
            seconds += DAY / 2;
        } else if (!rest.isEmpty() && !AFTER_CLOCK.matcher(rest).matches()) {
            return Double.NaN;
        }
        return seconds + days * DAY;
    }

    /** Days since 1970 for a date with the year first; 0 for other dates, whose order of day and month is not known. */
    private static double date(char[] text, int from, int to) {
        String date = new String(text, from, to - from).strip();
        if (YEAR_FIRST.matcher(date).matches()) {
            String[] part = date.split("[-/.]");
            try {
                return LocalDate.of(Integer.parseInt(part[0]), Integer.parseInt(part[1]), Integer.parseInt(part[2]))
                        .toEpochDay();
            } catch (DateTimeException noSuchDay) {
                return Double.NaN;
            }
        }
        return OTHER_DATE.matcher(date).matches() ? 0 : Double.NaN;
    }
}
