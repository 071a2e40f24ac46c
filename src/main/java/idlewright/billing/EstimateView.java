package idlewright.billing;

import idlewright.billing.rules.Change;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.Standing;
import idlewright.billing.rules.Total;
import idlewright.intake.TicketNumber;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
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
        List<Group> groups,
        List<Change> changes,
        Total total,
        boolean latest) {

    /** A line and whether its work or part is charged already. */
    public record Written(long id, Line line, boolean charged) {}

    /** The lines of one symptom (place 0: of the visit), which the customer agrees to or declines as a whole. */
    public record Group(
            int place,
            List<Written> lines,
            Total total,
            Standing standing,
            @Nullable Answered answer) {

        public List<Line> bare() {
            return lines.stream().map(Written::line).toList();
        }
    }

    /** What the customer said to a group. */
    public record Answered(boolean agreed, Channel channel, String byWhom, Instant at) {}

    /** A group with what a stranger needs to understand it: the words, the cause, the readings, and what is new. */
    public record Told(
            Group group,
            String heading,
            @Nullable String words,
            @Nullable String cause,
            List<String> readings,
            List<Change> changes) {}

    public boolean offered() {
        return offeredAt != null;
    }

    public Optional<Group> group(int place) {
        return groups.stream().filter(group -> group.place() == place).findFirst();
    }

    public boolean declined(int place) {
        return group(place).filter(group -> group.standing().declined()).isPresent();
    }

    /** What can still be charged: not charged yet, and not declined. */
    public List<Written> open() {
        return lines.stream()
                .filter(written ->
                        !written.charged() && !declined(written.line().place()))
                .toList();
    }

    /** Whether any of it still needs a yes or no; what was agreed before and has not changed does not. */
    public boolean asks() {
        return groups.stream().anyMatch(group -> group.standing().asked());
    }

    public boolean answered() {
        return groups.stream().anyMatch(group -> group.answer() != null);
    }
}
