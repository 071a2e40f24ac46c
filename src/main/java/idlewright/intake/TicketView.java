package idlewright.intake;

import idlewright.intake.rules.Move;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.TicketStamp;
import java.time.Instant;
import java.time.LocalDate;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** A ticket with all that the counter's room knows of it. */
public record TicketView(
        TicketNumber number,
        CustomerView customer,
        VehicleView vehicle,
        @Nullable String keyTag,
        Instant openedAt,
        String openedBy,
        String oldParts,
        String roadTest,
        @Nullable TicketNumber comebackOf,
        @Nullable Distance distanceIn,
        @Nullable Distance distanceOut,
        @Nullable Hand hand,
        List<SymptomView> symptoms,
        List<StampView> stamps,
        List<Visit> visits,
        Move move,
        int version) {

    /** A visit of the vehicle, in a list; of a ticket's vehicle this one is among them, the newest first. */
    public record Visit(TicketNumber number, Instant openedAt, String symptoms) {}

    /** An odometer as it was read. */
    public record Distance(
            java.math.BigDecimal value,
            String unit,
            Instant readAt,
            @Nullable String remark) {
        public String words() {
            return "%,.0f %s".formatted(value, unit);
        }
    }

    /** Who has the car in hand. */
    public record Hand(long personId, String who, Instant since) {}

    /** A mark on the ticket or one of its threads. */
    public record StampView(
            long order,
            int place,
            String kind,
            Instant at,
            String who,
            @Nullable String note,
            @Nullable LocalDate due) {
        public String words() {
            return place == 0
                    ? TicketStamp.valueOf(kind).words()
                    : ThreadStamp.valueOf(kind).words();
        }
    }

    /** What was said before it was amended, or what was answered before; taken down then, by whom. */
    public record Before(boolean answers, String words, Instant at, String who) {}

    /** One complaint and how far its thread has come. */
    public record SymptomView(
            SymptomRef ref,
            String kind,
            String kindName,
            String words,
            Instant heardAt,
            String heardBy,
            @Nullable Integer returnsPlace,
            List<Answer> answers,
            List<StampView> stamps,
            List<Before> before,
            int version) {

        public int place() {
            return ref.place();
        }

        public Set<ThreadStamp> carried() {
            var carried = EnumSet.noneOf(ThreadStamp.class);
            stamps.forEach(stamp -> carried.add(ThreadStamp.valueOf(stamp.kind())));
            return carried;
        }

        public boolean has(ThreadStamp stamp) {
            return carried().contains(stamp);
        }

        public boolean ended() {
            return ThreadStamp.ended(carried());
        }

        /** The cause in words, once there is one. */
        public @Nullable String found() {
            return latest(ThreadStamp.TRACED).map(StampView::note).orElse(null);
        }

        /** The latest mark of that kind, as a list of one or none, for templates. */
        public List<StampView> marks(ThreadStamp kind) {
            return latest(kind).stream().toList();
        }

        public Optional<StampView> latest(ThreadStamp kind) {
            return stamps.stream()
                    .filter(stamp -> stamp.kind().equals(kind.name()))
                    .reduce((first, second) -> second);
        }
    }

    /** A question of the symptom's kind and what the customer said. */
    public record Answer(String question, String asks, String answer) {}

    public SymptomView symptom(int place) {
        return symptoms.stream()
                .filter(symptom -> symptom.place() == place)
                .findFirst()
                .orElseThrow(() -> idlewright.frame.NotFound.of("symptom " + place + " on ticket " + number));
    }

    public boolean has(TicketStamp kind) {
        return latest(kind).isPresent();
    }

    /** Whether the customer does not want the repair of a symptom that was offered last, and has not said otherwise since. */
    public boolean refused(SymptomView symptom) {
        long refused = order(symptom.latest(ThreadStamp.REFUSED));
        return refused > order(latest(TicketStamp.OFFERED)) && refused > order(symptom.latest(ThreadStamp.WANTED));
    }

    /** Whether a repair may begin: agreed after its cause was found and after the latest offer, and wanted. */
    public boolean repairAgreed(SymptomView symptom) {
        if (symptom.has(ThreadStamp.MENDED)) {
            return true;
        }
        var traced = symptom.latest(ThreadStamp.TRACED);
        long agreed = order(latest(TicketStamp.AGREED));
        return traced.isPresent()
                && agreed > order(traced)
                && agreed > order(latest(TicketStamp.OFFERED))
                && !refused(symptom);
    }

    private static long order(Optional<StampView> stamp) {
        return stamp.map(StampView::order).orElse(-1L);
    }

    public Optional<StampView> latest(TicketStamp kind) {
        return stamps.stream()
                .filter(stamp -> stamp.place() == 0 && stamp.kind().equals(kind.name()))
                .reduce((first, second) -> second);
    }

    public String oldPartsWords() {
        return switch (oldParts) {
            case "GIVE_BACK" -> "old parts go back to the customer";
            case "SHOW" -> "old parts are shown to the customer";
            default -> "old parts are not wanted";
        };
    }

    public String roadTestWords() {
        return switch (roadTest) {
            case "YES" -> "may be road-tested";
            case "WITH_CUSTOMER" -> "road test only with the customer";
            default -> "no road test";
        };
    }
}
