package idlewright.journal.rules;

import idlewright.journal.rules.Verification.Fault;
import idlewright.journal.rules.Verification.Kind;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.time.Instant;
import java.util.HexFormat;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * Walks along the entries in their order and says where the first one is wrong. The chain is
 * {@code hash(n) = SHA-256(hash(n-1) || canonical(entry n))} with 32 zero bytes before the first.
 */
public final class Chain {

    /** What stands before the first entry. */
    public static final String START = "0".repeat(64);

    private static final HexFormat HEX = HexFormat.of();

    private final MessageDigest sha256 = Seal.sha256();
    private final StringBuilder canonical = new StringBuilder(512);
    private final @Nullable String known;

    private long last;
    private String head;
    private byte[] headBytes;
    private @Nullable Long knownAt;
    private @Nullable Fault fault;

    /** A walk from the first entry; the known head is one kept elsewhere, on paper or in a mail. */
    public Chain(@Nullable String known) {
        this(0, START, known);
    }

    private Chain(long last, String head, @Nullable String known) {
        this.last = last;
        this.head = head;
        this.headBytes = HEX.parseHex(head);
        this.known = known == null ? null : known.strip().toLowerCase(Locale.ROOT);
        if (head.equals(this.known)) {
            knownAt = last;
        }
    }

    /** A walk that goes on after the entry with this number and hash. */
    public static Chain after(long last, String head) {
        return new Chain(last, head, null);
    }

    /** Seals the next entry and steps onto it. */
    public Entry seal(
            Instant at,
            @Nullable Long personId,
            String person,
            String kind,
            @Nullable Integer ticket,
            String sentence,
            String facts) {
        var open = new Entry(last + 1, at, personId, person, kind, ticket, sentence, facts, head, "");
        var bytes = hash(open);
        var sealed =
                new Entry(open.id(), at, personId, person, kind, ticket, sentence, facts, head, HEX.formatHex(bytes));
        step(sealed, bytes);
        return sealed;
    }

    /** Looks at the next entry; false once a fault is found, after which nothing more is looked at. */
    public boolean accept(Entry entry) {
        if (fault != null) {
            return false;
        }
        if (entry.id() != last + 1) {
            return found(
                    last + 1,
                    entry.id() > last + 1 ? Kind.MISSING : Kind.OUT_OF_PLACE,
                    entry.id() > last + 1
                            ? "Entry %d is missing: after %d comes %d.".formatted(last + 1, last, entry.id())
                            : "Entry %d stands where %d belongs.".formatted(entry.id(), last + 1));
        }
        if (!entry.previousHash().equals(head)) {
            return found(
                    entry.id(),
                    Kind.OUT_OF_PLACE,
                    last == 0
                            ? "Entry 1 is not the first entry that was written."
                            : "Entry %d was not written after entry %d as it stands now.".formatted(entry.id(), last));
        }
        var bytes = hash(entry);
        if (!HEX.formatHex(bytes).equals(entry.hash())) {
            return found(
                    entry.id(), Kind.CHANGED, "Entry %d does not say what was written at first.".formatted(entry.id()));
        }
        step(entry, bytes);
        return true;
    }

    /** The outcome, once all entries were walked: the head row tells how far the chain should reach. */
    public Verification end(long headId, String headHash, Instant at) {
        if (fault == null && last < headId) {
            found(
                    last + 1,
                    Kind.CUT_OFF,
                    "Entries from %d on are gone: the head says that there were %d.".formatted(last + 1, headId));
        } else if (fault == null && (last > headId || !head.equals(headHash))) {
            found(last, Kind.CUT_OFF, "Entry %d is not the one that the head names as the last.".formatted(last));
        } else if (fault == null && known != null && knownAt == null) {
            found(
                    last,
                    Kind.OTHER_HEAD,
                    "No entry has the hash that was kept elsewhere: entries after it were cut off, or all of them were "
                            + "written anew.");
        }
        return new Verification(last, head, at, fault, knownAt);
    }

    /** The entry as the JSON that is hashed; its own hash is no part of it, the one before is put in front of it. */
    public static String canonical(Entry entry) {
        var out = new StringBuilder();
        write(entry, out);
        return out.toString();
    }

    private static void write(Entry entry, StringBuilder out) {
        // Members in the order of RFC 8785; the facts are canonical already and go in as they are.
        out.append("{\"at\":\"").append(entry.at()).append("\",\"facts\":").append(entry.facts());
        out.append(",\"id\":").append(entry.id());
        out.append(",\"kind\":");
        Canonical.string(entry.kind(), out);
        out.append(",\"person\":");
        Canonical.string(entry.person(), out);
        out.append(",\"personId\":").append(entry.personId());
        out.append(",\"sentence\":");
        Canonical.string(entry.sentence(), out);
        out.append(",\"ticket\":").append(entry.ticket()).append('}');
    }

    private byte[] hash(Entry entry) {
        canonical.setLength(0);
        write(entry, canonical);
        sha256.update(headBytes);
        return sha256.digest(canonical.toString().getBytes(StandardCharsets.UTF_8));
    }

    private void step(Entry entry, byte[] bytes) {
        last = entry.id();
        head = entry.hash();
        headBytes = bytes;
        if (head.equals(known)) {
            knownAt = last;
        }
    }

    private boolean found(long entry, Kind kind, String sentence) {
        fault = new Fault(entry, kind, sentence);
        return false;
    }
}
