package idlewright.billing;

import idlewright.billing.rules.Line;
import idlewright.intake.Knot;
import idlewright.intake.TicketNumber;
import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** An invoice or credit note as it was issued; nothing in it changes any more. */
public record InvoiceView(
        String number,
        TicketNumber ticket,
        @Nullable String credits,
        @Nullable String creditedBy,
        @Nullable String reason,
        Instant issuedAt,
        String issuedBy,
        LocalDate due,
        Money net,
        List<TaxLine> taxes,
        Money tax,
        Money total,
        Money paid,
        String customer,
        @Nullable String address,
        String vehicle,
        @Nullable String distance,
        String journalHead,
        List<Part> parts) {

    /** The tax of one rate. */
    public record TaxLine(TaxRate rate, Money net, Money tax) {}

    /** One symptom (or the whole visit, place 0): its story and its lines. */
    public record Part(int place, String heading, List<Told> story, List<Line> lines, Money net) {

        public @Nullable String said(String chapter) {
            return story.stream()
                    .filter(told -> told.chapter().equals(chapter) && told.figures().isEmpty())
                    .map(Told::words)
                    .filter(words -> !words.isEmpty())
                    .reduce((first, second) -> first + (first.endsWith(".") ? " " : ". ") + second)
                    .orElse(null);
        }

        /** The chapters a stranger reads, in order, with their words. */
        public List<Heading> headings() {
            return java.util.stream.Stream.of(
                            new Heading("Complaint", said("COMPLAINT")),
                            new Heading("Cause", said("CAUSE")),
                            new Heading("Correction", said("CORRECTION")),
                            new Heading("Proof", said("PROOF")))
                    .filter(heading -> heading.words() != null)
                    .toList();
        }
    }

    /** A chapter's name and what it says. */
    public record Heading(String name, @Nullable String words) {}

    /** One told thing of the story; without a title the words stand alone. */
    public record Told(String chapter, String title, String said, List<Knot.Figure> figures) {

        String words() {
            return said.isEmpty() ? title : title.isEmpty() ? said : title + ": " + said;
        }

        /** The name of the test, the same before and after the repair. */
        String test() {
            return title.replaceAll(", (after the repair|not finished)", "");
        }
    }

    public boolean creditNote() {
        return credits != null;
    }

    public Money owed() {
        return creditedBy != null || credits != null ? Money.zero(total.currency()) : total.minus(paid);
    }

    public String state() {
        if (credits != null) {
            return "credit note";
        }
        if (creditedBy != null) {
            return "credited";
        }
        return owed().isPositive() ? paid.isZero() ? "open" : "part paid" : "paid";
    }
}
