package idlewright.journal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import idlewright.frame.NotFound;
import idlewright.frame.Refused;
import idlewright.ground.WithDatabase;
import idlewright.journal.rules.Entry;
import java.awt.Color;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.util.HexFormat;
import java.util.Random;
import java.util.concurrent.ThreadLocalRandom;
import java.util.zip.CRC32;
import java.util.zip.Deflater;
import java.util.zip.DeflaterOutputStream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.jdbc.core.simple.JdbcClient;

@SpringBootTest
@WithDatabase
@DisplayName("An exhibit")
class ExhibitsTest {

    @Autowired
    Exhibits exhibits;

    @Autowired
    Journal journal;

    @Autowired
    JdbcClient sql;

    @Value("${idlewright.home}")
    Path home;

    private final int ticket = ThreadLocalRandom.current().nextInt(1_000_000, Integer.MAX_VALUE);

    @Test
    @DisplayName("is kept byte for byte under its SHA-256")
    void isKeptByteForByte() throws Exception {
        var log = bytes("seconds,rpm\n0.0,750\n" + Math.random() + "\n");
        var kept = keep(log, "idle run.csv");
        assertThat(kept.sha256()).isEqualTo(sha256(log));
        assertThat(kept.mime()).isEqualTo("text/csv");
        assertThat(kept.name()).isEqualTo("idle run.csv");
        assertThat(kept.size()).isEqualTo(log.length);
        try (var original = exhibits.open(kept.id())) {
            assertThat(original.readAllBytes()).isEqualTo(log);
        }
        assertThat(home.resolve("exhibits")
                        .resolve(kept.sha256().substring(0, 2))
                        .resolve(kept.sha256().substring(2, 4))
                        .resolve(kept.sha256()))
                .hasBinaryContent(log);
        assertThat(exhibits.of(ticket)).containsExactly(kept);
        assertThat(exhibits.get(kept.id())).isEqualTo(kept);
    }

    @Test
    @DisplayName("is noted in the journal with its hash, and without its name or caption")
    void isNotedInTheJournal() {
        var kept = keep(bytes("log " + Math.random()), "Mrs Somebody.txt");
        assertThat(journal.of(ticket)).singleElement().satisfies(entry -> {
            assertThat(entry.sentence()).isEqualTo("Kept exhibit " + kept.id() + ": log.");
            assertThat(entry.facts()).contains(kept.sha256()).doesNotContain("Somebody");
        });
    }

    @Test
    @DisplayName("kept twice lies on the disk once")
    void keptTwiceLiesOnTheDiskOnce() {
        var log = bytes("log " + Math.random());
        var first = keep(log, "a.txt");
        var second = keep(log, "b.txt");
        assertThat(second.id()).isNotEqualTo(first.id());
        assertThat(second.sha256()).isEqualTo(first.sha256());
        assertThat(nothingHalf()).isTrue();
    }

    @Test
    @DisplayName("that is a picture is shown smaller, upright, and without the place where it was taken")
    void isShownWithoutThePlaceWhereItWasTaken() throws Exception {
        var photo = withExif(jpeg(2400, 1200));
        assertThat(new String(photo, StandardCharsets.ISO_8859_1)).contains("Exif", "WHERE-IT-WAS-TAKEN");
        var kept = keep(photo, "photo.jpg");
        assertThat(kept.picture()).isTrue();
        var shown = exhibits.picture(kept.id(), false);
        // Orientation 6: the camera was held upright, so what lies 2400 wide stands 1600 high.
        assertThat(ImageIO.read(shown.toFile()).getHeight()).isEqualTo(1600);
        assertThat(ImageIO.read(shown.toFile()).getWidth()).isEqualTo(800);
        assertThat(Files.readString(shown, StandardCharsets.ISO_8859_1)).doesNotContain("Exif", "WHERE-IT-WAS-TAKEN");
        assertThat(ImageIO.read(exhibits.picture(kept.id(), true).toFile()).getHeight())
                .isEqualTo(320);
        try (var original = exhibits.open(kept.id())) {
            assertThat(original.readAllBytes()).isEqualTo(photo);
        }
    }

    @Test
    @DisplayName("that is a small picture is not blown up")
    void isNotBlownUp() throws Exception {
        var kept = keep(png(40, 30), "dot.png");
        var shown = ImageIO.read(exhibits.picture(kept.id(), false).toFile());
        assertThat(shown.getWidth()).isEqualTo(40);
        assertThat(shown.getHeight()).isEqualTo(30);
    }

    @Test
    @DisplayName("whose shown picture was lost gets it anew from the original")
    void getsItsPictureAnew() throws Exception {
        var kept = keep(png(400, 300), "scope.png");
        Files.delete(exhibits.picture(kept.id(), true));
        assertThat(exhibits.picture(kept.id(), true)).exists();
    }

    @Test
    @DisplayName("of a log has no picture")
    void ofALogHasNoPicture() {
        var kept = keep(bytes("log"), "a.txt");
        assertThatExceptionOfType(NotFound.class).isThrownBy(() -> exhibits.picture(kept.id(), false));
    }

    @ParameterizedTest(name = "is refused when it is {0}, whatever its name says")
    @ValueSource(
            strings = {
                "a page",
                "a drawing with a script",
                "a program",
                "an archive",
                "a picture of another kind",
                "noise"
            })
    void isRefusedWhenItIsOfAnotherKind(String what) throws Exception {
        var content = switch (what) {
            case "a page" -> bytes("<!DOCTYPE html><html><script>alert(1)</script></html>");
            case "a drawing with a script" -> bytes("<svg xmlns='http://www.w3.org/2000/svg'><script>1</script></svg>");
            case "a program" ->
                ("MZ" + "\0".repeat(58) + "\u0080" + "\0".repeat(300)).getBytes(StandardCharsets.ISO_8859_1);
            case "an archive" -> zip();
            case "a picture of another kind" -> bytes("GIF89a\1\0\1\0\0\0\0");
            default -> noise(5_000);
        };
        assertThatExceptionOfType(Refused.class)
                .isThrownBy(() -> keep(content, "photo.jpg"))
                .satisfies(no ->
                        assertThat(no.problems().get("file")).startsWith("Only JPEG, PNG and WebP pictures, PDF, CSV"));
        assertThat(exhibits.of(ticket)).isEmpty();
        assertThat(nothingHalf()).isTrue();
    }

    @Test
    @DisplayName("taken as WebP is kept as it came and shown as JPEG, which everybody can open")
    void takenAsWebPIsShownAsJpeg() throws Exception {
        // 60 x 40 pixels of red, made for this test with an ordinary converter.
        var webp = java.util.Base64.getDecoder()
                .decode("UklGRlIAAABXRUJQVlA4IEYAAACwAwCdASo8ACgAPtForlIoJiQioqgBABoJZwDTUoAAFRpjHD42IAD+6zb/9CbHtRX"
                        + "//Qk/+Js/4mz4OYf+KlmJGA7wAAAA");
        var kept = keep(webp, "IMG_2041.webp");
        assertThat(kept.mime()).isEqualTo("image/webp");
        assertThat(kept.name()).isEqualTo("IMG_2041.webp");
        var shown = ImageIO.read(exhibits.picture(kept.id(), false).toFile());
        assertThat(shown.getWidth()).isEqualTo(60);
        assertThat(new Color(shown.getRGB(30, 20)).getRed()).isGreaterThan(200);
        assertThat(exhibits.picture(kept.id(), false).toString()).endsWith(".jpg");
        try (var original = exhibits.open(kept.id())) {
            assertThat(original.readAllBytes()).isEqualTo(webp);
        }
    }

    @ParameterizedTest(name = "of the brand {0} is refused with advice")
    @ValueSource(strings = {"heic", "mif1", "avif"})
    void inAPhonesOwnFormatIsRefusedWithAdvice(String brand) {
        // The first box of such a file, after ISO/IEC 14496-12; from memory.
        var head = ("\0\0\0\u0018ftyp" + brand + "\0\0\0\0" + brand + "mif1" + "\0".repeat(400))
                .getBytes(StandardCharsets.ISO_8859_1);
        assertThatExceptionOfType(Refused.class)
                .isThrownBy(() -> keep(head, "IMG_2041.HEIC"))
                .withMessageContaining("most compatible format (JPEG)");
        assertThat(exhibits.of(ticket)).isEmpty();
    }

    @Test
    @DisplayName("of 900 million pixels is refused before any of them is decoded")
    void ofTooManyPixelsIsRefused() throws Exception {
        var bomb = pngBomb(30_000, 30_000);
        assertThat(bomb.length).isLessThan(5_000_000);
        var before = usedMemory();
        assertThatExceptionOfType(Refused.class)
                .isThrownBy(() -> keep(bomb, "bomb.png"))
                .withMessage("The picture has 900 million pixels; at most 50 million are kept. Save it smaller.");
        assertThat(usedMemory() - before).isLessThan(64L * 1024 * 1024);
    }

    @Test
    @DisplayName("that is a cut-off picture is refused")
    void thatIsACutOffPictureIsRefused() throws Exception {
        var whole = png(600, 400);
        var half = java.util.Arrays.copyOf(whole, whole.length / 3);
        assertThatExceptionOfType(Refused.class)
                .isThrownBy(() -> keep(half, "half.png"))
                .withMessageStartingWith("The picture can't be read.");
        assertThat(Files.exists(home.resolve("exhibits/" + sha256(half).substring(0, 2) + "/"
                        + sha256(half).substring(2, 4) + "/" + sha256(half))))
                .isFalse();
    }

    @Test
    @DisplayName("of 25 MB is kept, one byte more is refused, an endless one as well")
    void hasALimit() {
        var largest = 25 * 1024 * 1024;
        assertThat(exhibits.keep(new Endless(largest), "a.txt", ticket, null, "log", "")
                        .size())
                .isEqualTo(largest);
        for (long size : new long[] {largest + 1L, Long.MAX_VALUE}) {
            assertThatExceptionOfType(Refused.class)
                    .isThrownBy(() -> exhibits.keep(new Endless(size), "a.txt", ticket, null, "log", ""))
                    .withMessage("The file is larger than 25 MB. Choose a smaller one.");
        }
        assertThat(nothingHalf()).isTrue();
    }

    @Test
    @DisplayName("of no bytes is refused")
    void ofNoBytesIsRefused() {
        assertThatExceptionOfType(Refused.class)
                .isThrownBy(() -> keep(new byte[0], "a.txt"))
                .withMessage("The file is empty. Choose another one.");
    }

    @Test
    @DisplayName("with a path for a name stays in its folder")
    void withAPathForANameStaysInItsFolder() {
        assertThat(keep(bytes("x" + Math.random()), "../../../etc/cron.d/x").name())
                .isEqualTo("x.txt");
    }

    @Test
    @DisplayName("that is struck out no longer counts, and is still there with the reason")
    void thatIsStruckOutIsStillThere() throws Exception {
        var kept = keep(bytes("log of another car"), "a.txt");
        exhibits.strike(kept.id(), "Belongs to another car.");
        assertThat(exhibits.of(ticket)).isEmpty();
        assertThat(exhibits.struck(ticket)).singleElement().satisfies(struck -> {
            assertThat(struck.exhibit()).isEqualTo(kept);
            assertThat(struck.reason()).isEqualTo("Belongs to another car.");
        });
        exhibits.open(kept.id()).close();
        assertThat(journal.of(ticket))
                .extracting(Entry::sentence)
                .last()
                .isEqualTo("Struck out exhibit " + kept.id() + ": log.");
        assertThatExceptionOfType(Refused.class).isThrownBy(() -> exhibits.strike(kept.id(), "Again."));
    }

    @Test
    @DisplayName("is not struck out without a reason")
    void isNotStruckOutWithoutAReason() {
        var kept = keep(bytes("log"), "a.txt");
        assertThatExceptionOfType(Refused.class)
                .isThrownBy(() -> exhibits.strike(kept.id(), "  "))
                .satisfies(no -> assertThat(no.problems()).containsKey("reason"));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "update exhibit set caption = 'x'",
                "delete from exhibit_strike",
                "delete from exhibit",
                "truncate exhibit cascade"
            })
    @DisplayName("is never changed in its row")
    void isNeverChangedInItsRow(String attempt) {
        exhibits.strike(keep(bytes("log"), "a.txt").id(), "Wrong car.");
        assertThatThrownBy(() -> sql.sql(attempt).update())
                .rootCause()
                .message()
                .containsAnyOf("are never changed", "permission denied");
    }

    private Exhibit keep(byte[] content, String name) {
        return exhibits.keep(new ByteArrayInputStream(content), name, ticket, 1, "log", "");
    }

    private boolean nothingHalf() {
        try (var halves = Files.list(home.resolve("exhibits/arriving"))) {
            return halves.findAny().isEmpty();
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    private static byte[] noise(int length) {
        var noise = new byte[length];
        new Random(1).nextBytes(noise);
        return noise;
    }

    private static byte[] zip() throws IOException {
        var out = new ByteArrayOutputStream();
        try (var zip = new ZipOutputStream(out)) {
            zip.putNextEntry(new ZipEntry("a.txt"));
            zip.write(new byte[1_000]);
        }
        return out.toByteArray();
    }

    private static byte[] png(int width, int height) throws IOException {
        return picture(width, height, "png");
    }

    private static byte[] jpeg(int width, int height) throws IOException {
        return picture(width, height, "jpg");
    }

    private static byte[] picture(int width, int height, String format) throws IOException {
        var image = new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB);
        for (int x = 0; x < width; x++) {
            for (int y = 0; y < height; y++) {
                image.setRGB(x, y, new Color(x * 255 / width, y * 255 / height, (x * y) & 255).getRGB());
            }
        }
        var out = new ByteArrayOutputStream();
        ImageIO.write(image, format, out);
        return out.toByteArray();
    }

    /** Puts an APP1 segment behind the start: orientation 6 and a description that stands for the place. */
    private static byte[] withExif(byte[] jpeg) throws IOException {
        var place = "WHERE-IT-WAS-TAKEN " + Math.random() + "\0";
        var out = new ByteArrayOutputStream();
        var data = new DataOutputStream(out);
        data.write(jpeg, 0, 2);
        data.writeShort(0xffe1);
        data.writeShort(2 + 6 + 8 + 2 + 2 * 12 + 4 + place.length());
        data.writeBytes("Exif\0\0MM\0*");
        data.writeInt(8);
        data.writeShort(2);
        data.writeShort(0x010e);
        data.writeShort(2);
        data.writeInt(place.length());
        data.writeInt(8 + 2 + 2 * 12 + 4);
        data.writeShort(0x0112);
        data.writeShort(3);
        data.writeInt(1);
        data.writeShort(6);
        data.writeShort(0);
        data.writeInt(0);
        data.writeBytes(place);
        data.write(jpeg, 2, jpeg.length - 2);
        return out.toByteArray();
    }

    /** All white, so that it packs a thousandfold. */
    private static byte[] pngBomb(int width, int height) throws IOException {
        var out = new ByteArrayOutputStream();
        var data = new DataOutputStream(out);
        data.write(new byte[] {(byte) 0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n'});
        var header = new ByteArrayOutputStream();
        var fields = new DataOutputStream(header);
        fields.writeInt(width);
        fields.writeInt(height);
        fields.write(new byte[] {1, 0, 0, 0, 0});
        chunk(data, "IHDR", header.toByteArray());
        var pixels = new ByteArrayOutputStream();
        try (var packed = new DeflaterOutputStream(pixels, new Deflater(9))) {
            var row = new byte[1 + (width + 7) / 8];
            for (int y = 0; y < height; y++) {
                packed.write(row);
            }
        }
        chunk(data, "IDAT", pixels.toByteArray());
        chunk(data, "IEND", new byte[0]);
        return out.toByteArray();
    }

    private static void chunk(DataOutputStream out, String type, byte[] content) throws IOException {
        out.writeInt(content.length);
        var sum = new CRC32();
        sum.update(type.getBytes(StandardCharsets.US_ASCII));
        sum.update(content);
        out.writeBytes(type);
        out.write(content);
        out.writeInt((int) sum.getValue());
    }

    private static long usedMemory() {
        System.gc();
        return Runtime.getRuntime().totalMemory() - Runtime.getRuntime().freeMemory();
    }

    private static String sha256(byte[] bytes) throws Exception {
        return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
    }

    /** A long file of nothing but the letter a. */
    private static final class Endless extends InputStream {

        private long left;

        private Endless(long size) {
            left = size;
        }

        @Override
        public int read() {
            return left-- > 0 ? 'a' : -1;
        }

        @Override
        public int read(byte[] buffer, int from, int length) {
            if (left <= 0) {
                return -1;
            }
            var n = (int) Math.min(length, left);
            java.util.Arrays.fill(buffer, from, from + n, (byte) 'a');
            left -= n;
            return n;
        }
    }
}
