package idlewright.proof.rules;

import java.time.LocalDate;

/** When a customer is to be asked. */
public enum Turn {
    OVERDUE("Overdue"),
    DUE("Today"),
    COMING("Coming");

    private final String words;

    Turn(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }

    public static Turn of(LocalDate due, LocalDate today) {
        return due.isBefore(today) ? OVERDUE : due.isEqual(today) ? DUE : COMING;
    }
}
