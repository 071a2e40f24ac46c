package idlewright.billing;

import idlewright.billing.rules.Line;
import idlewright.billing.rules.Total;
import idlewright.intake.TicketNumber;
import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** An estimate as it stands: its lines, what they add up to, and how far it has come. */
public record EstimateView(
        long id,
        TicketNumber ticket,
        int issue,
        Instant madeAt,
        String madeBy,
        @Nullable Instant offeredAt,
        @Nullable String offeredHow,
        @Nullable String note,
        List<Written> lines,
        Total total,
        boolean latest) {

    /** A line and whether its work or part is charged already. */
    public record Written(long id, Line line, boolean charged) {}

    public boolean offered() {
        return offeredAt != null;
    }
}
