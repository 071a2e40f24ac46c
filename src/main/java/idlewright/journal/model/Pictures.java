package idlewright.journal.model;

import idlewright.frame.Refused;
import idlewright.journal.model.Shelf.Arrived;
import idlewright.journal.rules.FileKind;
import idlewright.journal.rules.Sketch;
import java.awt.Dimension;
import java.awt.image.BufferedImage;
import java.io.BufferedInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.UUID;
import java.util.concurrent.Semaphore;
import javax.imageio.ImageIO;
import javax.imageio.ImageReader;
import net.coobird.thumbnailator.Thumbnails;
import net.coobird.thumbnailator.util.exif.ExifFilterUtils;
import net.coobird.thumbnailator.util.exif.ExifUtils;
import net.coobird.thumbnailator.util.exif.Orientation;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/**
 * Pictures for looking at, written anew from their pixels: upright, smaller, and without the place and camera that a
 * photo carries along.
 */
@Component
public class Pictures {

    /** How large a picture is shown, by its longer side in pixels. */
    public enum Size {
        SMALL(320),
        LARGE(1600);

        private final int side;

        Size(int side) {
            this.side = side;
        }
    }

    private static final long MOST_PIXELS = 50_000_000;

    /** One at a time: decoding takes much memory, and the bay has to stay quick. */
    private final Semaphore bench = new Semaphore(1);

    private final Shelf shelf;

    Pictures(Shelf shelf) {
        this.shelf = shelf;
        // Readers that came with other jars are seen by whichever class loader asks first.
        ImageIO.scanForPlugins();
    }

    /**
     * Makes both sizes of a picture that has arrived, so that a broken one is refused while the person who took it still
     * stands there; one with too many pixels is refused before any pixel is decoded.
     */
    public void make(Arrived arrived, FileKind kind) {
        try {
            read(arrived.file(), kind, Pictures::refuseTooManyPixels);
            for (var size : Size.values()) {
                make(arrived.file(), kind, size, shown(arrived.sha256(), kind, size));
            }
        } catch (IOException | RuntimeException e) {
            throw e instanceof Refused refused
                    ? refused
                    : Refused.at(
                            "file", "The picture can't be read. Save it as an ordinary JPEG or PNG and send it again.");
        }
    }

    private static long refuseTooManyPixels(ImageReader reader) throws IOException {
        var pixels = (long) reader.getWidth(0) * reader.getHeight(0);
        if (pixels > MOST_PIXELS) {
            throw Refused.at(
                    "file",
                    "The picture has %,d million pixels; at most 50 million are kept. Save it smaller."
                            .formatted(pixels / 1_000_000));
        }
        return pixels;
    }

    /** The picture for looking at, beside the original; made anew when only the originals came back from a backup. */
    public Path of(String sha256, FileKind kind, Size size) {
        var shown = shown(sha256, kind, size);
        try {
            make(shelf.place(sha256), kind, size, shown);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return shown;
    }

    /** Width and height of the larger picture for looking at, in pixels. */
    public Dimension sizeOf(String sha256, FileKind kind) {
        try {
            return read(
                    of(sha256, kind, Size.LARGE),
                    kind.shown(),
                    reader -> new Dimension(reader.getWidth(0), reader.getHeight(0)));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** A copy of the picture for looking at with lines and words painted into it, as JPEG. */
    public byte[] painted(String sha256, FileKind kind, Sketch sketch) {
        bench.acquireUninterruptibly();
        try {
            var pixels = read(shown(sha256, kind, Size.LARGE), kind.shown(), reader -> reader.read(0));
            var out = new ByteArrayOutputStream();
            Thumbnails.of(Brush.paint(pixels, sketch))
                    .scale(1)
                    .outputFormat("jpg")
                    .outputQuality(0.85)
                    .toOutputStream(out);
            return out.toByteArray();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } finally {
            bench.release();
        }
    }

    private Path shown(String sha256, FileKind kind, Size size) {
        return shelf.place(sha256)
                .resolveSibling(sha256 + "." + size.side + "." + kind.shown().ending());
    }

    private void make(Path original, FileKind kind, Size size, Path shown) throws IOException {
        if (Files.exists(shown)) {
            return;
        }
        bench.acquireUninterruptibly();
        try {
            write(pixels(original, kind, size), kind.shown(), shown);
        } finally {
            bench.release();
        }
    }

    private static BufferedImage pixels(Path original, FileKind kind, Size size) throws IOException {
        return read(original, kind, reader -> {
            var longer = Math.max(reader.getWidth(0), reader.getHeight(0));
            var param = reader.getDefaultReadParam();
            // Skipping pixels while reading keeps the memory small; twice the wanted size is left for smooth scaling.
            var step = Math.max(1, longer / (2 * size.side));
            param.setSourceSubsampling(step, step, 0, 0);
            return upright(reader.read(0, param), kind == FileKind.JPEG ? orientation(original) : null, size);
        });
    }

    private static void write(BufferedImage pixels, FileKind kind, Path shown) throws IOException {
        Files.createDirectories(shown.getParent());
        var part = shown.resolveSibling(UUID.randomUUID() + ".part");
        try {
            try (var out = Files.newOutputStream(part)) {
                Thumbnails.of(pixels)
                        .scale(1)
                        .outputFormat(kind.ending())
                        .outputQuality(0.85)
                        .toOutputStream(out);
            }
            Files.move(part, shown, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
        } finally {
            Files.deleteIfExists(part);
        }
    }

    private static BufferedImage upright(BufferedImage pixels, @Nullable Orientation orientation, Size size)
            throws IOException {
        var longer = Math.max(pixels.getWidth(), pixels.getHeight());
        var scaled = Thumbnails.of(pixels)
                .scale(Math.min(1.0, size.side / (double) longer))
                .asBufferedImage();
        return orientation == null
                ? scaled
                : ExifFilterUtils.getFilterForOrientation(orientation).apply(scaled);
    }

    /** How the camera was held. Read by hand: the JDK's reader gives up on photos whose Exif stands where phones put it. */
    private static @Nullable Orientation orientation(Path jpeg) {
        try (var in = new DataInputStream(new BufferedInputStream(Files.newInputStream(jpeg)))) {
            in.readUnsignedShort();
            for (int marker = in.readUnsignedShort();
                    marker >= 0xffe0 && marker <= 0xfffe;
                    marker = in.readUnsignedShort()) {
                var segment = new byte[in.readUnsignedShort() - 2];
                in.readFully(segment);
                if (marker == 0xffe1 && new String(segment, 0, 4, StandardCharsets.ISO_8859_1).equals("Exif")) {
                    return ExifUtils.getOrientationFromExif(segment);
                }
            }
        } catch (IOException | RuntimeException brokenExif) {
            // Shown as the pixels lie.
        }
        return null;
    }

    private interface Reading<T> {
        T from(ImageReader reader) throws IOException;
    }

    private static <T> T read(Path file, FileKind kind, Reading<T> reading) throws IOException {
        var reader = ImageIO.getImageReadersByMIMEType(kind.mime()).next();
        try (var in = ImageIO.createImageInputStream(file.toFile())) {
            // Without its metadata, which may hide a bomb of its own.
            reader.setInput(in, true, true);
            return reading.from(reader);
        } finally {
            reader.dispose();
        }
    }
}
