package idlewright.journal.model;

import idlewright.frame.Refused;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.security.DigestInputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Clock;
import java.time.Duration;
import java.util.HexFormat;
import java.util.UUID;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.stereotype.Component;

/** The folder of kept files, each under its SHA-256; a file is there as a whole or not at all. */
@Component
public class Shelf {

    /** The largest file that is kept, in bytes. */
    public static final long LARGEST = 25L << 20;

    /** The largest log: a million rows of a scan tool take 50 to 100 MB. */
    public static final long LARGEST_LOG = 150L << 20;

    private static final String FULL =
            "The file could not be stored: the disk is full or can't be written to. Nothing was "
                    + "kept. Make room on the disk and send it again.";

    private static final String ARRIVING = "arriving";

    private final Path root;

    @Autowired
    Shelf(@Value("${idlewright.home:./data}") Path home, Clock clock) {
        this(home.resolve("exhibits"));
        forgetHalves(clock);
    }

    Shelf(Path root) {
        this.root = root.toAbsolutePath().normalize();
    }

    /** A file that has arrived but stands on no shelf yet; closing it throws it away unless it was put there. */
    public final class Arrived implements AutoCloseable {

        private final Path file;
        private final String sha256;
        private final long size;

        private Arrived(Path file, String sha256, long size) {
            this.file = file;
            this.sha256 = sha256;
            this.size = size;
        }

        public Path file() {
            return file;
        }

        public String sha256() {
            return sha256;
        }

        public long size() {
            return size;
        }

        /** Puts it on the shelf, so that it outlives a power cut from here on. */
        public void keep() {
            var place = place(sha256);
            var shelf = root.resolve(sha256.substring(0, 2));
            var compartment = shelf.resolve(sha256.substring(2, 4));
            try {
                Files.createDirectories(compartment);
                Files.move(file, place, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
                flush(compartment);
                flush(shelf);
                flush(root);
            } catch (IOException e) {
                throw Refused.at("file", FULL);
            }
        }

        @Override
        public void close() {
            delete(file);
        }
    }

    /** Takes a file in beside the shelves; refuses an empty one, a too large one, and when there is no room. */
    public Arrived take(InputStream bytes) {
        return take(bytes, LARGEST);
    }

    /** As {@link #take(InputStream)}, with another limit. */
    public Arrived take(InputStream bytes, long largest) {
        var file = root.resolve(ARRIVING).resolve(UUID.randomUUID() + ".part");
        var taken = false;
        try {
            var digest = new DigestInputStream(bytes, MessageDigest.getInstance("SHA-256"));
            var size = write(digest, file, largest);
            if (size == 0) {
                throw Refused.at("file", "The file is empty. Choose another one.");
            }
            taken = true;
            return new Arrived(
                    file, HexFormat.of().formatHex(digest.getMessageDigest().digest()), size);
        } catch (NoSuchAlgorithmException impossible) {
            throw new IllegalStateException(impossible);
        } finally {
            if (!taken) {
                delete(file);
            }
        }
    }

    private long write(InputStream bytes, Path file, long largest) {
        var buffer = new byte[64 * 1024];
        var size = 0L;
        try (var out = create(file)) {
            for (int n = read(bytes, buffer); n >= 0; n = read(bytes, buffer)) {
                size += n;
                if (size > largest) {
                    throw tooLarge(largest);
                }
                for (var rest = ByteBuffer.wrap(buffer, 0, n); rest.hasRemaining(); ) {
                    out.write(rest);
                }
            }
            out.force(true);
            return size;
        } catch (IOException e) {
            throw Refused.at("file", FULL);
        }
    }

    /** What is said of a file that is too large. */
    public static Refused tooLarge(long largest) {
        return Refused.at("file", "The file is larger than %d MB. Choose a smaller one.".formatted(largest >> 20));
    }

    private static int read(InputStream bytes, byte[] buffer) {
        try {
            return bytes.read(buffer);
        } catch (IOException senderGone) {
            throw new UncheckedIOException(senderGone);
        }
    }

    FileChannel create(Path file) throws IOException {
        Files.createDirectories(root.resolve(ARRIVING));
        return FileChannel.open(file, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
    }

    public Path place(String sha256) {
        return root.resolve(sha256.substring(0, 2))
                .resolve(sha256.substring(2, 4))
                .resolve(sha256);
    }

    /** The original bytes. */
    public InputStream open(String sha256) {
        try {
            return Files.newInputStream(place(sha256));
        } catch (IOException e) {
            throw new UncheckedIOException("the exhibits folder has no " + sha256, e);
        }
    }

    private static void flush(Path folder) {
        try (var channel = FileChannel.open(folder, StandardOpenOption.READ)) {
            channel.force(true);
        } catch (IOException onlyUnixOpensFolders) {
            // Elsewhere the rename is flushed by the file system itself.
        }
    }

    private static void delete(Path file) {
        try {
            Files.deleteIfExists(file);
        } catch (IOException leftOver) {
            // Goes at the next start.
        }
    }

    private void forgetHalves(Clock clock) {
        var aDayAgo = clock.instant().minus(Duration.ofDays(1));
        try (var halves = Files.newDirectoryStream(root.resolve(ARRIVING), "*.part")) {
            for (var half : halves) {
                if (Files.getLastModifiedTime(half).toInstant().isBefore(aDayAgo)) {
                    delete(half);
                }
            }
        } catch (IOException noneYet) {
            // Nothing has arrived so far.
        }
    }
}
