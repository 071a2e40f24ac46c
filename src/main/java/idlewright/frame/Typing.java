package idlewright.frame;

import idlewright.reference.units.Typed;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.Function;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;

/** Reads what a form's fields say, and gathers what is wrong with each, so that a person mends all of it at once. */
public final class Typing {

    private final Map<String, String> problems = new LinkedHashMap<>();

    /** The number in a field, or null: left empty, or not understood (which is gathered). */
    public @Nullable BigDecimal number(String field, @Nullable String typed) {
        return read(field, typed, Typed::number);
    }

    public @Nullable Integer whole(String field, @Nullable String typed) {
        Long read = read(field, typed, Typed::whole);
        if (read != null && read > Integer.MAX_VALUE) {
            problems.put(field, "That is too large a number.");
            return null;
        }
        return read == null ? null : read.intValue();
    }

    public @Nullable BigDecimal amount(String field, @Nullable String typed) {
        return read(field, typed, Typed::amount);
    }

    /** The day in a field, as the browser's calendar writes it: 2026-11-25. */
    public @Nullable LocalDate day(String field, @Nullable String typed) {
        if (typed == null || typed.isBlank()) {
            return null;
        }
        try {
            LocalDate day = LocalDate.parse(typed.strip());
            if (day.getYear() >= 1970 && day.getYear() <= 9999) {
                return day;
            }
        } catch (DateTimeParseException e) {
            // told below
        }
        problems.put(field, "Enter a day as year-month-day, like 2026-11-25.");
        return null;
    }

    public BigDecimal neededNumber(String field, @Nullable String typed, String ifEmpty) {
        BigDecimal read = number(field, typed);
        needed(field, typed, ifEmpty);
        return read == null ? BigDecimal.ZERO : read;
    }

    public BigDecimal neededOdometer(String field, @Nullable String typed, String ifEmpty) {
        BigDecimal read = read(field, typed, Typed::odometer);
        needed(field, typed, ifEmpty);
        return read == null ? BigDecimal.ZERO : read;
    }

    /** What is counted, such as rpm or a distance: "1,650", "1.650" and "1 650" are all 1650. */
    public @Nullable BigDecimal count(String field, @Nullable String typed) {
        return read(field, typed, Typed::count);
    }

    public BigDecimal neededAmount(String field, @Nullable String typed, String ifEmpty) {
        BigDecimal read = amount(field, typed);
        needed(field, typed, ifEmpty);
        return read == null ? BigDecimal.ZERO : read;
    }

    public int neededWhole(String field, @Nullable String typed, String ifEmpty) {
        Integer read = whole(field, typed);
        needed(field, typed, ifEmpty);
        return read == null ? 0 : read;
    }

    public String needed(String field, @Nullable String typed, String ifEmpty) {
        if (typed == null || typed.isBlank()) {
            problems.put(field, ifEmpty);
            return "";
        }
        return typed;
    }

    /** Reads a field of which there are many: what is wrong with it begins with where it stands. */
    public <T> T beginning(String where, Supplier<T> reading) {
        var before = Map.copyOf(problems);
        T read = reading.get();
        problems.replaceAll((field, said) -> said.equals(before.get(field)) ? said : where + said);
        return read;
    }

    public void wrong(String field, String sentence) {
        problems.putIfAbsent(field, sentence);
    }

    /** Refuses with all that was gathered; call it before the verb. */
    public void done() {
        Refused.ifAny(problems);
    }

    private <T> @Nullable T read(String field, @Nullable String typed, Function<String, T> reading) {
        if (typed == null || typed.isBlank()) {
            return null;
        }
        try {
            return reading.apply(typed);
        } catch (Typed.NotUnderstood e) {
            problems.put(field, e.getMessage() + (e.getMessage().endsWith(".") ? "" : "."));
            return null;
        }
    }
}
