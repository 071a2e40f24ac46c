package idlewright.billing;

import idlewright.billing.InvoiceView.Part;
import idlewright.billing.InvoiceView.Seller;
import idlewright.billing.InvoiceView.TaxLine;
import idlewright.billing.InvoiceView.Terms;
import idlewright.billing.InvoiceView.Told;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.billing.rules.Taxes;
import idlewright.billing.rules.Total;
import idlewright.intake.Knot.Figure;
import idlewright.intake.Knot.Scale;
import idlewright.intake.TicketNumber;
import idlewright.people.Shop;
import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Currency;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;

/** Invoices made by hand, so that hard cases can be printed without a shop. */
public final class SampleInvoice {

    public static final Shop SHOP = new Shop(
            "Finch Lane Motors",
            "4 Finch Lane\nTallow Bridge TB4 2LY",
            "555 0100",
            "desk@finchlane.example",
            "TB 55 0100 42",
            Currency.getInstance("EUR"),
            ZoneId.of("UTC"),
            true,
            Locale.ENGLISH);

    public static final Taxes TAXES =
            new Taxes("VAT", new TaxRate(new BigDecimal("13.5")), new TaxRate(new BigDecimal("23")));

    private SampleInvoice() {}

    /** One complaint, proved, with so many lines. */
    public static InvoiceView usual(int lines) {
        return invoice("Grand Row Bakery", "4 Grand Row\nTallow Bridge", List.of(part(1, "Hesitates", lines)), null);
    }

    public static Part part(int place, String heading, int lines) {
        var its = IntStream.rangeClosed(1, lines)
                .mapToObj(i -> i % 2 == 1
                        ? line(place, LineKind.LABOUR, "Air-flow sensor replaced, step " + i, "0.5", "110.00")
                        : line(place, LineKind.PART, "Air-flow sensor " + i, "1", "189.90"))
                .toList();
        return part(place, heading, story(), its);
    }

    public static Part part(int place, String heading, List<Told> story, List<Line> lines) {
        return new Part(
                place,
                heading,
                story,
                lines,
                Money.sum(lines.stream().map(Line::net).toList(), Currency.getInstance("EUR")));
    }

    public static List<Told> story() {
        return List.of(
                new Told("COMPLAINT", "Flat when I put my foot down, worse with a load on.", "", List.of()),
                new Told(
                        "TEST",
                        "Mass air flow, live data",
                        "",
                        List.of(
                                figure("Air flow at idle", "2.86 g/s", "outside, low", false, 2.989, 3.475, 2.86),
                                figure("Air flow at 2,500 rpm", "9.22 g/s", "outside, low", false, 11.1, 12.88, 9.22),
                                figure("Intake air", "21 °C", "within", false, 10.0, 40.0, 21),
                                new Figure("Air-flow sensor", "element dirty", "not in order", "", false, null))),
                new Told("CAUSE", "Air-flow sensor reads too low", "oil on the film. It reports less air.", List.of()),
                new Told("CORRECTION", "", "New part MV-4471-B by Corrin; old part back to the customer.", List.of()),
                new Told("CORRECTION", "", "Air-flow sensor replaced.", List.of()),
                new Told(
                        "PROOF",
                        "Mass air flow, live data, after the repair",
                        "",
                        List.of(
                                figure("Air flow at idle", "3.03 g/s", "within", true, 2.989, 3.475, 3.03),
                                figure("Air flow at 2,500 rpm", "11.47 g/s", "within", true, 11.1, 12.88, 11.47),
                                figure("Intake air", "22 °C", "within", true, 10.0, 40.0, 22),
                                new Figure("Air-flow sensor", "clean", "in order", "", true, null))),
                new Told("PROOF", "", "The same tests find in order what was not: 3 readings.", List.of()));
    }

    public static Figure figure(
            String label, String shown, String verdict, boolean after, Double low, Double high, double value) {
        return new Figure(
                label,
                shown,
                verdict,
                "%s to %s: known good, 34 cars of this shop".formatted(low, high),
                after,
                new Scale(low, high, value));
    }

    public static Line line(int place, LineKind kind, String what, String quantity, String each) {
        return new Line(
                place,
                kind,
                what,
                new BigDecimal(quantity),
                Money.of(each, "EUR"),
                kind == LineKind.PART ? "MV-4471-B" : null);
    }

    public static InvoiceView invoice(
            String customer, @Nullable String address, List<Part> parts, @Nullable String credits) {
        return invoice(customer, address, parts, credits, TAXES, Money.zero(Currency.getInstance("EUR")));
    }

    public static InvoiceView invoice(
            String customer,
            @Nullable String address,
            List<Part> parts,
            @Nullable String credits,
            Taxes taxes,
            Money deposit) {
        var lines = parts.stream().flatMap(part -> part.lines().stream()).toList();
        var total = Total.of(lines, taxes, Currency.getInstance("EUR"));
        return new InvoiceView(
                "A-00042",
                new TicketNumber(1042),
                credits,
                List.of(),
                true,
                credits == null ? null : "It was the wrong customer.",
                Instant.parse("2026-11-09T09:00:00Z"),
                "Wren",
                LocalDate.of(2026, 11, 23),
                total.net(),
                total.taxes().stream()
                        .map(tax -> new TaxLine(tax.rate(), tax.net(), tax.tax(), tax.leftOff()))
                        .toList(),
                total.tax(),
                total.gross(),
                Money.zero(Currency.getInstance("EUR")),
                customer,
                address,
                "Brightwater Finch 2014, KL 204, VIN 1HGCM82633A004352",
                "86,940 km",
                "5f".repeat(32),
                new Terms(
                        taxes.name(),
                        taxes.prices(),
                        taxes.rounding(),
                        taxes.exemption(),
                        new Seller(SHOP.name(), SHOP.address(), SHOP.phone(), SHOP.taxNumber()),
                        "Twelve months on parts and work.\nBank of Tallow Bridge, account 555 0100 42",
                        deposit),
                new ArrayList<>(parts));
    }

    public static Map<String, Object> model(InvoiceView invoice, String sheet) {
        var model = new HashMap<String, Object>();
        model.put("invoice", invoice);
        model.put("readings", BeforeAfter.of(invoice.parts()));
        model.put(
                "besides",
                new InvoiceBesides.Besides(
                        "old parts go back to the customer", "SHA256:" + "ab12".repeat(10), SHOP.email(), false));
        model.put("shop", SHOP);
        model.put("promises", List.of("Parts fitted: 24 months or 40,000 km.", "Work: 12 months."));
        model.put("sheet", sheet);
        model.put("author", SHOP.name());
        return model;
    }
}
