package idlewright.frame;

import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FSFontUseCase;
import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.TreeSet;
import org.apache.fontbox.ttf.CmapLookup;
import org.apache.fontbox.ttf.OpenTypeFont;
import org.apache.fontbox.ttf.TTFParser;
import org.apache.fontbox.ttf.TrueTypeFont;
import org.apache.pdfbox.io.RandomAccessReadBuffer;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.core.io.ClassPathResource;
import org.springframework.stereotype.Component;

/** The typefaces of paper: those that travel along, those in the home's folder {@code fonts}, and what none can draw. */
@Component
public class Typefaces {

    private static final Logger LOG = LoggerFactory.getLogger(Typefaces.class);
    /** All that comes before this the typefaces that travel along can draw. */
    private static final int BEYOND_LATIN = 0x250;
    /** Nobody reads a longer list. */
    private static final int MOST_NAMED = 200;

    private record Face(String family, int weight, FontStyle style, boolean lastResort, byte[] bytes) {}

    private final Path folder;
    private final List<Face> faces = new ArrayList<>();
    private final List<String> added = new ArrayList<>();
    private final Set<Integer> missing = Collections.synchronizedSet(new TreeSet<>());
    private @Nullable BitSet drawn;

    Typefaces(@Value("${idlewright.home:./data}") Path home) {
        folder = home.resolve("fonts");
        own("AtkinsonHyperlegible-Regular", "Atkinson Hyperlegible", 400, FontStyle.NORMAL, false);
        own("AtkinsonHyperlegible-Italic", "Atkinson Hyperlegible", 400, FontStyle.ITALIC, false);
        own("AtkinsonHyperlegible-Bold", "Atkinson Hyperlegible", 700, FontStyle.NORMAL, false);
        // Takes over for letters and signs that the other has not got.
        own("DejaVuSans", "DejaVu Sans", 400, FontStyle.NORMAL, true);
        own("DejaVuSans-Bold", "DejaVu Sans", 700, FontStyle.NORMAL, true);
        added();
    }

    /** File names of the typefaces that were found in the folder when Idlewright started. */
    public List<String> addedNames() {
        return List.copyOf(added);
    }

    /** Letters that stood as boxes on some paper since Idlewright started, each with its number in Unicode. */
    public List<String> missing() {
        synchronized (missing) {
            return missing.stream().map(Typefaces::named).toList();
        }
    }

    void lend(PdfRendererBuilder builder) {
        for (Face face : faces) {
            var uses = EnumSet.of(FSFontUseCase.DOCUMENT);
            if (face.lastResort) {
                uses.add(FSFontUseCase.FALLBACK_FINAL);
            }
            builder.useFont(
                    () -> new ByteArrayInputStream(face.bytes), face.family, face.weight, face.style, true, uses);
        }
    }

    /** Remembers and logs the letters of a page that will stand as boxes. */
    void lookFor(String page) {
        var found = new ArrayList<String>();
        page.codePoints()
                .filter(letter -> letter >= BEYOND_LATIN)
                .distinct()
                .filter(letter -> shows(letter) && !drawn().get(letter))
                .filter(letter -> missing.size() < MOST_NAMED && missing.add(letter))
                .forEach(letter -> found.add(named(letter)));
        if (!found.isEmpty()) {
            LOG.warn(
                    "No typeface has {}: boxes on paper. Put one that has them into {} (.ttf) and start again.",
                    String.join(", ", found),
                    folder);
        }
    }

    private static boolean shows(int letter) {
        return switch (Character.getType(letter)) {
            case Character.FORMAT, Character.CONTROL, Character.LINE_SEPARATOR, Character.PARAGRAPH_SEPARATOR -> false;
            default -> !Character.isWhitespace(letter);
        };
    }

    private static String named(int letter) {
        String name = Character.getName(letter);
        return "%s (U+%04X%s)"
                .formatted(
                        Character.toString(letter), letter, name == null ? "" : ", " + name.toLowerCase(Locale.ROOT));
    }

    private void own(String file, String family, int weight, FontStyle style, boolean lastResort) {
        try (var in = new ClassPathResource("paper/fonts/" + file + ".ttf").getInputStream()) {
            faces.add(new Face(family, weight, style, lastResort, in.readAllBytes()));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private void added() {
        if (!Files.isDirectory(folder)) {
            return;
        }
        try (var files = Files.list(folder)) {
            for (Path file : files.sorted().toList()) {
                add(file);
            }
        } catch (IOException e) {
            LOG.warn("The folder {} cannot be read: {}", folder, e.getMessage());
        }
    }

    private void add(Path file) {
        String name = String.valueOf(file.getFileName());
        if (Files.isDirectory(file)) {
            return;
        }
        try {
            byte[] bytes = Files.readAllBytes(file);
            String refused = refusal(bytes);
            if (refused != null) {
                LOG.warn("{} is not used for paper: {}", file, refused);
                return;
            }
            int weight = name.toLowerCase(Locale.ROOT).contains("bold") ? 700 : 400;
            faces.add(new Face("Added " + name, weight, FontStyle.NORMAL, true, bytes));
            added.add(name);
            LOG.info("{} is used on paper for letters that the others have not got.", file);
        } catch (IOException | RuntimeException e) {
            LOG.warn("{} is not used for paper: it cannot be read as a TrueType font ({})", file, e.getMessage());
        }
    }

    private static @Nullable String refusal(byte[] bytes) throws IOException {
        try (TrueTypeFont font = parsed(bytes)) {
            if (font instanceof OpenTypeFont open && open.isPostScript()) {
                return "its outlines are PostScript's (CFF); one with TrueType outlines is wanted";
            }
            if (font.getGlyph() == null) {
                return "it holds no outlines";
            }
            var about = font.getOS2Windows();
            // Bit 1 of fsType (OpenType specification, table OS/2): restricted licence embedding.
            return about != null && (about.getFsType() & 0xf) == 2
                    ? "its maker forbids putting it into documents"
                    : null;
        }
    }

    private static TrueTypeFont parsed(byte[] bytes) throws IOException {
        return new TTFParser().parse(new RandomAccessReadBuffer(bytes));
    }

    private synchronized BitSet drawn() {
        if (drawn == null) {
            var all = new BitSet();
            for (Face face : faces) {
                if (!face.lastResort) {
                    continue;
                }
                try (TrueTypeFont font = parsed(face.bytes)) {
                    CmapLookup letters = font.getUnicodeCmapLookup();
                    for (int letter = BEYOND_LATIN; letter < 0x20000 + 0x10000; letter++) {
                        if (letters.getGlyphId(letter) != 0) {
                            all.set(letter);
                        }
                    }
                } catch (IOException e) {
                    throw new UncheckedIOException(e);
                }
            }
            drawn = all;
        }
        return drawn;
    }
}
