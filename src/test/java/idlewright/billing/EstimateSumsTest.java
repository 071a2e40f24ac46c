package idlewright.billing;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.billing.EstimateView.Group;
import idlewright.billing.EstimateView.Told;
import idlewright.billing.EstimateView.Written;
import idlewright.billing.rules.Exemption;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.billing.rules.Prices;
import idlewright.billing.rules.Rounding;
import idlewright.billing.rules.Standing;
import idlewright.billing.rules.Taxes;
import idlewright.billing.rules.Total;
import idlewright.frame.TrialPaper;
import idlewright.intake.CustomerView;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.TicketView.Distance;
import idlewright.intake.VehicleView;
import idlewright.intake.rules.Move;
import idlewright.intake.rules.Whose;
import idlewright.reference.money.TaxRate;
import java.math.BigDecimal;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Currency;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.text.PDFTextStripper;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

@DisplayName("An estimate calls its sums what they are")
class EstimateSumsTest {

    private static final Currency EUR = Currency.getInstance("EUR");
    private static final Instant NOON = TrialPaper.NOON.instant();
    private static final Exemption SCHOOL = new Exemption("EX-4417", "public school");

    /** 2 h at 110.00 and a part of 189.90: 409.90 as they are priced. */
    private static final List<Line> LINES = List.of(
            SampleInvoice.line(1, LineKind.LABOUR, "Air-flow sensor replaced", "2", "110.00"),
            SampleInvoice.line(1, LineKind.PART, "Air-flow sensor", "1", "189.90"));

    @Test
    void addsTaxBelowPricesWithoutIt() throws Exception {
        // By hand: 220.00 at 13.5 % is 29.70, 189.90 at 23 % is 43.677; 409.90 and both are 483.28.
        String text = text(print("before-tax", LINES, taxes(Prices.BEFORE_TAX, null), "Grand Row Bakery", "A4"));
        assertThat(text)
                .contains(
                        "With VAT 483.28",
                        "Before tax 409.90",
                        "VAT 13.5 % on 220.00 29.70",
                        "VAT 23 % on 189.90 43.68")
                .contains("Total 483.28 EUR")
                .doesNotContain("within", "left off", "Together");
    }

    @Test
    void tellsTheTaxWithinPricesThatHoldIt() throws Exception {
        // By hand: 220.00 hold 26.167 at 13.5 %, 189.90 hold 35.510 at 23 %.
        String text = text(print("with-tax", LINES, taxes(Prices.WITH_TAX, null), "Grand Row Bakery", "LETTER"));
        assertThat(text)
                .contains("Together, VAT within 409.90", "Total 409.90 EUR")
                .contains("VAT 13.5 % within, on 193.83 26.17", "VAT 23 % within, on 154.39 35.51")
                .doesNotContain("Before tax", "With VAT", "left off");
    }

    @Test
    void leavesTheTaxOffForWhoPaysNone() throws Exception {
        String text = text(print("exempt-with-tax", LINES, taxes(Prices.WITH_TAX, SCHOOL), "Lane School", "A4"));
        assertThat(text)
                .contains("Together, VAT left off 348.22", "With VAT 409.90", "VAT 13.5 % left off -26.17")
                .contains("Total 348.22 EUR", "No tax: public school, number EX-4417.")
                .doesNotContain("Before tax", "within");
    }

    @Test
    void saysOneSumWhereNoTaxIsOnIt() throws Exception {
        String text = text(print("exempt", LINES, taxes(Prices.BEFORE_TAX, SCHOOL), "Lane School", "A4"));
        assertThat(text)
                .contains("Together 409.90", "Total 409.90 EUR", "No tax: public school, number EX-4417.")
                .doesNotContain("Before tax", "With VAT", "left off", "within");
    }

    @Test
    void keepsSixtyLinesAndLongWordsOnThePaperAndPassesTheStandards() throws Exception {
        String longest = "Donaudampfschifffahrtsgesellschaftskapitaenswitwenrentenstel".repeat(2);
        var lines = IntStream.rangeClosed(1, 60)
                .mapToObj(i -> SampleInvoice.line(
                        i % 3,
                        LineKind.PART,
                        i % 7 == 0 ? longest : "Seal " + i,
                        "1",
                        i % 11 == 0 ? "1234567.89" : "4.20"))
                .toList();
        byte[] pdf = print("sixty", lines, taxes(Prices.WITH_TAX, null), longest, "LETTER");
        assertThat(text(pdf)).contains("Seal 59", "1,234,567.89", "page 3 of ");
        assertThat(TrialPaper.failures(pdf)).isEmpty();
    }

    private static Taxes taxes(Prices prices, @Nullable Exemption exemption) {
        TaxRate work = TaxRate.of("13.5");
        TaxRate parts = TaxRate.of("23");
        return new Taxes("VAT", work, parts, parts, work, prices, Rounding.INVOICE, exemption);
    }

    private static byte[] print(String name, List<Line> lines, Taxes taxes, String customer, String sheet)
            throws Exception {
        byte[] pdf = TrialPaper.paper().pdf("billing/paper-estimate", model(lines, taxes, customer, sheet), List.of());
        Files.createDirectories(Path.of("target/specimen"));
        Files.write(Path.of("target/specimen/estimate-" + name + ".pdf"), pdf);
        return pdf;
    }

    static Map<String, Object> model(List<Line> lines, Taxes taxes, String customer, String sheet) {
        var groups = lines.stream().map(Line::place).distinct().sorted().map(place -> {
            var its = lines.stream().filter(line -> line.place() == place).toList();
            return new Group(
                    place,
                    its.stream().map(line -> new Written(1, line, false)).toList(),
                    Total.of(its, taxes, EUR),
                    Standing.OPEN,
                    null);
        });
        var told = groups.map(group -> new Told(
                        group,
                        group.place() == 0 ? "For the whole visit" : "Hesitates " + group.place(),
                        "Flat when I put my foot down, worse with a load on.",
                        "Air-flow sensor reads too low",
                        List.of("Air flow at 2,500 rpm: 9.22 g/s, outside, low (known good, 34 cars of this shop)"),
                        List.of()))
                .toList();
        var estimate = new EstimateView(
                7,
                new TicketNumber(1042),
                2,
                NOON,
                "Wren",
                NOON,
                "by phone",
                "The part comes in two days.",
                told.stream().flatMap(t -> t.group().lines().stream()).toList(),
                told.stream().map(Told::group).toList(),
                List.of(),
                Total.of(lines, taxes, EUR),
                true);
        var model = new HashMap<String, Object>();
        model.put("estimate", estimate);
        model.put("told", told);
        model.put("ticket", ticket(customer));
        model.put("taxes", taxes);
        model.put("card", Map.of("foot", "Twelve months on parts and work."));
        model.put("consent", "I agree to the work and parts named here, up to the total above.");
        model.put("shop", SampleInvoice.SHOP);
        model.put("sheet", sheet);
        model.put("author", SampleInvoice.SHOP.name());
        return model;
    }

    private static TicketView ticket(String customer) {
        return new TicketView(
                new TicketNumber(1042),
                new CustomerView(
                        1, customer, "555 0142", null, "4 Grand Row\nTallow Bridge", "PHONE", null, false, null, 0),
                new VehicleView(
                        1,
                        1,
                        "1HGCM82633A004352",
                        "KL 204",
                        "Brightwater",
                        "Finch",
                        2014,
                        null,
                        null,
                        4,
                        4,
                        "PETROL",
                        "NATURAL",
                        "HOT_FILM",
                        "MANUAL",
                        "km",
                        0),
                null,
                NOON,
                "Wren",
                "GIVE_BACK",
                "YES",
                null,
                new Distance(new BigDecimal("86940"), "km", NOON, null),
                null,
                null,
                List.of(),
                List.of(),
                List.of(),
                new Move(Whose.CUSTOMER, "Answer", NOON, 0, false),
                0);
    }

    private static String text(byte[] pdf) throws Exception {
        try (var document = Loader.loadPDF(pdf)) {
            var stripper = new PDFTextStripper();
            stripper.setSortByPosition(true);
            return stripper.getText(document).replace('\u00a0', ' ').replaceAll(" +", " ");
        }
    }
}
