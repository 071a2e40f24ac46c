package idlewright.frame;

import static org.assertj.core.api.Assertions.assertThat;

import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import java.awt.color.ColorSpace;
import java.awt.color.ICC_Profile;
import java.io.ByteArrayOutputStream;
import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import javax.imageio.ImageIO;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.rendering.PDFRenderer;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

/** The sheet as the printer of the house lays it out; pages are left in {@code target/specimen} to be looked at. */
@DisplayName("A sheet of paper")
class PaperLookTest {

    private static final Path PAPER = Path.of("src", "main", "resources", "paper");

    @Test
    void numbersItsPagesRepeatsItsTableHeadsAndShowsEveryLetter() throws IOException {
        SpecimenTest.laysTheStyleSheetsBeside();
        Map<String, Object> model = new LinkedHashMap<>();
        String html = SpecimenTest.render("specimen/invoice", model)
                .replaceAll("<link [^>]*>", "")
                .replace("</head>", "<style>" + Files.readString(PAPER.resolve("paper.css")) + "</style></head>");
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        PdfRendererBuilder builder = new PdfRendererBuilder();
        builder.usePdfUaAccessibility(true);
        builder.usePdfAConformance(PdfRendererBuilder.PdfAConformance.PDFA_3_U);
        builder.useColorProfile(ICC_Profile.getInstance(ColorSpace.CS_sRGB).getData());
        font(builder, "AtkinsonHyperlegible-Regular.ttf", "Atkinson Hyperlegible", 400, FontStyle.NORMAL);
        font(builder, "AtkinsonHyperlegible-Italic.ttf", "Atkinson Hyperlegible", 400, FontStyle.ITALIC);
        font(builder, "AtkinsonHyperlegible-Bold.ttf", "Atkinson Hyperlegible", 700, FontStyle.NORMAL);
        font(builder, "DejaVuSans.ttf", "DejaVu Sans", 400, FontStyle.NORMAL);
        font(builder, "DejaVuSans-Bold.ttf", "DejaVu Sans", 700, FontStyle.NORMAL);
        builder.withHtmlContent(html, null);
        builder.toStream(out);
        builder.run();
        Files.write(Path.of("target", "specimen", "invoice.pdf"), out.toByteArray());
        try (PDDocument pdf = Loader.loadPDF(out.toByteArray())) {
            assertThat(pdf.getNumberOfPages()).isGreaterThan(1);
            for (int i = 0; i < pdf.getNumberOfPages(); i++) {
                ImageIO.write(
                        new PDFRenderer(pdf).renderImageWithDPI(i, 80),
                        "png",
                        new File("target/specimen/invoice-" + (i + 1) + ".png"));
                PDFTextStripper page = new PDFTextStripper();
                page.setStartPage(i + 1);
                page.setEndPage(i + 1);
                assertThat(page.getText(pdf))
                        .contains(
                                "page " + (i + 1) + " of " + pdf.getNumberOfPages(),
                                "Invoice 2026-0311",
                                "journal head 9f2c");
            }
            String text = new PDFTextStripper().getText(pdf);
            assertThat(text).contains("▲", "●", "◆", "○", "Łódź Ψ", "4,312.00");
            assertThat(text.split("Quantity", -1).length - 1).as("table heads").isGreaterThan(1);
        }
    }

    private static void font(PdfRendererBuilder builder, String file, String family, int weight, FontStyle style) {
        builder.useFont(PAPER.resolve("fonts").resolve(file).toFile(), family, weight, style, true);
    }
}
