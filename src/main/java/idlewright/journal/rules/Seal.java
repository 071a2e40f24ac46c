package idlewright.journal.rules;

import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.security.PrivateKey;
import java.security.PublicKey;
import java.security.Signature;
import java.security.spec.PKCS8EncodedKeySpec;
import java.security.spec.X509EncodedKeySpec;
import java.util.Base64;
import java.util.HexFormat;
import java.util.regex.Pattern;

/** Ed25519 signatures (RFC 8032) and keys as PEM (RFC 7468), as OpenSSL reads them. */
public final class Seal {

    private static final String KIND = "Ed25519";
    private static final Base64.Encoder LINES = Base64.getMimeEncoder(64, "\n".getBytes(StandardCharsets.US_ASCII));

    private Seal() {}

    public static byte[] sign(byte[] text, PrivateKey key) {
        try {
            var signature = Signature.getInstance(KIND);
            signature.initSign(key);
            signature.update(text);
            return signature.sign();
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException(e);
        }
    }

    /** False also for what is no signature at all. */
    public static boolean holds(byte[] text, byte[] signed, PublicKey key) {
        try {
            var signature = Signature.getInstance(KIND);
            signature.initVerify(key);
            signature.update(text);
            return signature.verify(signed);
        } catch (GeneralSecurityException noSignature) {
            return false;
        }
    }

    public static String pem(PublicKey key) {
        return block("PUBLIC KEY", key.getEncoded());
    }

    public static String pem(PrivateKey key) {
        return block("PRIVATE KEY", key.getEncoded());
    }

    /**
     * Reads the first public key of a text.
     *
     * @throws IllegalArgumentException when there is none
     */
    public static PublicKey publicKey(String pem) {
        try {
            return KeyFactory.getInstance(KIND).generatePublic(new X509EncodedKeySpec(der("PUBLIC KEY", pem)));
        } catch (GeneralSecurityException e) {
            throw new IllegalArgumentException("That is no Ed25519 public key.", e);
        }
    }

    /**
     * Reads the first private key of a text.
     *
     * @throws IllegalArgumentException when there is none
     */
    public static PrivateKey privateKey(String pem) {
        try {
            return KeyFactory.getInstance(KIND).generatePrivate(new PKCS8EncodedKeySpec(der("PRIVATE KEY", pem)));
        } catch (GeneralSecurityException e) {
            throw new IllegalArgumentException("That is no Ed25519 private key.", e);
        }
    }

    /** The key's DER form in Base64, one line, as it is printed on paper. */
    public static String oneLine(PublicKey key) {
        return Base64.getEncoder().encodeToString(key.getEncoded());
    }

    /** SHA-256 over the key's DER form, 64 hex digits. */
    public static String fingerprint(PublicKey key) {
        return sha256(key.getEncoded());
    }

    /** SHA-256 as 64 hex digits. */
    public static String sha256(byte[] bytes) {
        return HexFormat.of().formatHex(sha256().digest(bytes));
    }

    public static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException impossible) {
            throw new IllegalStateException(impossible);
        }
    }

    private static String block(String what, byte[] der) {
        return "-----BEGIN %s-----\n%s\n-----END %s-----\n".formatted(what, LINES.encodeToString(der), what);
    }

    private static byte[] der(String what, String pem) {
        var block = Pattern.compile("-----BEGIN " + what + "-----([A-Za-z0-9+/=\\s]+)-----END " + what + "-----")
                .matcher(pem);
        if (!block.find()) {
            throw new IllegalArgumentException("There is no " + what.toLowerCase(java.util.Locale.ROOT) + " in it.");
        }
        return Base64.getMimeDecoder().decode(block.group(1));
    }
}
