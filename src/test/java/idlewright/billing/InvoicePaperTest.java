package idlewright.billing;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.billing.rules.LineKind;
import idlewright.frame.Paper;
import idlewright.frame.TrialPaper;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.IntStream;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

@DisplayName("An invoice on paper")
class InvoicePaperTest {

    private static final Paper PAPER = TrialPaper.paper();

    @Test
    void tellsAProvedComplaintOnOnePageAndPassesTheStandardsByTheJudgementOfVeraPdf() throws Exception {
        byte[] pdf = print("usual", SampleInvoice.usual(3), "A4");
        try (var document = Loader.loadPDF(pdf)) {
            assertThat(document.getNumberOfPages()).isEqualTo(1);
            assertThat(text(pdf))
                    .contains("Finch Lane Motors", "To pay", "23 Nov 2026")
                    .contains("Flat when I put my foot down", "9.22 g/s", "11.47 g/s", "outside, low", "within")
                    .contains("old parts go back to the customer", "Bank of Tallow Bridge", "SHA256:ab12")
                    .doesNotContain("Intake air");
        }
        assertThat(TrialPaper.failures(pdf)).isEmpty();
    }

    @Test
    void passesTheStandardsAsACreditNoteOnLetter() throws Exception {
        var lines = List.of(SampleInvoice.line(1, LineKind.LABOUR, "Air-flow sensor replaced", "1", "-110.00"));
        byte[] pdf = print(
                "credit",
                SampleInvoice.invoice(
                        "Grand Row Bakery",
                        null,
                        List.of(SampleInvoice.part(1, "Hesitates", List.of(), lines)),
                        "A-00041"),
                "LETTER");
        assertThat(text(pdf)).contains("Credit note", "Given back", "124.85 EUR", "Takes back invoice A-00041");
        assertThat(TrialPaper.failures(pdf)).isEmpty();
    }

    @Test
    void tellsReadingsOnceThatBearOnTwoComplaints() throws Exception {
        String text = text(print(
                "two",
                SampleInvoice.invoice(
                        "Grand Row Bakery",
                        "4 Grand Row",
                        List.of(SampleInvoice.part(1, "Hesitates", 2), SampleInvoice.part(2, "Drinks fuel", 1)),
                        null),
                "A4"));
        assertThat(text.split("9.22 g/s", -1)).hasSize(2);
        assertThat(text).contains("Readings that bear on this: see above under Hesitates.");
    }

    @Test
    void repeatsItsHeadingsAndKeepsItsSumWholeOverSixtyLines() throws Exception {
        byte[] pdf = print("sixty", SampleInvoice.usual(60), "A4");
        try (var document = Loader.loadPDF(pdf)) {
            int pages = document.getNumberOfPages();
            assertThat(pages).isBetween(3, 4);
            var stripper = new PDFTextStripper();
            for (int page = 1; page <= pages; page++) {
                stripper.setStartPage(page);
                stripper.setEndPage(page);
                String text = stripper.getText(document);
                assertThat(text).contains("page " + page + " of " + pages);
                if (text.contains("step ")) {
                    assertThat(text).contains("Work and parts");
                }
                if (page == pages) {
                    assertThat(text).contains("Before tax", "Please pay");
                }
            }
        }
    }

    @Test
    void printsLongNamesAndEveryAlphabetWithoutLosingALetterOrThePaper() throws Exception {
        String name = "Ευθυμία Παπαδοπούλου & Щербаков, Łódź-Çelik Straßenbau GmbH ".repeat(2) + "車 أهلا 🚗";
        String long60 = "Donaudampfschifffahrtsgesellschaftskapitaenswitwenrentenstel".repeat(2);
        var lines = IntStream.range(0, 6)
                .mapToObj(i -> SampleInvoice.line(
                        1, LineKind.PART, i % 2 == 0 ? long60 : "Zündkerze şğı ąęół", "1", "1234567.89"))
                .toList();
        byte[] pdf = print(
                "letters",
                SampleInvoice.invoice(
                        name, long60, List.of(SampleInvoice.part(1, name, SampleInvoice.story(), lines)), null),
                "A4");
        assertThat(text(pdf).replaceAll("\\s+", " "))
                .contains("Ευθυμία", "Щербаков", "Łódź-Çelik", "Straßenbau", "şğı ąęół", "1,234,567.89")
                .contains("\u25a1");
        assertThat(TrialPaper.failures(pdf)).isEmpty();
    }

    @Test
    void printsAnInvoiceOverNothing() throws Exception {
        byte[] pdf = print("nothing", SampleInvoice.invoice("Grand Row Bakery", null, List.of(), null), "LETTER");
        assertThat(text(pdf)).contains("Nothing to pay", "0.00 EUR").doesNotContain("Please pay");
    }

    private static byte[] print(String name, InvoiceView invoice, String sheet) throws Exception {
        byte[] pdf = PAPER.pdf("billing/paper", SampleInvoice.model(invoice, sheet), List.of());
        Files.createDirectories(Path.of("target/specimen"));
        Files.write(Path.of("target/specimen/invoice-" + name + ".pdf"), pdf);
        return pdf;
    }

    private static String text(byte[] pdf) throws Exception {
        try (var document = Loader.loadPDF(pdf)) {
            return new PDFTextStripper().getText(document).replace('\u00a0', ' ');
        }
    }
}
