package idlewright.frame;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import com.sun.net.httpserver.HttpServer;
import idlewright.frame.Paper.Attachment;
import idlewright.frame.rules.Qr;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.pdfbox.text.TextPosition;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.context.support.GenericApplicationContext;
import org.thymeleaf.spring6.SpringTemplateEngine;
import org.thymeleaf.templateresolver.ClassLoaderTemplateResolver;
import org.verapdf.gf.foundry.VeraGreenfieldFoundryProvider;
import org.verapdf.pdfa.Foundries;
import org.verapdf.pdfa.flavours.PDFAFlavour;
import org.verapdf.pdfa.results.TestAssertion;

@DisplayName("Paper")
class PaperTest {

    private static final Attachment READINGS = new Attachment(
            "readings.csv", "text/csv", "rpm,g/s\n750,4.1\n".getBytes(StandardCharsets.UTF_8), "The readings");

    private static final Clock NOON = Clock.fixed(Instant.parse("2026-11-09T12:00:00Z"), ZoneOffset.UTC);

    private final Paper paper = paper();

    @BeforeAll
    static void callTheJudge() {
        VeraGreenfieldFoundryProvider.initialise();
    }

    @ParameterizedTest(name = "passes {0} with a file attached, by the judgement of veraPDF")
    @EnumSource(
            value = PDFAFlavour.class,
            names = {"PDFA_3_U", "PDFUA_1"})
    void passesTheStandard(PDFAFlavour standard) throws Exception {
        assertThat(failures(letter("A4", List.of(READINGS)), standard)).isEmpty();
    }

    @ParameterizedTest(name = "passes {0} with nothing attached")
    @EnumSource(
            value = PDFAFlavour.class,
            names = {"PDFA_3_U", "PDFUA_1"})
    void passesTheStandardWithoutAttachment(PDFAFlavour standard) throws Exception {
        assertThat(failures(letter("LETTER", List.of()), standard)).isEmpty();
    }

    @Test
    void saysWhatWasPutIn() throws Exception {
        try (var document = Loader.loadPDF(letter("A4", List.of()))) {
            var text = new PDFTextStripper().getText(document);
            assertThat(text)
                    .contains(
                            "Invoice 17", "Grüße, Łódź", "4.1 g/s → 11.9 g/s, Δ 7.8 ± 0.2 Ω", "9 Nov 2026", "Line 60");
            assertThat(document.getNumberOfPages()).isGreaterThan(1);
            assertThat(document.getDocumentInformation().getTitle()).isEqualTo("Invoice 17");
        }
    }

    @Test
    void numbersItsPagesAndRepeatsItsFoot() throws Exception {
        try (var document = Loader.loadPDF(letter("A4", List.of()))) {
            for (int page = 1; page <= document.getNumberOfPages(); page++) {
                var stripper = new PDFTextStripper();
                stripper.setStartPage(page);
                stripper.setEndPage(page);
                assertThat(stripper.getText(document))
                        .contains("Finch Lane Motors, 4 Finch Lane")
                        .containsIgnoringCase("page " + page + " of " + document.getNumberOfPages());
            }
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"A4", "LETTER"})
    void fitsTheSheetInThePrinter(String sheet) throws Exception {
        try (var document = Loader.loadPDF(letter(sheet, List.of()))) {
            var box = document.getPage(0).getMediaBox();
            // ISO 216: 210 x 297 mm; US Letter: 8.5 x 11 in
            assertThat(Math.round(box.getWidth())).isEqualTo(sheet.equals("A4") ? 595 : 612);
            assertThat(Math.round(box.getHeight())).isEqualTo(sheet.equals("A4") ? 842 : 792);
        }
    }

    @Test
    void carriesTheAttachedFileByteForByte() throws Exception {
        try (var document = Loader.loadPDF(letter("A4", List.of(READINGS)))) {
            var file = attached(document).get("readings.csv");
            assertThat(file.getEmbeddedFile().toByteArray()).isEqualTo(READINGS.bytes());
            assertThat(file.getEmbeddedFile().getSubtype()).isEqualTo("text/csv");
            assertThat(file.getFileDescription()).isEqualTo("The readings");
        }
    }

    @Test
    void refusesTwoAttachmentsOfOneName() {
        assertThatIllegalArgumentException().isThrownBy(() -> letter("A4", List.of(READINGS, READINGS)));
    }

    @ParameterizedTest(name = "prints and passes both standards: {0}")
    @ValueSource(
            strings = {
                "\ud83d\ude97 smoke \ud83d\udca8",
                "\u8f66 \u0623\u0647\u0644\u0627 \u05e9\u05dc\u05d5\u05dd",
                "bell\u0007 null\u0000 half\ud83d end",
                "soft\u00adhyphen zero\u200bwidth \u202eright-to-left",
                "<script>alert(1)</script> &amp; ]]>"
            })
    void printsWhateverSomebodyTyped(String words) throws Exception {
        var model = model("A4");
        model.put("words", words);
        var pdf = paper.pdf("specimen/letter", model, List.of());
        assertThat(failures(pdf, PDFAFlavour.PDFA_3_U)).isEmpty();
        assertThat(failures(pdf, PDFAFlavour.PDFUA_1)).isEmpty();
    }

    @Test
    void keepsWordsFromTheRightInTheirOrder() throws Exception {
        var model = model("A4");
        model.put("words", "تهتز السيارة بعد 2,500 rpm");
        var pdf = paper.pdf("specimen/letter", model, List.of());
        // By Unicode's chart of Arabic Presentation Forms-B: teh initial, heh and teh medial, zain final; the first
        // word
        // stands last.
        assertThat(seen(pdf)).contains("rpm 2,500 ").contains("\ufeb0\ufe98\ufeec\ufe97\n");
        assertThat(lines(pdf)).contains("تهتز السيارة بعد");
        model.put("words", "Part: הרכב 12 מגמגם (ABC)");
        assertThat(seen(paper.pdf("specimen/letter", model, List.of()))).contains("Part: םגמגמ 12 בכרה (ABC)");
        assertThat(failures(pdf, PDFAFlavour.PDFA_3_U)).isEmpty();
        assertThat(failures(pdf, PDFAFlavour.PDFUA_1)).isEmpty();
    }

    @Test
    void drawsLettersWithTheTypefaceThatTheShopAddedAndNamesThoseThatNoneHas(@TempDir Path home) throws Exception {
        // A few letters of Droid Sans Fallback (Apache License 2.0), cut with fontTools.
        Files.createDirectories(home.resolve("fonts"));
        try (var font = Objects.requireNonNull(PaperTest.class.getResourceAsStream("/fonts/few-cjk-letters.ttf"))) {
            Files.copy(font, home.resolve("fonts/few.ttf"));
        }
        Files.writeString(home.resolve("fonts/broken.ttf"), "no font at all");
        Files.writeString(home.resolve("fonts/README.txt"), "from the copy shop");
        var typefaces = new Typefaces(home);
        var model = model("A4");
        model.put("words", "東京都 自動車 ❤️ 🚗");
        var pdf = paper(typefaces).pdf("specimen/letter", model, List.of());
        assertThat(lines(pdf)).contains("東京都 自動車 ❤").contains("\u25a1");
        assertThat(typefaces.addedNames()).containsExactly("few.ttf");
        assertThat(typefaces.missing()).containsExactly("🚗 (U+1F697, automobile)");
        assertThat(failures(pdf, PDFAFlavour.PDFA_3_U)).isEmpty();
        assertThat(failures(pdf, PDFAFlavour.PDFUA_1)).isEmpty();
        assertThat(lines(paper.pdf("specimen/letter", model, List.of()))).doesNotContain("東");
    }

    @Test
    void fetchesNothingFromAnotherMachine() throws Exception {
        var asked = new AtomicInteger();
        var server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
        server.createContext("/", exchange -> {
            asked.incrementAndGet();
            exchange.sendResponseHeaders(404, -1);
        });
        server.start();
        try {
            prints("http://127.0.0.1:" + server.getAddress().getPort() + "/picture.png");
        } finally {
            server.stop(0);
        }
        assertThat(asked).hasValue(0);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "file:///etc/passwd",
                "/etc/passwd",
                "paper:/../application.properties",
                "../application.properties",
                "jar:file:/x.jar!/y.png"
            })
    void looksAtNoFileOutsideItsFolder(String address) throws Exception {
        prints(address);
    }

    private static String lines(byte[] pdf) throws IOException {
        try (var document = Loader.loadPDF(pdf)) {
            return new PDFTextStripper().getText(document);
        }
    }

    /** Its signs as they lie on the paper, from the left and from the top. */
    private static String seen(byte[] pdf) throws IOException {
        var signs = new TreeMap<Integer, TreeMap<Float, String>>();
        try (var document = Loader.loadPDF(pdf)) {
            new PDFTextStripper() {
                @Override
                protected void processTextPosition(TextPosition sign) {
                    signs.computeIfAbsent(Math.round(sign.getYDirAdj()), y -> new TreeMap<>())
                            .put(sign.getXDirAdj(), sign.getUnicode());
                }
            }.getText(document);
        }
        return signs.values().stream()
                .map(line -> String.join("", line.values()))
                .collect(Collectors.joining("\n"));
    }

    private static Paper paper() {
        return paper(new Typefaces(Path.of("target/no-home")));
    }

    private static Paper paper(Typefaces typefaces) {
        var beans = new GenericApplicationContext();
        beans.registerBean("times", Times.class, () -> new Times(NOON));
        beans.refresh();
        var found = new ClassLoaderTemplateResolver();
        found.setPrefix("templates/");
        found.setSuffix(".html");
        var engine = new SpringTemplateEngine();
        engine.setTemplateResolver(found);
        return new Paper(engine, beans, NOON, typefaces);
    }

    private void prints(String address) throws IOException {
        var pdf = paper.pdf("specimen/prying", Map.of("address", address), List.of());
        try (var document = Loader.loadPDF(pdf)) {
            assertThat(new PDFTextStripper().getText(document)).contains("Still printed.");
            assertThat(document.getPage(0).getResources().getXObjectNames()).isEmpty();
        }
    }

    private byte[] letter(String sheet, List<Attachment> attachments) throws IOException {
        var pdf = paper.pdf("specimen/letter", model(sheet), attachments);
        Files.createDirectories(Path.of("target/specimen"));
        Files.write(Path.of("target/specimen/letter-" + sheet + ".pdf"), pdf);
        return pdf;
    }

    private static Map<String, Object> model(String sheet) {
        var model = new HashMap<String, Object>();
        model.put("sheet", sheet);
        model.put("words", "Grüße, Łódź");
        model.put("foot", "Finch Lane Motors, 4 Finch Lane");
        model.put("when", LocalDate.of(2026, 11, 9));
        model.put("qr", Qr.of("https://shop.example/verify/1042"));
        model.put(
                "lines", IntStream.rangeClosed(1, 60).mapToObj(i -> "Line " + i).toList());
        return model;
    }

    private static Map<String, org.apache.pdfbox.pdmodel.common.filespecification.PDComplexFileSpecification> attached(
            PDDocument document) throws IOException {
        return document.getDocumentCatalog().getNames().getEmbeddedFiles().getNames();
    }

    private static List<String> failures(byte[] pdf, PDFAFlavour standard) throws Exception {
        try (var parser = Foundries.defaultInstance().createParser(new ByteArrayInputStream(pdf), standard);
                var validator = Foundries.defaultInstance().createValidator(standard, false)) {
            var result = validator.validate(parser);
            assertThat(result.getTotalAssertions()).isPositive();
            return result.getTestAssertions().stream()
                    .filter(check -> check.getStatus() == TestAssertion.Status.FAILED)
                    .map(check -> check.getRuleId() + " " + check.getMessage())
                    .toList();
        }
    }
}
