package idlewright.intake.rules;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/** Words bound by a digest that proves them with their salt, and tells nothing of them without it. */
public final class Salted {

    private Salted() {}

    /** SHA-256 (FIPS 180-4) over the salt and then the words in UTF-8, in hex. */
    public static String digest(byte[] salt, String words) {
        try {
            var sha256 = MessageDigest.getInstance("SHA-256");
            sha256.update(salt);
            return HexFormat.of().formatHex(sha256.digest(words.getBytes(StandardCharsets.UTF_8)));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException(e);
        }
    }
}
