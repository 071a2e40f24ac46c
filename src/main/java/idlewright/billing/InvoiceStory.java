package idlewright.billing;

import idlewright.billing.rules.Line;
import idlewright.intake.Chapter;
import idlewright.intake.Knot;
import idlewright.intake.Strand;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.reference.money.Money;
import java.util.ArrayList;
import java.util.Currency;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import org.springframework.stereotype.Component;

/** What an invoice tells of each symptom: complaint, cause, correction and proof. */
@Component
class InvoiceStory {

    private static final Set<Chapter> TOLD =
            EnumSet.of(Chapter.COMPLAINT, Chapter.TEST, Chapter.CAUSE, Chapter.CORRECTION, Chapter.PROOF);

    /** One thing told, under the symptom it belongs to. */
    record Placed(int place, InvoiceView.Told told) {}

    private final List<Strand> strands;

    InvoiceStory(List<Strand> strands) {
        this.strands = strands;
    }

    /** What is told on paper: complaint, cause, correction and proof in words, the tests by their readings. */
    List<Placed> of(TicketNumber number) {
        return Strand.told(strands.stream(), number, TOLD)
                .filter(knot -> !knot.open() && knot.place() > 0)
                .flatMap(knot -> told(knot).map(told -> new Placed(knot.place(), told)).stream())
                .toList();
    }

    private static Optional<InvoiceView.Told> told(Knot knot) {
        String chapter = knot.chapter().name();
        if (!knot.figures().isEmpty()) {
            return Optional.of(new InvoiceView.Told(chapter, knot.title(), "", knot.figures()));
        }
        return switch (knot.chapter()) {
            // The circumstances of a complaint stay on the ticket; its words are enough for paper.
            case COMPLAINT -> Optional.of(new InvoiceView.Told(chapter, knot.title(), "", List.of()));
            case CAUSE, CORRECTION, PROOF ->
                knot.paper() == null
                        ? Optional.of(new InvoiceView.Told(chapter, knot.title(), knot.said(), List.of()))
                        : Optional.of(knot.paper())
                                .filter(words -> !words.isBlank())
                                .map(words -> new InvoiceView.Told(chapter, "", words, List.of()));
            case TEST, AGREEMENT, AFTER -> Optional.empty();
        };
    }

    static Map<Integer, String> headings(TicketView ticket) {
        var headings = new TreeMap<Integer, String>();
        ticket.symptoms().forEach(symptom -> headings.put(symptom.place(), symptom.kindName()));
        return headings;
    }

    /** Story and lines in order, symptom by symptom. */
    static List<InvoiceView.Part> parts(
            Map<Integer, String> headings, List<Placed> story, List<Line> lines, Currency currency) {
        var places = new TreeSet<>(headings.keySet());
        lines.forEach(line -> places.add(line.place()));
        var parts = new ArrayList<InvoiceView.Part>();
        for (int place : places) {
            var its = lines.stream().filter(line -> line.place() == place).toList();
            var told = story.stream()
                    .filter(placed -> placed.place() == place)
                    .map(Placed::told)
                    .toList();
            if (its.isEmpty() && told.isEmpty()) {
                continue;
            }
            parts.add(new InvoiceView.Part(
                    place,
                    headings.getOrDefault(place, "The visit"),
                    told,
                    its,
                    Money.sum(its.stream().map(Line::net).toList(), currency)));
        }
        return parts;
    }
}
