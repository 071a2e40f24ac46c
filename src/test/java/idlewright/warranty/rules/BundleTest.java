package idlewright.warranty.rules;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assumptions.assumeThat;

import idlewright.journal.rules.Seal;
import idlewright.warranty.rules.Bundle.Piece;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.KeyPair;
import java.security.KeyPairGenerator;
import java.security.PublicKey;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import java.util.zip.ZipOutputStream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

@DisplayName("A sealed bundle")
class BundleTest {

    private static final Instant NOON = Instant.parse("2026-11-09T12:00:00Z");
    private static KeyPair shop;
    private static KeyPair stranger;

    @TempDir
    Path folder;

    @BeforeAll
    static void makeKeys() throws Exception {
        shop = KeyPairGenerator.getInstance("Ed25519").generateKeyPair();
        stranger = KeyPairGenerator.getInstance("Ed25519").generateKeyPair();
    }

    @Test
    @DisplayName("is whole and signed when nothing was changed")
    void isWholeAndSigned() throws Exception {
        var looked = check(write(sealed(shop)), shop.getPublic());
        assertThat(looked.whole()).isTrue();
        assertThat(looked.signed()).isTrue();
        assertThat(looked.firstBad()).isNull();
        assertThat(looked.fingerprint()).isEqualTo(Seal.fingerprint(shop.getPublic()));
        assertThat(looked.sentence()).isEqualTo("All 4 files are as they were sealed, and the seal is this shop's.");
    }

    @Test
    @DisplayName("passes sha256sum -c and openssl pkeyutl -verify")
    void passesOrdinaryTools() throws Exception {
        unpack(sealed(shop));
        assertThat(run("sha256sum", "-c", "SHA256SUMS"))
                .isEqualTo("0:dossier.pdf: OK\nreadings.csv: OK\nphotos/photo-01.jpg: OK\nshop-key.pem: OK\n");
        assertThat(run(
                        "openssl",
                        "pkeyutl",
                        "-verify",
                        "-pubin",
                        "-inkey",
                        "shop-key.pem",
                        "-rawin",
                        "-in",
                        "SHA256SUMS",
                        "-sigfile",
                        "SHA256SUMS.sig"))
                .startsWith("0:")
                .contains("Signature Verified Successfully");
        assertThat(run("sh", "-c", "openssl pkey -pubin -in shop-key.pem -outform DER | sha256sum"))
                .isEqualTo("0:" + Seal.fingerprint(shop.getPublic()) + "  -\n");
    }

    @Test
    @DisplayName("fails both tools once a byte is changed")
    void failsOrdinaryTools() throws Exception {
        unpack(sealed(shop));
        Files.writeString(folder.resolve("readings.csv"), "9.6", StandardCharsets.UTF_8);
        assertThat(run("sha256sum", "-c", "SHA256SUMS")).startsWith("1:").contains("readings.csv: FAILED");
        Files.writeString(folder.resolve("SHA256SUMS"), "0".repeat(64) + "  readings.csv\n", StandardCharsets.UTF_8);
        assertThat(run(
                        "openssl",
                        "pkeyutl",
                        "-verify",
                        "-pubin",
                        "-inkey",
                        "shop-key.pem",
                        "-rawin",
                        "-in",
                        "SHA256SUMS",
                        "-sigfile",
                        "SHA256SUMS.sig"))
                .startsWith("1:");
    }

    @ParameterizedTest(name = "names {0} when one byte of it was changed")
    @ValueSource(strings = {"dossier.pdf", "readings.csv", "photos/photo-01.jpg", "shop-key.pem"})
    void namesTheChangedFile(String name) throws Exception {
        var files = read(sealed(shop));
        files.get(name)[0] ^= 1;
        var looked = check(pack(files), shop.getPublic());
        assertThat(looked.whole()).isFalse();
        assertThat(looked.signed()).isTrue();
        assertThat(looked.firstBad()).isEqualTo(name);
        assertThat(looked.sentence()).contains("“" + name + "”");
    }

    @Test
    @DisplayName("names the first of two changed files, in the order of the list")
    void namesTheFirst() throws Exception {
        var files = read(sealed(shop));
        files.get("photos/photo-01.jpg")[0] ^= 1;
        files.get("readings.csv")[0] ^= 1;
        assertThat(check(pack(files), shop.getPublic()).firstBad()).isEqualTo("readings.csv");
    }

    @Test
    @DisplayName("names a missing and an added file")
    void namesMissingAndAdded() throws Exception {
        var files = read(sealed(shop));
        files.remove("readings.csv");
        var missing = check(pack(files), shop.getPublic());
        assertThat(missing.firstBad()).isEqualTo("readings.csv");
        assertThat(missing.sentence()).contains("missing");
        files = read(sealed(shop));
        files.put("more.txt", new byte[] {1});
        var added = check(pack(files), shop.getPublic());
        assertThat(added.whole()).isFalse();
        assertThat(added.firstBad()).isEqualTo("more.txt");
    }

    @ParameterizedTest(name = "is not signed when {0} was changed")
    @ValueSource(strings = {"SHA256SUMS", "SHA256SUMS.sig"})
    void isNotSigned(String name) throws Exception {
        var files = read(sealed(shop));
        files.get(name)[3] ^= 1;
        var looked = check(pack(files), shop.getPublic());
        assertThat(looked.signed()).isFalse();
        assertThat(looked.whole()).isFalse();
        files.remove(name);
        assertThat(check(pack(files), shop.getPublic()).firstBad()).isEqualTo(name);
    }

    @Test
    @DisplayName("is not this shop's when somebody else sealed it, however well")
    void isNotThisShops() throws Exception {
        var looked = check(write(sealed(stranger)), shop.getPublic());
        assertThat(looked.whole()).isTrue();
        assertThat(looked.signed()).isFalse();
        assertThat(looked.sentence()).startsWith("This was signed with a key that is not this shop's.");
    }

    @Test
    @DisplayName("never passes with any one bit of the file flipped, unless the flip says nothing")
    void neverPassesDamaged() throws Exception {
        byte[] zip = sealed(shop);
        var random = new Random(1042);
        var whole = read(zip);
        for (int i = 0; i < 150; i++) {
            byte[] broken = zip.clone();
            broken[random.nextInt(broken.length)] ^= (byte) (1 << random.nextInt(8));
            var looked = check(write(broken), shop.getPublic());
            if (looked.whole() && looked.signed()) {
                // Dates and other remarks of the ZIP itself are not sealed; what it holds is.
                unzipWithTheDirectory(broken, whole);
            }
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "no zip at all", "PK"})
    @DisplayName("is none when it cannot be read")
    void isNone(String bytes) throws Exception {
        var looked = check(write(bytes.getBytes(StandardCharsets.ISO_8859_1)), shop.getPublic());
        assertThat(looked.whole()).isFalse();
        assertThat(looked.sentence()).startsWith("This is not a ZIP that can be read");
    }

    @Test
    @DisplayName("that was cut off says so")
    void saysThatItWasCutOff() throws Exception {
        byte[] zip = sealed(shop);
        for (int length : new int[] {4, zip.length / 3, zip.length / 2, zip.length - 1}) {
            var looked = check(write(java.util.Arrays.copyOf(zip, length)), shop.getPublic());
            assertThat(looked.whole()).isFalse();
            assertThat(looked.sentence())
                    .isEqualTo(
                            "The ZIP is cut off or damaged: its list of contents cannot be read. Download it again.");
        }
    }

    @Test
    @DisplayName("whose file unpacks without end is given up early, and the file is named")
    void isNoBomb() throws Exception {
        var out = new ByteArrayOutputStream();
        Bundle.write(
                out,
                List.of(Piece.of("readings.csv", "rpm,g/s"), new Piece("bomb.csv", () -> new java.io.InputStream() {
                    private long left = 60_000_000;

                    @Override
                    public int read() {
                        return left-- > 0 ? '0' : -1;
                    }

                    @Override
                    public int read(byte[] buffer, int from, int length) {
                        int n = (int) Math.min(length, left);
                        left -= n;
                        java.util.Arrays.fill(buffer, from, from + n, (byte) '0');
                        return n > 0 ? n : -1;
                    }
                })),
                stranger.getPrivate(),
                NOON);
        assertThat(out.size()).isLessThan(100_000);
        var looked = check(write(out.toByteArray()), shop.getPublic());
        assertThat(looked.whole()).isFalse();
        assertThat(looked.firstBad()).isEqualTo("bomb.csv");
        assertThat(looked.files())
                .contains(new Checked.FileLook("bomb.csv", Checked.Kind.TOO_LARGE))
                .contains(new Checked.FileLook("readings.csv", Checked.Kind.SOUND));
    }

    @ParameterizedTest
    @ValueSource(strings = {"../up", "/abs", "a\nb", "a b", "", "SHA256SUMS"})
    @DisplayName("takes no name that could hurt")
    void takesNoBadName(String name) {
        assertThatIllegalArgumentException()
                .isThrownBy(() -> Bundle.write(
                        new ByteArrayOutputStream(), List.of(Piece.of(name, "x")), shop.getPrivate(), NOON));
    }

    @Test
    @DisplayName("keeps keys as PEM that read back the same")
    void keepsKeys() {
        assertThat(Seal.publicKey(Seal.pem(shop.getPublic()))).isEqualTo(shop.getPublic());
        assertThat(Seal.privateKey(Seal.pem(shop.getPrivate()))).isEqualTo(shop.getPrivate());
    }

    private static byte[] sealed(KeyPair pair) throws IOException {
        var out = new ByteArrayOutputStream();
        Bundle.write(
                out,
                List.of(
                        Piece.of("dossier.pdf", "%PDF"),
                        Piece.of("readings.csv", "rpm,g/s\r\n2500,9.6\r\n"),
                        Piece.of("photos/photo-01.jpg", new byte[] {1, 2, 3}),
                        Piece.of(Bundle.KEY, Seal.pem(pair.getPublic()))),
                pair.getPrivate(),
                NOON);
        return out.toByteArray();
    }

    private Checked check(Path zip, PublicKey... ours) {
        return Checked.of(zip, List.of(ours));
    }

    private Path write(byte[] zip) throws IOException {
        return Files.write(folder.resolve("sent.zip"), zip);
    }

    private static Map<String, byte[]> read(byte[] zip) throws IOException {
        var files = new LinkedHashMap<String, byte[]>();
        try (var in = new ZipInputStream(new ByteArrayInputStream(zip))) {
            for (ZipEntry entry = in.getNextEntry(); entry != null; entry = in.getNextEntry()) {
                files.put(entry.getName(), in.readAllBytes());
            }
        }
        return files;
    }

    private Path pack(Map<String, byte[]> files) throws IOException {
        var out = new ByteArrayOutputStream();
        try (var zip = new ZipOutputStream(out)) {
            for (var file : files.entrySet()) {
                zip.putNextEntry(new ZipEntry(file.getKey()));
                zip.write(file.getValue());
                zip.closeEntry();
            }
        }
        return write(out.toByteArray());
    }

    private void unzipWithTheDirectory(byte[] zip, Map<String, byte[]> whole) throws IOException {
        try (var read = new java.util.zip.ZipFile(write(zip).toFile())) {
            for (var file : whole.entrySet()) {
                try (var in = read.getInputStream(read.getEntry(file.getKey()))) {
                    assertThat(in.readAllBytes()).as(file.getKey()).isEqualTo(file.getValue());
                }
            }
        }
    }

    private void unpack(byte[] zip) throws IOException {
        for (var file : read(zip).entrySet()) {
            Path place = folder.resolve(file.getKey());
            Files.createDirectories(place.getParent());
            Files.write(place, file.getValue());
        }
    }

    /** Exit code and what was said; skips the test where the tool is missing. */
    private String run(String... command) throws Exception {
        Process process;
        try {
            process = new ProcessBuilder(command)
                    .directory(folder.toFile())
                    .redirectErrorStream(true)
                    .start();
        } catch (IOException missing) {
            assumeThat(false).as(command[0] + " is on this machine").isTrue();
            throw missing;
        }
        String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertThat(process.waitFor(20, TimeUnit.SECONDS)).isTrue();
        return process.exitValue() + ":" + said;
    }
}
