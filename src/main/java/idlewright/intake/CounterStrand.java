package idlewright.intake;

import idlewright.intake.TicketView.StampView;
import idlewright.intake.TicketView.SymptomView;
import idlewright.intake.rules.Move;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.TicketStamp;
import idlewright.intake.rules.Whose;
import idlewright.people.Role;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** What the counter's own room tells: the words, what was reproduced, threads that ended without a repair, handing back. */
@Component
@Order(5)
class CounterStrand implements Strand {

    private final Tickets tickets;

    CounterStrand(Tickets tickets) {
        this.tickets = tickets;
    }

    @Override
    public Set<Chapter> chapters() {
        return EnumSet.of(Chapter.COMPLAINT, Chapter.CAUSE, Chapter.CORRECTION, Chapter.AFTER);
    }

    @Override
    public List<Knot> knots(TicketNumber number) {
        TicketView ticket = tickets.get(number);
        var knots = new ArrayList<Knot>();
        for (SymptomView symptom : ticket.symptoms()) {
            knots.add(heard(symptom));
            for (StampView stamp : symptom.stamps()) {
                ThreadStamp kind = ThreadStamp.valueOf(stamp.kind());
                String note = stamp.note() == null ? "" : stamp.note();
                switch (kind) {
                    case UNTRACED ->
                        knots.add(Knot.told(
                                symptom.place(), stamp.at(), stamp.who(), Chapter.CAUSE, "Cause not found", note));
                    case DECLINED ->
                        knots.add(Knot.told(
                                        symptom.place(),
                                        stamp.at(),
                                        stamp.who(),
                                        Chapter.CORRECTION,
                                        "Noted, not repaired",
                                        note)
                                .onPaper("Not repaired: " + note));
                    default -> {}
                }
            }
        }
        Move move = ticket.move();
        if (ticket.symptoms().isEmpty()) {
            knots.add(Knot.open(
                    0,
                    Chapter.COMPLAINT,
                    "What the customer says",
                    "Nothing is taken down yet.",
                    Act.main("Take down a symptom", number.url() + "/symptoms/new", Role.WRITER)));
        }
        ticket.latest(TicketStamp.HANDED_BACK)
                .ifPresent(stamp -> knots.add(Knot.told(
                        0,
                        stamp.at(),
                        stamp.who(),
                        Chapter.AFTER,
                        "Handed back",
                        ticket.distanceOut() == null ? "" : ticket.distanceOut().words() + " out")));
        if (move.whose() == Whose.COUNTER && move.what().startsWith("Hand the car")) {
            knots.add(Knot.open(
                    0,
                    Chapter.AFTER,
                    "Hand back",
                    "Keys, old parts as agreed, and the paper.",
                    Act.main("Hand it back", number.url() + "/handing-back", Role.WRITER)));
        }
        return knots;
    }

    private static Knot heard(SymptomView symptom) {
        String circumstances = symptom.answers().stream()
                .map(answer -> answer.asks().replaceAll("\\?$", "") + ": " + answer.answer())
                .collect(Collectors.joining(" · "));
        return new Knot(
                symptom.place(),
                symptom.heardAt(),
                symptom.heardBy(),
                Chapter.COMPLAINT,
                symptom.words(),
                circumstances,
                "intake/knots :: heard",
                symptom,
                List.of(),
                symptom.ended()
                        ? List.of()
                        : List.of(
                                Act.also("Answers", symptom.ref().url() + "/answers", Role.WRITER, Role.TECHNICIAN),
                                Act.also("Amend the words", symptom.ref().url() + "/amending", Role.WRITER),
                                Act.also(
                                        "End without a repair",
                                        symptom.ref().url() + "/ending",
                                        Role.WRITER,
                                        Role.TECHNICIAN)));
    }
}
