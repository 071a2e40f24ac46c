package idlewright.ground;

import static java.nio.charset.StandardCharsets.UTF_8;
import static java.nio.file.StandardCopyOption.ATOMIC_MOVE;
import static java.util.concurrent.TimeUnit.SECONDS;

import java.io.BufferedInputStream;
import java.io.File;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.URL;
import java.nio.file.DirectoryNotEmptyException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermission;
import java.security.DigestInputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.stream.Stream;
import org.apache.commons.compress.archivers.tar.TarArchiveEntry;
import org.apache.commons.compress.archivers.tar.TarArchiveInputStream;
import org.tukaani.xz.XZInputStream;

/** PostgreSQL's own programs, unpacked once from the archive that travels in the jar. */
final class Engine {

    private static final Duration PATIENCE = Duration.ofSeconds(90);

    private final Path folder;
    private final String version;

    private Engine(Path folder) {
        this.folder = folder;
        this.version = run("postgres", List.of("--version")).text().replaceAll("(?s).*?(\\d+(\\.\\d+)*).*", "$1");
    }

    /** Unpacks below {@code under}, unless the same archive has been unpacked there before. */
    static Engine under(Path under) {
        String name = archiveName();
        URL archive = Engine.class.getResource("/" + name);
        if (archive == null) {
            throw new CannotStart(
                    "This build carries no PostgreSQL for " + System.getProperty("os.name") + " on "
                            + System.getProperty("os.arch") + " (" + name + ").",
                    "Build on the machine it will run on, or name a PostgreSQL of your own by spring.datasource.url.");
        }
        try {
            Path folder = under.resolve(fingerprint(archive));
            if (!Files.isDirectory(folder)) {
                Files.createDirectories(under);
                Path part = Files.createTempDirectory(under, "unpacking-");
                unpack(archive, part);
                try {
                    Files.move(part, folder, ATOMIC_MOVE);
                } catch (FileAlreadyExistsException | DirectoryNotEmptyException unpackedMeanwhile) {
                    deleteAll(part);
                }
            }
            return new Engine(folder);
        } catch (IOException e) {
            throw new CannotStart(
                    "PostgreSQL's programs cannot be unpacked below " + under + ": " + e,
                    "See that there are 100 MB free and that programs may be run from there.",
                    e);
        }
    }

    private static String archiveName() {
        String os = System.getProperty("os.name").toLowerCase(Locale.ROOT);
        String arch = System.getProperty("os.arch").toLowerCase(Locale.ROOT);
        String system =
                os.contains("win") && !os.contains("darwin") ? "windows" : os.contains("mac") ? "darwin" : "linux";
        return "postgres-" + system + "-" + (arch.equals("aarch64") ? "arm_64" : "x86_64") + ".txz";
    }

    private static String fingerprint(URL archive) throws IOException {
        try (DigestInputStream in = new DigestInputStream(archive.openStream(), MessageDigest.getInstance("SHA-256"))) {
            in.transferTo(OutputStream.nullOutputStream());
            return HexFormat.of().formatHex(in.getMessageDigest().digest()).substring(0, 16);
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException(e);
        }
    }

    private static void unpack(URL archive, Path into) throws IOException {
        boolean posix = FileSystems.getDefault().supportedFileAttributeViews().contains("posix");
        try (InputStream raw = new BufferedInputStream(archive.openStream(), 1 << 16);
                TarArchiveInputStream tar = new TarArchiveInputStream(new XZInputStream(raw))) {
            for (TarArchiveEntry entry = tar.getNextEntry(); entry != null; entry = tar.getNextEntry()) {
                Path target = into.resolve(entry.getName()).normalize();
                if (!target.startsWith(into)) {
                    throw new IOException("entry leads out of the archive: " + entry.getName());
                }
                if (entry.isDirectory()) {
                    Files.createDirectories(target);
                    continue;
                }
                Files.createDirectories(target.getParent());
                if (entry.isSymbolicLink()) {
                    Files.createSymbolicLink(target, Path.of(entry.getLinkName()));
                } else if (entry.isLink()) {
                    Files.createLink(target, into.resolve(entry.getLinkName()).normalize());
                } else {
                    Files.copy(tar, target);
                    if (posix && (entry.getMode() & 0100) != 0) {
                        Set<PosixFilePermission> permissions = Files.getPosixFilePermissions(target);
                        permissions.add(PosixFilePermission.OWNER_EXECUTE);
                        permissions.add(PosixFilePermission.GROUP_EXECUTE);
                        permissions.add(PosixFilePermission.OTHERS_EXECUTE);
                        Files.setPosixFilePermissions(target, permissions);
                    }
                }
            }
        }
    }

    static void deleteAll(Path folder) throws IOException {
        if (!Files.exists(folder)) {
            return;
        }
        try (Stream<Path> all = Files.walk(folder)) {
            for (Path path : all.sorted(Comparator.reverseOrder()).toList()) {
                Files.deleteIfExists(path);
            }
        }
    }

    /** Full version, such as 18.6. */
    String version() {
        return version;
    }

    /** The major version, the part of the version that decides whether a data folder can be read. */
    String major() {
        return version.replaceAll("\\..*", "");
    }

    record Outcome(int code, String text) {
        boolean good() {
            return code == 0;
        }
    }

    /** Runs one of PostgreSQL's programs to its end. */
    Outcome run(String program, List<String> arguments) {
        List<String> command = new ArrayList<>();
        if (asRoot() && !arguments.contains("--version")) {
            // PostgreSQL refuses to run as root; in a user namespace of its own it is nobody, yet still owns its files.
            command.addAll(List.of("unshare", "-U"));
        }
        command.add(folder.resolve("bin").resolve(program).toString());
        command.addAll(arguments);
        Path output = null;
        try {
            // A file, not a pipe: the server inherits the handle, and a pipe would never come to its end.
            output = Files.createTempFile("idlewright-" + program, ".txt");
            ProcessBuilder builder = new ProcessBuilder(command)
                    .redirectErrorStream(true)
                    .redirectOutput(output.toFile())
                    .redirectInput(ProcessBuilder.Redirect.from(nothing()));
            builder.environment().keySet().removeIf(name -> name.startsWith("PG") || name.startsWith("LC_"));
            builder.environment().put("LC_ALL", "C");
            Process process = builder.start();
            if (!process.waitFor(PATIENCE.toSeconds(), SECONDS)) {
                process.destroyForcibly();
                return new Outcome(-1, program + " did not end within " + PATIENCE.toSeconds() + " s");
            }
            return explain(new Outcome(
                    process.exitValue(), Files.readString(output, UTF_8).strip()));
        } catch (IOException e) {
            return explain(new Outcome(-1, e.toString()));
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted while " + program + " was running", e);
        } finally {
            if (output != null) {
                output.toFile().delete();
            }
        }
    }

    private static Outcome explain(Outcome outcome) {
        if (!outcome.good() && outcome.text().contains("unshare")) {
            throw new CannotStart(
                    "PostgreSQL does not run as root, and this machine gives root no user namespace to step down in: "
                            + outcome.text(),
                    "Start Idlewright as an ordinary user, or name a PostgreSQL of your own by spring.datasource.url.");
        }
        return outcome;
    }

    static boolean asRoot() {
        return "root".equals(System.getProperty("user.name")) && Files.exists(Path.of("/proc/self/ns/user"));
    }

    private static File nothing() {
        return new File(System.getProperty("os.name").startsWith("Windows") ? "NUL" : "/dev/null");
    }

    /** Whether this process is a PostgreSQL server that serves that data folder. */
    static boolean serves(ProcessHandle process, Path data) {
        ProcessHandle.Info info = process.info();
        boolean postgres = info.command()
                .map(command -> Path.of(command).getFileName().toString().startsWith("postgres"))
                .orElse(false);
        // Where the system tells the arguments, they must name the folder: process numbers are given out again.
        return postgres
                && info.arguments()
                        .map(arguments -> List.of(arguments).contains(data.toString()))
                        .orElse(true);
    }
}
