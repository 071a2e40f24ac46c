package idlewright.insight.rules;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A thread that had ended when its car was handed back.
 *
 * @param proved false when it ended without its cause being found
 * @param returned the day it was known to have come back, null while it has not
 * @param reason key of why it came back, null until somebody said so
 * @param comeback number of the visit that it made necessary, null when there was none
 */
public record HandedThread(
        int ticket,
        int place,
        String kind,
        String kindName,
        String words,
        String vehicle,
        @Nullable String plate,
        LocalDate handedBack,
        boolean proved,
        @Nullable String cause,
        @Nullable String causeName,
        @Nullable String technician,
        List<Fitted> parts,
        @Nullable LocalDate returned,
        @Nullable String reason,
        @Nullable String reasonWords,
        @Nullable Integer comeback) {

    /** A part that was fitted for good. */
    public record Fitted(
            String what,
            String number,
            String maker,
            String supplier,
            @Nullable String lot) {}

    public boolean cameBack() {
        return returned != null;
    }

    /** Days until it came back, or that it has lasted so far. */
    public long days(LocalDate today) {
        return Math.max(0, ChronoUnit.DAYS.between(handedBack, returned == null ? today : returned));
    }

    public String url() {
        return "/tickets/" + ticket;
    }
}
