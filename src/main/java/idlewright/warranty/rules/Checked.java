package idlewright.warranty.rules;

import idlewright.journal.rules.Seal;
import idlewright.warranty.rules.Checked.Kind;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.PublicKey;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import java.util.zip.ZipEntry;
import java.util.zip.ZipException;
import java.util.zip.ZipFile;
import org.jspecify.annotations.Nullable;

/**
 * What a look at a sealed ZIP found.
 *
 * @param whole every file is there and as it was when the list was written
 * @param signed the list is signed by a key of this shop
 * @param fingerprint of the key that the signature holds for, null when it holds for none
 * @param firstBad name of the first file that is not as it was sealed, null when there is none
 * @param sentence all of it in words
 * @param files each file that was looked at, in the order of the list
 */
public record Checked(
        boolean whole,
        boolean signed,
        @Nullable String fingerprint,
        @Nullable String firstBad,
        String sentence,
        List<FileLook> files) {

    /** One file and how it stands. */
    public record FileLook(String name, Kind kind) {}

    /** How a file can stand. */
    public enum Kind {
        SOUND("as sealed"),
        CHANGED("changed"),
        MISSING("missing"),
        ADDED("added later"),
        UNREADABLE("cannot be read"),
        TOO_LARGE("unpacks to more than any dossier holds");

        private final String words;

        Kind(String words) {
            this.words = words;
        }

        public String words() {
            return words;
        }
    }

    private static final int MOST_FILES = 2_000;
    private static final long MOST_BYTES = 500L * 1024 * 1024;
    /** Text of a log packs about 20 times; only bombs pack better than this. */
    private static final long MOST_TIMES = 100;

    private static final int MOST_LIST = 400_000;
    private static final Pattern LINE = Pattern.compile("([0-9a-f]{64}) [ *](.+)");

    /** Looks at a ZIP that anybody may have sent; nothing is unpacked to disk. */
    public static Checked of(Path file, Collection<PublicKey> ours) {
        try (var zip = new ZipFile(file.toFile())) {
            return look(zip, ours, Math.min(MOST_BYTES, MOST_TIMES * Files.size(file)));
        } catch (IOException | IllegalArgumentException notReadable) {
            return no(
                    null,
                    beginsLikeAZip(file)
                            ? "The ZIP is cut off or damaged: its list of contents cannot be read. Download it again."
                            : "This is not a ZIP that can be read; send the file as it was downloaded.");
        }
    }

    private static boolean beginsLikeAZip(Path file) {
        try (var in = Files.newInputStream(file)) {
            return Arrays.equals(in.readNBytes(4), new byte[] {'P', 'K', 3, 4});
        } catch (IOException gone) {
            return false;
        }
    }

    private static Checked look(ZipFile zip, Collection<PublicKey> ours, long most) throws IOException {
        var entries = new LinkedHashMap<String, ZipEntry>();
        for (ZipEntry entry : zip.stream().toList()) {
            if (entry.isDirectory()) {
                continue;
            }
            if (entries.put(entry.getName(), entry) != null || entries.size() > MOST_FILES) {
                return no(
                        entry.getName(),
                        "The ZIP holds “%s” twice or too many files; no dossier does.".formatted(entry.getName()));
            }
        }
        byte[] list = small(zip, entries.get(Bundle.SUMS));
        byte[] signature = small(zip, entries.get(Bundle.SIGNATURE));
        if (list == null || signature == null) {
            String missing = list == null ? Bundle.SUMS : Bundle.SIGNATURE;
            return no(missing, "“%s” is missing or cannot be read, so this is no sealed dossier.".formatted(missing));
        }
        var sums = sums(new String(list, StandardCharsets.UTF_8));
        if (sums.isEmpty()) {
            return no(Bundle.SUMS, "“%s” names no file.".formatted(Bundle.SUMS));
        }
        var files = files(zip, entries, sums, most);
        String firstBad = files.stream()
                .filter(look -> look.kind() != Kind.SOUND)
                .map(FileLook::name)
                .findFirst()
                .orElse(null);
        PublicKey signer = ours.stream()
                .filter(key -> Seal.holds(list, signature, key))
                .findFirst()
                .orElse(null);
        if (signer != null) {
            String print = Seal.fingerprint(signer);
            return new Checked(firstBad == null, true, print, firstBad, signedWords(files, firstBad), files);
        }
        PublicKey stranger = stranger(zip, entries.get(Bundle.KEY));
        if (stranger != null && Seal.holds(list, signature, stranger)) {
            return new Checked(
                    firstBad == null,
                    false,
                    Seal.fingerprint(stranger),
                    firstBad,
                    "This was signed with a key that is not this shop's."
                            + (firstBad == null ? "" : " And “%s” is not as it was sealed.".formatted(firstBad)),
                    files);
        }
        return new Checked(
                false,
                false,
                null,
                firstBad == null ? Bundle.SUMS : firstBad,
                firstBad == null
                        ? "The signature does not hold: “%s” or its signature was changed after it was sealed."
                                .formatted(Bundle.SUMS)
                        : "“%s” is not as it was sealed, and the signature does not hold either.".formatted(firstBad),
                files);
    }

    private static String signedWords(List<FileLook> files, @Nullable String firstBad) {
        if (firstBad == null) {
            return "All %d files are as they were sealed, and the seal is this shop's.".formatted(files.size());
        }
        var bad = files.stream()
                .filter(look -> look.name().equals(firstBad))
                .findFirst()
                .orElseThrow();
        return "The list is signed by this shop, but “%s” is not as it was sealed: %s."
                .formatted(firstBad, bad.kind().words());
    }

    private static List<FileLook> files(
            ZipFile zip, Map<String, ZipEntry> entries, Map<String, String> sums, long most) {
        var files = new ArrayList<FileLook>();
        long[] room = {most};
        sums.forEach((name, sum) -> {
            ZipEntry entry = entries.get(name);
            files.add(new FileLook(name, entry == null ? Kind.MISSING : compare(zip, entry, sum, room)));
        });
        entries.keySet().stream()
                .filter(name -> !sums.containsKey(name) && !name.equals(Bundle.SUMS) && !name.equals(Bundle.SIGNATURE))
                .forEach(name -> files.add(new FileLook(name, Kind.ADDED)));
        return List.copyOf(files);
    }

    private static Kind compare(ZipFile zip, ZipEntry entry, String sum, long[] room) {
        try (InputStream in = zip.getInputStream(entry)) {
            var digest = Seal.sha256();
            var buffer = new byte[64 * 1024];
            for (int n = in.read(buffer); n >= 0; n = in.read(buffer)) {
                room[0] -= n;
                if (room[0] < 0) {
                    return Kind.TOO_LARGE;
                }
                digest.update(buffer, 0, n);
            }
            return HexFormat.of().formatHex(digest.digest()).equals(sum) ? Kind.SOUND : Kind.CHANGED;
        } catch (ZipException brokenInside) {
            return Kind.CHANGED;
        } catch (IOException e) {
            return Kind.UNREADABLE;
        }
    }

    /** In the order of the list; a name that comes twice keeps its first sum. */
    private static Map<String, String> sums(String list) {
        var sums = new LinkedHashMap<String, String>();
        list.lines()
                .map(LINE::matcher)
                .filter(java.util.regex.Matcher::matches)
                .forEach(line -> sums.putIfAbsent(line.group(2), line.group(1)));
        return sums;
    }

    private static byte @Nullable [] small(ZipFile zip, @Nullable ZipEntry entry) {
        if (entry == null) {
            return null;
        }
        try (var in = zip.getInputStream(entry)) {
            byte[] read = in.readNBytes(MOST_LIST + 1);
            return read.length > MOST_LIST ? null : read;
        } catch (IOException broken) {
            return null;
        }
    }

    private static @Nullable PublicKey stranger(ZipFile zip, @Nullable ZipEntry entry) {
        byte[] pem = small(zip, entry);
        try {
            return pem == null ? null : Seal.publicKey(new String(pem, StandardCharsets.US_ASCII));
        } catch (IllegalArgumentException noKey) {
            return null;
        }
    }

    private static Checked no(@Nullable String firstBad, String sentence) {
        return new Checked(false, false, null, firstBad, sentence, List.of());
    }
}
