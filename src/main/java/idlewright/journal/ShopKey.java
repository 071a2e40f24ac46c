package idlewright.journal;

import idlewright.journal.rules.Seal;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.GeneralSecurityException;
import java.security.KeyPair;
import java.security.KeyPairGenerator;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.event.EventListener;
import org.springframework.stereotype.Component;

/** The key this shop seals with: made at the first start, kept in the home folder where only its owner reads it. */
@Component("shopKey")
public class ShopKey {

    private static final boolean POSIX =
            FileSystems.getDefault().supportedFileAttributeViews().contains("posix");

    private static final Logger log = LoggerFactory.getLogger(ShopKey.class);

    private final Path file;
    private @Nullable KeyPair pair;

    ShopKey(@Value("${idlewright.home:./data}") Path home) {
        this.file = home.toAbsolutePath().normalize().resolve("seal-key.pem");
    }

    /** Both halves. */
    public synchronized KeyPair pair() {
        if (pair == null) {
            try {
                pair = Files.exists(file) ? read() : make();
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }
        return pair;
    }

    /** SHA-256 over the public half, 64 hex digits: what a stranger compares. */
    public String fingerprint() {
        return Seal.fingerprint(pair().getPublic());
    }

    /** The public half itself, as one line of Base64. */
    public String publicLine() {
        return Seal.oneLine(pair().getPublic());
    }

    /** A paper that is printed before the first seal already names the key. */
    @EventListener(ApplicationReadyEvent.class)
    void makeAtTheFirstStart() {
        try {
            pair();
        } catch (RuntimeException e) {
            log.error("The key this shop seals with, {}, cannot be read or made: {}", file, e.getMessage());
        }
    }

    private KeyPair read() throws IOException {
        String pem = Files.readString(file, StandardCharsets.US_ASCII);
        return new KeyPair(Seal.publicKey(pem), Seal.privateKey(pem));
    }

    private KeyPair make() throws IOException {
        KeyPair made;
        try {
            made = KeyPairGenerator.getInstance("Ed25519").generateKeyPair();
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException(e);
        }
        Files.createDirectories(file.getParent());
        Path part = file.resolveSibling("seal-key.pem.part");
        Files.deleteIfExists(part);
        var closed = POSIX
                ? new FileAttribute<?>[] {
                    PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rw-------"))
                }
                : new FileAttribute<?>[0];
        Files.createFile(part, closed);
        try (var out = FileChannel.open(part, StandardOpenOption.WRITE)) {
            // The JDK does not work the public half out of the private one, so both are kept.
            out.write(ByteBuffer.wrap(
                    (Seal.pem(made.getPrivate()) + Seal.pem(made.getPublic())).getBytes(StandardCharsets.US_ASCII)));
            out.force(true);
        }
        Files.move(part, file, StandardCopyOption.ATOMIC_MOVE);
        return made;
    }
}
