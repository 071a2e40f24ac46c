package idlewright.frame;

import com.openhtmltopdf.extend.FSCacheEx;
import com.openhtmltopdf.extend.FSCacheValue;
import com.openhtmltopdf.extend.FSStream;
import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.PageSizeUnits;
import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.TextDirection;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder.CacheStore;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder.PdfAConformance;
import com.openhtmltopdf.slf4j.Slf4jLogger;
import com.openhtmltopdf.util.Diagnostic;
import com.openhtmltopdf.util.XRLog;
import idlewright.frame.rules.RightToLeft;
import java.awt.color.ColorSpace;
import java.awt.color.ICC_Profile;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.text.Normalizer;
import java.time.Clock;
import java.util.Base64;
import java.util.GregorianCalendar;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.concurrent.Callable;
import java.util.concurrent.ConcurrentHashMap;
import java.util.logging.Level;
import java.util.regex.Pattern;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.transform.TransformerFactory;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.cos.COSArray;
import org.apache.pdfbox.cos.COSName;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDDocumentNameDictionary;
import org.apache.pdfbox.pdmodel.PDEmbeddedFilesNameTreeNode;
import org.apache.pdfbox.pdmodel.common.PDMetadata;
import org.apache.pdfbox.pdmodel.common.filespecification.PDComplexFileSpecification;
import org.apache.pdfbox.pdmodel.common.filespecification.PDEmbeddedFile;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationContext;
import org.springframework.core.convert.support.DefaultConversionService;
import org.springframework.core.io.ClassPathResource;
import org.springframework.stereotype.Component;
import org.thymeleaf.ITemplateEngine;
import org.thymeleaf.context.Context;
import org.thymeleaf.spring6.expression.ThymeleafEvaluationContext;

/**
 * Turns a template into paper: PDF/A-3u for keeping and PDF/UA-1 for reading aloud, all fonts within, files attached. It
 * reaches for nothing but what lies under {@code paper/} on the class path and data URIs in the page itself.
 */
@Component
public class Paper {

    /** A file that travels within the PDF; an electronic invoice is the same paper for machines. */
    public record Attachment(String name, String mime, byte[] bytes, String description, boolean eInvoice) {

        public Attachment(String name, String mime, byte[] bytes, String description) {
            this(name, mime, bytes, description, false);
        }

        /** A Cross Industry Invoice by EN 16931, under the name and with the marks by which programs find it. */
        public static Attachment eInvoice(byte[] xml) {
            return new Attachment("factur-x.xml", "text/xml", xml, "The invoice as machines read it (EN 16931)", true);
        }
    }

    private static final String HERE = "paper:/";
    private static final Pattern DOCTYPE = Pattern.compile("\\A\\s*<!DOCTYPE[^>]*>", Pattern.CASE_INSENSITIVE);
    /** All that XML 1.0 has no way to write; somebody may have pasted one, and the invoice is to be printed all the same. */
    private static final Pattern NOT_XML =
            Pattern.compile("[^\\x09\\x0A\\x0D\\x20-\\uD7FF\\uE000-\\uFFFD\\x{10000}-\\x{10FFFF}]");

    private final ITemplateEngine templates;
    private final ApplicationContext beans;
    private final Clock clock;
    private final Typefaces typefaces;
    private final byte[] sRgb = ICC_Profile.getInstance(ColorSpace.CS_sRGB).getData();
    private final Map<String, byte[]> files = new ConcurrentHashMap<>();
    private final FSCacheEx<String, FSCacheValue> metrics = new Metrics();

    Paper(ITemplateEngine templates, ApplicationContext beans, Clock clock, Typefaces typefaces) {
        this.templates = templates;
        this.beans = beans;
        this.clock = clock;
        this.typefaces = typefaces;
        XRLog.setLoggerImpl(new OnlyWarnings());
        // Each paper asks for them anew, and would look through every jar for them, checking the signed ones each time.
        takeTheJdksOwn(TransformerFactory.class, TransformerFactory.newDefaultInstance());
        takeTheJdksOwn(DocumentBuilderFactory.class, DocumentBuilderFactory.newDefaultInstance());
    }

    private static <T> void takeTheJdksOwn(Class<T> factory, T own) {
        System.getProperties().putIfAbsent(factory.getName(), own.getClass().getName());
    }

    /**
     * The template as a PDF. The template is well-formed and has what PDF/UA asks for: {@code lang}, {@code title}, a meta
     * description, {@code alt} on pictures, {@code scope} on table headings; {@code frame/paper :: sheet} brings most of
     * it along.
     *
     * @param model the template's variables; {@code sheet} (A4 or LETTER) and {@code locale} are heeded, A4 and English
     *     where they are missing
     */
    public byte[] pdf(String template, Map<String, Object> model, List<Attachment> attachments) {
        try {
            var page = print(html(template, model), letter(model));
            return attachments.isEmpty() ? page : attach(page, attachments);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Bytes of a picture as the {@code src} of an image. */
    public static String dataUri(String mime, byte[] bytes) {
        return "data:" + mime + ";base64," + Base64.getEncoder().encodeToString(bytes);
    }

    private String html(String template, Map<String, Object> model) {
        var context = new Context(model.get("locale") instanceof Locale locale ? locale : Locale.ENGLISH, model);
        // Lets templates ask beans, as @times, outside a web request.
        context.setVariable(
                ThymeleafEvaluationContext.THYMELEAF_EVALUATION_CONTEXT_CONTEXT_VARIABLE_NAME,
                new ThymeleafEvaluationContext(beans, DefaultConversionService.getSharedInstance()));
        return printable(DOCTYPE.matcher(templates.process(template, context)).replaceFirst(""));
    }

    /** Without what XML cannot hold, and with each letter and its accent as one sign: fonts have no other. */
    public static String printable(String words) {
        return Normalizer.normalize(NOT_XML.matcher(words).replaceAll(""), Normalizer.Form.NFC);
    }

    private static boolean letter(Map<String, Object> model) {
        return "LETTER".equalsIgnoreCase(String.valueOf(model.get("sheet")));
    }

    private byte[] print(String html, boolean letter) throws IOException {
        var out = new ByteArrayOutputStream();
        var builder = new PdfRendererBuilder()
                .withHtmlContent(html, HERE)
                .useUriResolver((base, uri) -> resolve(uri))
                .useProtocolsStreamImplementation((uri) -> new Local(uri), "paper")
                .useProtocolsStreamImplementation(
                        (uri) -> {
                            throw new IllegalArgumentException("paper fetches nothing: " + uri);
                        },
                        Set.of("http", "https", "file", "jar", "ftp"))
                .useDefaultPageSize(
                        letter ? 8.5f : 210, letter ? 11 : 297, letter ? PageSizeUnits.INCHES : PageSizeUnits.MM)
                .useReplacementText("\u25a1")
                .usePdfAConformance(PdfAConformance.PDFA_3_U)
                .usePdfUaAccessibility(true)
                .useColorProfile(sRgb)
                .useCacheStore(CacheStore.PDF_FONT_METRICS, metrics)
                .withProducer("Idlewright");
        typefaces.lend(builder);
        typefaces.lookFor(html);
        if (RightToLeft.in(html)) {
            builder.useUnicodeBidiSplitter(Directions::new)
                    .useUnicodeBidiReorderer(new Directions.Turning())
                    .defaultTextDirection(TextDirection.LTR);
        }
        builder.toStream(out).run();
        return out.toByteArray();
    }

    /** Only names under paper/ mean something; all else is nothing. */
    private static @Nullable String resolve(String uri) {
        if (uri.startsWith("data:") || uri.startsWith("#")) {
            return uri;
        }
        var name = uri.replaceFirst("^(paper:)?/*(paper/)?", "");
        return name.matches("[A-Za-z0-9_-]+(/[A-Za-z0-9_-]+)*\\.[a-z0-9]+") ? HERE + name : null;
    }

    private byte[] local(String path) {
        return files.computeIfAbsent(path, p -> {
            try (var in = new ClassPathResource(p).getInputStream()) {
                return in.readAllBytes();
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        });
    }

    private final class Local implements FSStream {

        private final byte[] bytes;

        private Local(String uri) {
            bytes = local("paper/" + uri.substring(HERE.length()));
        }

        @Override
        public InputStream getStream() {
            return new ByteArrayInputStream(bytes);
        }

        @Override
        public Reader getReader() {
            return new InputStreamReader(getStream(), StandardCharsets.UTF_8);
        }
    }

    private byte[] attach(byte[] page, List<Attachment> attachments) throws IOException {
        try (var document = Loader.loadPDF(page);
                var out = new ByteArrayOutputStream()) {
            var byName = new TreeMap<String, PDComplexFileSpecification>();
            var associated = new COSArray();
            for (var attachment : attachments) {
                var file = file(document, attachment);
                if (byName.put(attachment.name(), file) != null) {
                    throw new IllegalArgumentException("two attachments are called " + attachment.name());
                }
                associated.add(file.getCOSObject());
            }
            var tree = new PDEmbeddedFilesNameTreeNode();
            tree.setNames(byName);
            var names = new PDDocumentNameDictionary(document.getDocumentCatalog());
            names.setEmbeddedFiles(tree);
            document.getDocumentCatalog().setNames(names);
            document.getDocumentCatalog().getCOSObject().setItem(COSName.getPDFName("AF"), associated);
            if (attachments.stream().anyMatch(Attachment::eInvoice)) {
                mark(document);
            }
            document.save(out);
            return out.toByteArray();
        }
    }

    /** Says in the metadata that there is an electronic invoice, and explains the words it says it with. */
    private void mark(PDDocument document) throws IOException {
        var catalog = document.getDocumentCatalog();
        String xmp = new String(catalog.getMetadata().toByteArray(), StandardCharsets.UTF_8);
        int schemas = xmp.indexOf("</rdf:Bag>", xmp.indexOf("<pdfaExtension:schemas>"));
        int end = xmp.lastIndexOf("</rdf:RDF>");
        if (schemas < 0 || end < schemas) {
            throw new IllegalStateException("The paper's metadata are not as expected.");
        }
        String marks = new String(local("paper/e-invoice-schema.xml"), StandardCharsets.UTF_8);
        String said = new String(local("paper/e-invoice-marks.xml"), StandardCharsets.UTF_8);
        String both = xmp.substring(0, schemas) + marks + xmp.substring(schemas, end) + said + xmp.substring(end);
        catalog.setMetadata(new PDMetadata(document, new ByteArrayInputStream(both.getBytes(StandardCharsets.UTF_8))));
    }

    private PDComplexFileSpecification file(PDDocument document, Attachment attachment) throws IOException {
        var now = GregorianCalendar.from(clock.instant().atZone(clock.getZone()));
        var bytes = new PDEmbeddedFile(document, new ByteArrayInputStream(attachment.bytes()), COSName.FLATE_DECODE);
        bytes.setSubtype(attachment.mime());
        bytes.setSize(attachment.bytes().length);
        bytes.setCreationDate(now);
        bytes.setModDate(now);
        var file = new PDComplexFileSpecification();
        file.setFile(attachment.name());
        file.setFileUnicode(attachment.name());
        file.setFileDescription(attachment.description());
        file.setEmbeddedFile(bytes);
        file.setEmbeddedFileUnicode(bytes);
        file.getCOSObject().setName("AFRelationship", attachment.eInvoice() ? "Alternative" : "Data");
        return file;
    }

    /** The renderer tells every font and every millisecond otherwise. */
    private static final class OnlyWarnings extends Slf4jLogger {

        @Override
        public boolean isLogLevelEnabled(Diagnostic diagnostic) {
            return diagnostic.getLevel().intValue() >= Level.WARNING.intValue() && super.isLogLevelEnabled(diagnostic);
        }
    }

    /** What is measured of a font once holds for every page. */
    private static final class Metrics implements FSCacheEx<String, FSCacheValue> {

        private final Map<String, FSCacheValue> values = new ConcurrentHashMap<>();

        @Override
        public void put(String key, FSCacheValue value) {
            values.put(key, value);
        }

        @Override
        public FSCacheValue get(String key, Callable<? extends FSCacheValue> loader) {
            return values.computeIfAbsent(key, k -> {
                try {
                    return loader.call();
                } catch (Exception e) {
                    throw new IllegalStateException(e);
                }
            });
        }

        @Override
        public @Nullable FSCacheValue get(String key) {
            return values.get(key);
        }
    }
}
