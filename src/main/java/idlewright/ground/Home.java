package idlewright.ground;

import static java.nio.charset.StandardCharsets.UTF_8;
import static java.nio.file.StandardCopyOption.ATOMIC_MOVE;
import static java.nio.file.StandardOpenOption.CREATE;
import static java.nio.file.StandardOpenOption.READ;
import static java.nio.file.StandardOpenOption.TRUNCATE_EXISTING;
import static java.nio.file.StandardOpenOption.WRITE;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.SecureRandom;
import java.util.HexFormat;
import java.util.Optional;

/** The folder in which one running Idlewright keeps what is its own; a second one is refused. */
final class Home implements AutoCloseable {

    private static final boolean POSIX =
            FileSystems.getDefault().supportedFileAttributeViews().contains("posix");
    /** Far beyond the file's text: a locked byte range cannot be read on Windows, and the text names the holder. */
    private static final long LOCKED_BYTE = Long.MAX_VALUE - 1;

    private final Path folder;
    private final FileChannel lockFile;

    private Home(Path folder, FileChannel lockFile) {
        this.folder = folder;
        this.lockFile = lockFile;
    }

    /** Makes the folder if need be, closes it to others and takes it for this process. */
    static Home occupy(Path wanted) {
        Path folder = wanted.toAbsolutePath().normalize();
        try {
            Files.createDirectories(folder);
            ownerOnly(folder, "rwx------");
            return new Home(folder, lock(folder));
        } catch (IOException e) {
            throw new CannotStart(
                    "The home folder " + folder + " cannot be used: " + e,
                    "Make it a folder that this user may write to, or name another by IDLEWRIGHT_HOME.",
                    e);
        }
    }

    private static FileChannel lock(Path folder) throws IOException {
        Path file = folder.resolve("home.lock");
        FileChannel channel = FileChannel.open(file, CREATE, READ, WRITE);
        FileLock lock = null;
        try {
            lock = channel.tryLock(LOCKED_BYTE, 1, false);
        } catch (OverlappingFileLockException heldInThisProcess) {
            // The refusal below is the same.
        }
        if (lock == null) {
            String holder = Files.readString(file, UTF_8).strip();
            channel.close();
            throw new CannotStart(
                    "Another Idlewright (process " + holder + ") is already using " + folder + ".",
                    "Stop that one first, or give this one a home of its own, for example IDLEWRIGHT_HOME=./data-2.");
        }
        channel.truncate(0);
        channel.write(
                ByteBuffer.wrap(Long.toString(ProcessHandle.current().pid()).getBytes(UTF_8)), 0);
        return channel;
    }

    Path folder() {
        return folder;
    }

    Path at(String name) {
        return folder.resolve(name);
    }

    Optional<String> read(String name) {
        try {
            Path file = at(name);
            return Files.exists(file)
                    ? Optional.of(Files.readString(file, UTF_8).strip())
                    : Optional.empty();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Writes a file that only its owner can read; there is the old text or the new one, never half of it. */
    void write(String name, String text) {
        try {
            Path part = at(name + ".part");
            Files.deleteIfExists(part);
            if (POSIX) {
                Files.createFile(
                        part, PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rw-------")));
            }
            try (FileChannel channel = FileChannel.open(part, CREATE, WRITE, TRUNCATE_EXISTING)) {
                channel.write(ByteBuffer.wrap((text + System.lineSeparator()).getBytes(UTF_8)));
                channel.force(true);
            }
            Files.move(part, at(name), ATOMIC_MOVE);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** The kept secret of that name; one of 192 random bits is made and kept if there is none. */
    String secret(String name) {
        return read(name).orElseGet(() -> {
            byte[] random = new byte[24];
            new SecureRandom().nextBytes(random);
            String made = HexFormat.of().formatHex(random);
            write(name, made);
            return made;
        });
    }

    private static void ownerOnly(Path path, String permissions) throws IOException {
        if (POSIX) {
            Files.setPosixFilePermissions(path, PosixFilePermissions.fromString(permissions));
        }
    }

    /** Lets the next one in. */
    @Override
    public void close() {
        try {
            lockFile.close();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
