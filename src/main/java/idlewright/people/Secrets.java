package idlewright.people;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.GeneralSecurityException;
import java.security.MessageDigest;
import java.security.SecureRandom;
import java.util.Base64;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import javax.crypto.Mac;
import javax.crypto.spec.SecretKeySpec;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.security.crypto.argon2.Argon2PasswordEncoder;
import org.springframework.stereotype.Component;

/** Hashes passwords and PINs, and makes and checks the house's own seals. */
@Component
public class Secrets {

    private static final SecureRandom RANDOM = new SecureRandom();

    /** 19 MiB, 2 passes, 1 lane: the OWASP Password Storage Cheat Sheet's setting for Argon2id. */
    private final Argon2PasswordEncoder argon = new Argon2PasswordEncoder(16, 32, 1, 19 * 1024, 2);

    /** One hash takes about 0.1 s and 19 MiB; more than two at once would starve the pages of a small machine. */
    private final Semaphore turns = new Semaphore(2, true);

    private final byte[] pepper;
    private final String nobodys;

    Secrets(@Value("${idlewright.home:./data}") Path home) {
        pepper = pepper(home);
        nobodys = argon.encode(random());
    }

    /** Space around it is nobody's meaning, here as in every other field. */
    String hash(String password) {
        return inTurn(() -> argon.encode(password.strip()));
    }

    /** Takes as long for an unknown person (no hash) as for a known one. */
    boolean matches(String password, @Nullable String hash) {
        boolean same = inTurn(() -> argon.matches(password.strip(), hash == null ? nobodys : hash));
        return same && hash != null;
    }

    /** A PIN is too short for any hash alone; with the pepper a stolen database alone does not give it away. */
    String hashPin(String pin) {
        return hash(seal("pin", pin));
    }

    boolean matchesPin(String pin, @Nullable String hash) {
        return matches(seal("pin", pin), hash);
    }

    /** The house's mark on a text, for one purpose; only this house can make it. */
    public String seal(String purpose, String text) {
        try {
            Mac mac = Mac.getInstance("HmacSHA256");
            mac.init(new SecretKeySpec(pepper, "HmacSHA256"));
            byte[] sealed = mac.doFinal((purpose + "\n" + text).getBytes(StandardCharsets.UTF_8));
            return Base64.getUrlEncoder().withoutPadding().encodeToString(sealed);
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException(e);
        }
    }

    /** 128 random bits for a secret link. */
    public String seed() {
        byte[] random = new byte[16];
        RANDOM.nextBytes(random);
        return Base64.getUrlEncoder().withoutPadding().encodeToString(random);
    }

    /** The secret of a link: 132 bits of the house's mark on its seed, as hard to guess; the counter can show it again. */
    public String link(String purpose, String seed) {
        return seal(purpose, seed).substring(0, 22);
    }

    public boolean sealed(String purpose, String text, String seal) {
        return MessageDigest.isEqual(
                seal(purpose, text).getBytes(StandardCharsets.UTF_8), seal.getBytes(StandardCharsets.UTF_8));
    }

    /** 256 random bits as text. */
    static String random() {
        byte[] bytes = new byte[32];
        RANDOM.nextBytes(bytes);
        return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
    }

    /** SHA-256 is right for 128 random bits and more: there is nothing to guess, so nothing to slow down. */
    public static byte[] digest(String random) {
        try {
            return MessageDigest.getInstance("SHA-256").digest(random.getBytes(StandardCharsets.UTF_8));
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException(e);
        }
    }

    private <T> T inTurn(Supplier<T> work) {
        try {
            if (!turns.tryAcquire(10, TimeUnit.SECONDS)) {
                throw new SignInRefused("Too many people sign in at once. Try again in a moment.");
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new SignInRefused("The program is stopping. Try again in a moment.");
        }
        try {
            return work.get();
        } finally {
            turns.release();
        }
    }

    private static byte[] pepper(Path home) {
        Path file = home.resolve("pepper.key");
        try {
            if (Files.notExists(file)) {
                Files.createDirectories(home);
                makePepper(home, file);
            }
            byte[] key = Files.readAllBytes(file);
            if (key.length != 32) {
                throw new IllegalStateException(file + " is damaged: bring it back from the backup, PINs need it.");
            }
            return key;
        } catch (IOException e) {
            throw new UncheckedIOException("Cannot read or make " + file, e);
        }
    }

    /** Written aside and linked into place, so that a second instance never reads half a key. */
    private static void makePepper(Path home, Path file) throws IOException {
        boolean posix = Files.getFileStore(home).supportsFileAttributeView("posix");
        FileAttribute<?>[] onlyOurs = posix
                ? new FileAttribute<?>[] {
                    PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rw-------"))
                }
                : new FileAttribute<?>[0];
        Path aside = Files.createTempFile(home, "pepper", ".new", onlyOurs);
        try {
            byte[] key = new byte[32];
            RANDOM.nextBytes(key);
            Files.write(aside, key);
            try {
                Files.createLink(file, aside);
            } catch (UnsupportedOperationException noLinks) {
                Files.copy(aside, file);
            }
        } catch (FileAlreadyExistsException anotherWasFirst) {
            // its key is the one to use
        } finally {
            Files.deleteIfExists(aside);
        }
    }
}
