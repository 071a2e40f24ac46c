package idlewright.warranty.model;

import idlewright.frame.Refused;
import idlewright.journal.rules.Seal;
import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.channels.Channels;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.security.DigestOutputStream;
import java.util.HexFormat;
import java.util.UUID;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.stereotype.Component;

/** The folder of sealed dossiers, each file under its SHA-256; a file is there as a whole or not at all. */
@Component
public class Vault {

    /** Writes what is to be kept. */
    public interface Writing {
        void to(OutputStream out) throws IOException;
    }

    /** A file that is kept, and how large it is. */
    public record Kept(String sha256, long size) {}

    private static final Logger LOG = LoggerFactory.getLogger(Vault.class);

    private final Path root;

    Vault(@Value("${idlewright.home:./data}") Path home) {
        this.root = home.toAbsolutePath().normalize().resolve("dossiers");
    }

    /** Keeps a file so that it outlives a power cut from here on; the row that names it is written after. */
    public Kept keep(Writing writing) {
        Path part = root.resolve(UUID.randomUUID() + ".part");
        try {
            Files.createDirectories(root);
            var digest = Seal.sha256();
            long size;
            try (var channel = FileChannel.open(part, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
                    var out = new BufferedOutputStream(
                            new DigestOutputStream(Channels.newOutputStream(channel), digest), 65_536)) {
                writing.to(out);
                out.flush();
                channel.force(true);
                size = channel.size();
            }
            String sha256 = HexFormat.of().formatHex(digest.digest());
            Path place = place(sha256);
            Files.createDirectories(place.getParent());
            Files.move(part, place, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
            flush(place.getParent());
            flush(place.getParent().getParent());
            return new Kept(sha256, size);
        } catch (IOException e) {
            throw Refused.because(
                    "The dossier could not be stored: the disk is full or can't be written to. Nothing was sealed.");
        } finally {
            forget(part);
        }
    }

    public Path place(String sha256) {
        return root.resolve(sha256.substring(0, 2))
                .resolve(sha256.substring(2, 4))
                .resolve(sha256);
    }

    /** Takes a file away for good; backups hold it until they are overwritten. */
    public void destroy(String sha256) {
        Path place = place(sha256);
        try {
            Files.deleteIfExists(place);
            flush(place.getParent());
        } catch (IOException e) {
            LOG.error("A dossier's file could not be destroyed; delete it by hand: {}", place, e);
        }
    }

    private static void flush(Path folder) {
        try (var channel = FileChannel.open(folder, StandardOpenOption.READ)) {
            channel.force(true);
        } catch (IOException onlyUnixOpensFolders) {
            // Elsewhere the rename is flushed by the file system itself.
        }
    }

    private static void forget(Path part) {
        try {
            Files.deleteIfExists(part);
        } catch (IOException leftOver) {
            // Half a file nobody names.
        }
    }
}
