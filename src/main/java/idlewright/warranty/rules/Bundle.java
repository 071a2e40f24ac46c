package idlewright.warranty.rules;

import idlewright.journal.rules.Seal;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.security.PrivateKey;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.util.HashSet;
import java.util.HexFormat;
import java.util.List;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;

/** Writes sealed files: each one, their SHA-256 in the form that {@code sha256sum -c} reads, and the signature over those. */
public final class Bundle {

    public static final String SUMS = "SHA256SUMS";
    public static final String SIGNATURE = "SHA256SUMS.sig";
    public static final String KEY = "shop-key.pem";

    /** Where bytes come from; opened once. */
    public interface Bytes {
        InputStream open() throws IOException;
    }

    /** A file of the bundle; its name is plain ASCII, with slashes. */
    public record Piece(String name, Bytes bytes) {

        public Piece {
            if (!name.matches("[A-Za-z0-9][A-Za-z0-9._-]*(/[A-Za-z0-9][A-Za-z0-9._-]*)*")) {
                throw new IllegalArgumentException("no name for a file: " + name);
            }
        }

        public static Piece of(String name, byte[] bytes) {
            return new Piece(name, () -> new ByteArrayInputStream(bytes));
        }

        public static Piece of(String name, String text) {
            return of(name, text.getBytes(StandardCharsets.UTF_8));
        }
    }

    private Bundle() {}

    /** Writes the ZIP; the pieces come in their order, the list of sums and its signature last. */
    public static void write(OutputStream out, List<Piece> pieces, PrivateKey key, Instant sealedAt)
            throws IOException {
        var sums = new StringBuilder();
        var names = new HashSet<String>();
        var at = LocalDateTime.ofInstant(sealedAt, ZoneOffset.UTC);
        var zip = new ZipOutputStream(out, StandardCharsets.UTF_8);
        for (Piece piece : pieces) {
            if (!names.add(piece.name()) || piece.name().startsWith(SUMS)) {
                throw new IllegalArgumentException("a second " + piece.name());
            }
            try (var bytes = piece.bytes().open()) {
                sums.append(put(zip, piece.name(), bytes, at))
                        .append("  ")
                        .append(piece.name())
                        .append('\n');
            }
        }
        byte[] list = sums.toString().getBytes(StandardCharsets.US_ASCII);
        put(zip, SUMS, new ByteArrayInputStream(list), at);
        put(zip, SIGNATURE, new ByteArrayInputStream(Seal.sign(list, key)), at);
        zip.finish();
    }

    private static String put(ZipOutputStream zip, String name, InputStream bytes, LocalDateTime at)
            throws IOException {
        var entry = new ZipEntry(name);
        entry.setTimeLocal(at);
        zip.putNextEntry(entry);
        var digest = Seal.sha256();
        var buffer = new byte[16 * 1024];
        for (int n = bytes.read(buffer); n >= 0; n = bytes.read(buffer)) {
            digest.update(buffer, 0, n);
            zip.write(buffer, 0, n);
        }
        zip.closeEntry();
        return HexFormat.of().formatHex(digest.digest());
    }
}
