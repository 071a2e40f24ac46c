package idlewright.billing;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.billing.EInvoiceXml.Billed;
import idlewright.billing.rules.Exemption;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.billing.rules.Prices;
import idlewright.billing.rules.Rounding;
import idlewright.billing.rules.Taxes;
import idlewright.frame.Paper.Attachment;
import idlewright.frame.TrialPaper;
import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.io.File;
import java.lang.reflect.Method;
import java.math.BigDecimal;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.ZoneOffset;
import java.util.List;
import org.apache.pdfbox.Loader;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.mustangproject.ZUGFeRD.TransactionCalculator;
import org.mustangproject.ZUGFeRD.ZUGFeRDInvoiceImporter;
import org.mustangproject.validator.ZUGFeRDValidator;

/** Judged by the validator of the Mustang project, which holds the norm's own rules (EN 16931 schematron) and schemas. */
@DisplayName("An electronic invoice")
class EInvoiceTest {

    private static final EInvoices.SetUp SHOP = new EInvoices.SetUp(
            true, "IE", "IE1234567T", "", "desk@finchlane.example", "", "Not taxed by the law of the place", 0);
    private static final Money NONE = Money.of("0.00", "EUR");
    private static final List<Line> LINES = List.of(
            SampleInvoice.line(1, LineKind.LABOUR, "Air-flow sensor replaced & checked", "1.25", "110.00"),
            SampleInvoice.line(1, LineKind.PART, "Air-flow sensor", "1", "189.90"),
            SampleInvoice.line(1, LineKind.PART, "Clamp", "3", "1.15"));
    private static final List<Line> LESS = List.of(
            LINES.get(0), LINES.get(1), SampleInvoice.line(1, LineKind.DISCOUNT_PARTS, "Autumn offer", "1", "-19.00"));

    @Test
    void passesTheNormWithSeveralRatesAndTravelsInPaperThatPassesItsOwn() throws Exception {
        InvoiceView invoice = invoice(LINES, SampleInvoice.TAXES, NONE, null);
        byte[] xml = xml(invoice, SampleInvoice.TAXES);
        byte[] pdf = TrialPaper.paper()
                .pdf("billing/paper", SampleInvoice.model(invoice, "A4"), List.of(Attachment.eInvoice(xml)));
        Files.createDirectories(Path.of("target/specimen"));
        Files.write(Path.of("target/specimen/invoice-electronic.pdf"), pdf);
        assertValid(pdf, "invoice.pdf");
        assertThat(TrialPaper.failures(pdf)).isEmpty();
        try (var document = Loader.loadPDF(pdf)) {
            var file = document.getDocumentCatalog()
                    .getNames()
                    .getEmbeddedFiles()
                    .getNames()
                    .get("factur-x.xml");
            assertThat(file.getEmbeddedFile().toByteArray()).isEqualTo(xml);
        }
        assertThat(new String(xml, StandardCharsets.UTF_8))
                .contains("<ram:GrandTotalAmount>393.88</ram:GrandTotalAmount>")
                .contains("replaced &amp; checked");
    }

    @Test
    void passesTheNormForACustomerWhoPaysNoTaxAndSaysWhy() throws Exception {
        Taxes none = SampleInvoice.TAXES.without(new Exemption("EX 12", "Public school"));
        byte[] xml = xml(invoice(LINES, none, NONE, null), none);
        assertValid(xml, "exempt.xml");
        assertThat(new String(xml, StandardCharsets.UTF_8)).contains("No tax: Public school, number EX 12.");
    }

    @Test
    void passesTheNormWithADiscountAndADeposit() throws Exception {
        byte[] xml = xml(invoice(LESS, SampleInvoice.TAXES, Money.of("50.00", "EUR"), null), SampleInvoice.TAXES);
        assertValid(xml, "discount.xml");
        assertThat(new String(xml, StandardCharsets.UTF_8))
                .contains("<ram:TotalPrepaidAmount>50.00</ram:TotalPrepaidAmount>");
    }

    @Test
    void passesTheNormAsACreditNoteNamingTheInvoice() throws Exception {
        var back = LESS.stream()
                .map(l -> new Line(
                        l.place(), l.kind(), l.what(), l.quantity(), l.each().negate(), l.partNumber()))
                .toList();
        byte[] xml = xml(invoice(back, SampleInvoice.TAXES, NONE, "A-00041"), SampleInvoice.TAXES);
        assertValid(xml, "credit.xml");
        assertThat(new String(xml, StandardCharsets.UTF_8))
                .contains("<ram:TypeCode>381</ram:TypeCode>", "<ram:IssuerAssignedID>A-00041</ram:IssuerAssignedID>");
    }

    @Test
    void passesTheNormWherePricesHoldTheTaxAndSomeLinesHaveNone() throws Exception {
        Taxes within = new Taxes(
                "VAT",
                new TaxRate(new BigDecimal("13.5")),
                new TaxRate(new BigDecimal("23")),
                TaxRate.NONE,
                new TaxRate(new BigDecimal("13.5")),
                Prices.WITH_TAX,
                Rounding.INVOICE,
                null);
        var lines = List.of(
                LESS.get(0), LESS.get(1), LESS.get(2), SampleInvoice.line(1, LineKind.FEE, "Disposal", "1", "3.33"));
        assertValid(xml(invoice(lines, within, NONE, null), within), "within.xml");
        Taxes exempt = within.without(new Exemption("EX 12", "Public school"));
        assertValid(xml(invoice(lines, exempt, NONE, null), exempt), "within-exempt.xml");
    }

    @Test
    void keepsRatesOfThreeDecimals() throws Exception {
        Taxes fine = new Taxes(
                "Sales tax",
                new TaxRate(new BigDecimal("8.875")),
                new TaxRate(new BigDecimal("8.875")),
                new TaxRate(new BigDecimal("8.875")),
                new TaxRate(new BigDecimal("8.875")),
                Prices.BEFORE_TAX,
                Rounding.LINE,
                null);
        byte[] xml = xml(invoice(LINES, fine, NONE, null), fine);
        assertValid(xml, "fine.xml");
        assertThat(new String(xml, StandardCharsets.UTF_8))
                .contains("<ram:RateApplicablePercent>8.875</ram:RateApplicablePercent>");
    }

    @Test
    @DisplayName("is read by the library's own reader with the sums of the paper")
    void isReadByTheLibrarysOwnReader() throws Exception {
        InvoiceView invoice = invoice(LESS, SampleInvoice.TAXES, Money.of("50.00", "EUR"), null);
        var reader = new ZUGFeRDInvoiceImporter();
        reader.fromXML(new String(xml(invoice, SampleInvoice.TAXES), StandardCharsets.UTF_8));
        var sums = new TransactionCalculator(reader.extractInvoice());
        assertThat(sums.getGrandTotal()).isEqualByComparingTo(invoice.total().amount());
        assertThat(sums.getDuePayable()).isEqualByComparingTo(invoice.toPay().amount());
    }

    @Test
    @DisplayName("is written without what the packaged app leaves out of the library")
    void isWrittenWithoutWhatIsLeftOut() throws Exception {
        var leftOut = List.of(
                "com.fasterxml.jackson.databind.", "org.apache.fop.", "org.apache.pdfbox.preflight.", "com.helger.");
        var parts = System.getProperty("java.class.path").split(File.pathSeparator);
        var urls = new URL[parts.length];
        for (int i = 0; i < parts.length; i++) {
            urls[i] = Path.of(parts[i]).toUri().toURL();
        }
        try (var packaged = new URLClassLoader(urls, ClassLoader.getPlatformClassLoader()) {
            @Override
            protected Class<?> findClass(String name) throws ClassNotFoundException {
                if (leftOut.stream().anyMatch(name::startsWith)) {
                    throw new ClassNotFoundException(name);
                }
                return super.findClass(name);
            }
        }) {
            Thread.currentThread().setContextClassLoader(packaged);
            Method sample =
                    packaged.loadClass(EInvoiceTest.Alone.class.getName()).getDeclaredMethod("sample");
            sample.setAccessible(true);
            assertThat((String) sample.invoke(null)).contains("<ram:GrandTotalAmount>393.88</ram:GrandTotalAmount>");
        } finally {
            Thread.currentThread().setContextClassLoader(getClass().getClassLoader());
        }
    }

    /** Known to no test library, so that it loads where there is none. */
    static final class Alone {
        static String sample() {
            Taxes taxes = SampleInvoice.TAXES;
            return new String(xml(invoice(LINES, taxes, NONE, null), taxes), StandardCharsets.UTF_8);
        }
    }

    private static InvoiceView invoice(List<Line> lines, Taxes taxes, Money deposit, String credits) {
        return SampleInvoice.invoice(
                "Grand Row Bakery",
                "4 Grand Row\nTallow Bridge",
                List.of(SampleInvoice.part(1, "Hesitates", credits == null ? SampleInvoice.story() : List.of(), lines)),
                credits,
                taxes,
                deposit);
    }

    private static byte[] xml(InvoiceView invoice, Taxes taxes) {
        var billed = invoice.parts().stream()
                .flatMap(part -> part.lines().stream())
                .map(line -> new Billed(line, taxes.listed(line.kind())))
                .toList();
        return EInvoiceXml.of(invoice, billed, SHOP, ZoneOffset.UTC).getBytes(StandardCharsets.UTF_8);
    }

    private static void assertValid(byte[] file, String name) {
        var judge = new ZUGFeRDValidator();
        String report = judge.validate(file, name);
        assertThat(judge.wasCompletelyValid()).as(report).isTrue();
    }
}
