package idlewright.warranty;

import idlewright.billing.Charges;
import idlewright.billing.PrintedTerms;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.frame.Together;
import idlewright.intake.TicketNumber;
import idlewright.repair.SwapView;
import idlewright.repair.Swaps;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.springframework.stereotype.Component;

/** The shop's promise and those on the fitted parts, as sentences for the invoice. */
@Component
class TermsOnPaper implements PrintedTerms {

    private final Together together;
    private final Charges charges;
    private final Swaps swaps;

    TermsOnPaper(Together together, Charges charges, Swaps swaps) {
        this.together = together;
        this.charges = charges;
        this.swaps = swaps;
    }

    @Override
    public List<String> of(TicketNumber number) {
        List<Line> lines = charges.lines(number);
        var words = new ArrayList<String>();
        var told = together.read(Map.of("ticket", number.value()), Terms.HELD, PartTerms.OF_TICKET);
        Terms.Card card = Terms.card(told.get(0).get(0));
        if (lines.stream().anyMatch(line -> line.kind() == LineKind.PART)) {
            words.add("Parts: " + card.parts().words() + ", from the day the vehicle is handed back.");
        }
        if (lines.stream().anyMatch(line -> line.kind() == LineKind.LABOUR || line.kind() == LineKind.SUBLET)) {
            words.add("Work: " + card.labour().words() + ", from the day the vehicle is handed back.");
        }
        List<PartTerms.Given> given = told.get(1).stream().map(PartTerms::given).toList();
        if (!given.isEmpty()) {
            var fitted = swaps.of(number).stream()
                    .filter(SwapView::isFinal)
                    .map(SwapView::id)
                    .collect(Collectors.toSet());
            given.stream()
                    .filter(each -> fitted.contains(each.swap()))
                    .forEach(each -> words.add("%s: %s promises %s.".formatted(each.part(), each.by(), each.words())));
        }
        if (!words.isEmpty() && !card.words().isBlank()) {
            words.add(card.words());
        }
        return words;
    }
}
