package idlewright.intake.rules;

import idlewright.intake.rules.Facts.Mark;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/** Whose turn it is on a ticket, what they have to do, and since when. Told from the stamps alone. */
public record Move(Whose whose, String what, Instant since, int place, boolean ended) {

    private static final String NOT_WANTED = "The repair is not wanted: end it, or write another estimate.";

    /** The one place in the house that says what comes next. */
    public static Move of(Facts facts) {
        Mark opened = facts.marks().get(0);
        Mark handedBack = facts.latest(TicketStamp.HANDED_BACK);
        if (handedBack != null) {
            return afterHandingBack(facts, handedBack);
        }
        Mark offered = facts.latest(TicketStamp.OFFERED);
        Mark agreed = facts.latest(TicketStamp.AGREED);
        Mark billed = facts.latest(TicketStamp.BILLED);
        if (facts.places().isEmpty()) {
            return new Move(Whose.COUNTER, "Take down what the customer says.", opened.at(), 0, false);
        }
        if (billed == null && agreed == null && !refused(facts, offered)) {
            return offered == null
                    ? new Move(
                            Whose.COUNTER,
                            "Get the diagnosis agreed.",
                            last(facts).at(),
                            0,
                            false)
                    : new Move(Whose.CUSTOMER, has("offer", offered), offered.at(), 0, false);
        }
        if (billed == null) {
            var moves = new ArrayList<Move>();
            for (int place : facts.places()) {
                Move move = ofThread(place, facts.thread(place), offered, agreed);
                if (move != null) {
                    moves.add(move);
                }
            }
            if (!moves.isEmpty()) {
                return moves.stream()
                        .min(Comparator.comparingInt(Move::rank).thenComparing(Move::place))
                        .orElseThrow();
            }
            return new Move(
                    Whose.COUNTER, "Write the invoice.", lastThread(facts).at(), 0, false);
        }
        Mark paid = facts.latest(TicketStamp.PAID);
        Mark owed = facts.latest(TicketStamp.OWED);
        if (owed != null && owed.order() > order(paid)) {
            return new Move(Whose.COUNTER, "Take the payment: some went back.", owed.at(), 0, false);
        }
        return paid == null || paid.order() < billed.order()
                ? new Move(Whose.COUNTER, "Take the payment.", billed.at(), 0, false)
                : new Move(Whose.COUNTER, "Hand the car back.", paid.at(), 0, false);
    }

    private static @Nullable Move ofThread(
            int place, Map<ThreadStamp, Mark> thread, @Nullable Mark offered, @Nullable Mark agreed) {
        if (ThreadStamp.ended(thread.keySet())) {
            return null;
        }
        Mark traced = thread.get(ThreadStamp.TRACED);
        if (traced == null) {
            Mark seen = thread.get(ThreadStamp.REPRODUCED);
            Mark from = seen != null ? seen : thread.get(ThreadStamp.HEARD);
            Instant since =
                    agreed != null && from != null && agreed.at().isAfter(from.at()) ? agreed.at() : at(from, agreed);
            return new Move(Whose.BAY, seen == null ? "Reproduce it." : "Find the cause.", since, place, false);
        }
        Mark refused = thread.get(ThreadStamp.REFUSED);
        if (refused != null
                && refused.order() > order(offered)
                && refused.order() > order(thread.get(ThreadStamp.WANTED))) {
            return new Move(Whose.COUNTER, NOT_WANTED, refused.at(), place, false);
        }
        if (offered == null || offered.order() < traced.order()) {
            return agreed != null && agreed.order() > traced.order()
                    ? mend(place, thread, agreed)
                    : new Move(Whose.COUNTER, "Write the estimate.", traced.at(), place, false);
        }
        if (agreed == null || agreed.order() < offered.order()) {
            return new Move(Whose.CUSTOMER, has("estimate", offered), offered.at(), place, false);
        }
        return mend(place, thread, agreed);
    }

    /** What the counter owes others comes first; what is not wanted keeps nobody from what is. */
    private int rank() {
        if (what.equals(NOT_WANTED)) {
            return 2;
        }
        return switch (whose) {
            case COUNTER -> 0;
            case BAY -> 1;
            default -> 3;
        };
    }

    private static boolean refused(Facts facts, @Nullable Mark offered) {
        return facts.places().stream()
                .map(place -> facts.thread(place).get(ThreadStamp.REFUSED))
                .anyMatch(refused -> refused != null && refused.order() > order(offered));
    }

    private static long order(@Nullable Mark mark) {
        return mark == null ? -1 : mark.order();
    }

    private static Move mend(int place, Map<ThreadStamp, Mark> thread, Mark agreed) {
        Mark mended = thread.get(ThreadStamp.MENDED);
        return mended == null
                ? new Move(Whose.BAY, "Repair it.", agreed.at(), place, false)
                : new Move(Whose.BAY, "Prove the repair.", mended.at(), place, false);
    }

    private static Move afterHandingBack(Facts facts, Mark handedBack) {
        boolean watched = true;
        for (int place : facts.places()) {
            var thread = facts.thread(place);
            Mark returned = thread.get(ThreadStamp.RETURNED);
            if (returned != null && !thread.containsKey(ThreadStamp.EXPLAINED)) {
                return new Move(Whose.OWNER, "Say why it came back.", returned.at(), place, false);
            }
            watched &= returned != null
                    || thread.containsKey(ThreadStamp.WATCHED)
                    || thread.containsKey(ThreadStamp.DECLINED);
        }
        if (watched) {
            return new Move(Whose.NOBODY, "Done.", handedBack.at(), 0, true);
        }
        Mark putOff = facts.latest(TicketStamp.PUT_OFF);
        boolean again = putOff != null && putOff.order() > handedBack.order();
        Mark asks = again ? putOff : handedBack;
        var due = asks.due();
        if (due != null && !due.isAfter(facts.today())) {
            return new Move(
                    Whose.COUNTER,
                    again ? "Call the customer again: nobody was reached." : "Call the customer: the follow-up is due.",
                    asks.at(),
                    0,
                    false);
        }
        return new Move(
                Whose.NOBODY,
                again ? "Nobody was reached; to be asked again later." : "Handed back; the follow-up is not due yet.",
                asks.at(),
                0,
                false);
    }

    private static Instant at(@Nullable Mark first, @Nullable Mark second) {
        if (first != null) {
            return first.at();
        }
        return second != null ? second.at() : Instant.EPOCH;
    }

    private static Mark last(Facts facts) {
        return facts.marks().get(facts.marks().size() - 1);
    }

    private static Mark lastThread(Facts facts) {
        Mark found = last(facts);
        for (Mark mark : facts.marks()) {
            if (mark.place() > 0) {
                found = mark;
            }
        }
        return found;
    }

    /** "Has the estimate of 386.20, by phone." */
    private static String has(String what, Mark offered) {
        String note = offered.note();
        return note == null || note.isBlank()
                ? "Has the %s.".formatted(what)
                : note.startsWith("estimate of ")
                        ? "Has the %s.".formatted(note)
                        : "Has the %s: %s.".formatted(what, note);
    }
}
