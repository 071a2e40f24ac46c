package idlewright.billing.rules;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;

/** How long after its due day an invoice is still owed. */
public enum Age {
    NOT_DUE("not yet due"),
    TO_30("1 to 30 days"),
    TO_60("31 to 60 days"),
    TO_90("61 to 90 days"),
    OVER_90("over 90 days");

    private final String words;

    Age(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }

    /** On its due day an invoice is not late yet. */
    public static Age of(LocalDate due, LocalDate today) {
        long late = ChronoUnit.DAYS.between(due, today);
        return late <= 0 ? NOT_DUE : late <= 30 ? TO_30 : late <= 60 ? TO_60 : late <= 90 ? TO_90 : OVER_90;
    }
}
