package idlewright.billing;

import idlewright.billing.rules.Exemption;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.Prices;
import idlewright.billing.rules.Rounding;
import idlewright.intake.Knot;
import idlewright.intake.TicketNumber;
import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * An invoice or credit note as it was issued; nothing in it changes any more.
 *
 * @param whole a credit note that alone takes back every line of its invoice
 */
public record InvoiceView(
        String number,
        TicketNumber ticket,
        @Nullable String credits,
        List<CreditNote> creditedBy,
        boolean whole,
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
        Terms terms,
        List<Part> parts) {

    /** What the paper says about the shop, its tax and its conditions, as it stood when it was issued. */
    public record Terms(
            String taxName,
            Prices prices,
            Rounding rounding,
            @Nullable Exemption exemption,
            Seller seller,
            String foot,
            Money deposit) {

        public boolean withTax() {
            return prices == Prices.WITH_TAX;
        }
    }

    /** The shop as it stands on the paper. */
    public record Seller(String name, String address, String phone, String taxNumber) {}

    /** What took the invoice back, or a part of it; the total is above zero. */
    public record CreditNote(String number, Money total, String reason, Instant issuedAt) {}

    /** The tax of one rate; left off is the tax that prices held and an exempt customer does not pay. */
    public record TaxLine(TaxRate rate, Money net, Money tax, Money leftOff) {}

    /** What the lines come to as they are priced. */
    public Money linesSum() {
        return Money.sum(parts.stream().map(Part::net).toList(), total.currency());
    }

    /** What was left to pay when it was issued. */
    public Money toPay() {
        return total.minus(terms.deposit());
    }

    /** One symptom (or the whole visit, place 0): its story and its lines. */
    public record Part(int place, String heading, List<Told> story, List<Line> lines, Money net) {

        public @Nullable String said(String chapter) {
            return story.stream()
                    .filter(told ->
                            told.chapter().equals(chapter) && told.figures().isEmpty())
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
        return credits != null || creditedInFull() ? Money.zero(total.currency()) : left().minus(paid);
    }

    public String state() {
        if (credits != null) {
            return "credit note";
        }
        return state(!creditedBy.isEmpty(), left(), paid, owed());
    }

    /** The word for an invoice of which so much is left after its credit notes. */
    static String state(boolean credited, Money left, Money paid, Money owed) {
        if (credited && left.isZero()) {
            return "credited";
        }
        return owed.isPositive() ? paid.isZero() ? "open" : "part paid" : "paid";
    }

    /** What all credit notes on it come to. */
    public Money credited() {
        return Money.sum(creditedBy.stream().map(CreditNote::total).toList(), total.currency());
    }

    /** What it comes to after its credit notes. */
    public Money left() {
        return total.minus(credited());
    }

    public boolean creditedInFull() {
        return !creditedBy.isEmpty() && left().isZero();
    }

    public boolean creditedInPart() {
        return !creditedBy.isEmpty() && !left().isZero();
    }
}
