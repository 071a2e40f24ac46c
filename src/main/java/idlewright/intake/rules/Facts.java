package idlewright.intake.rules;

import java.time.Instant;
import java.time.LocalDate;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** What the stamps of one ticket say, in the order in which they were set. */
public record Facts(List<Mark> marks, Map<Integer, String> symptoms, LocalDate today) {

    /** One stamp: place 0 is the whole ticket. */
    public record Mark(
            long order,
            int place,
            String kind,
            Instant at,
            @Nullable String note,
            @Nullable LocalDate due) {}

    @Nullable
    Mark latest(TicketStamp kind) {
        Mark found = null;
        for (Mark mark : marks) {
            if (mark.place() == 0 && mark.kind().equals(kind.name())) {
                found = mark;
            }
        }
        return found;
    }

    Map<ThreadStamp, Mark> thread(int place) {
        var carried = new EnumMap<ThreadStamp, Mark>(ThreadStamp.class);
        for (Mark mark : marks) {
            if (mark.place() == place && place > 0) {
                carried.put(ThreadStamp.valueOf(mark.kind()), mark);
            }
        }
        return carried;
    }

    Set<Integer> places() {
        return symptoms.keySet();
    }
}
