package idlewright.journal;

import idlewright.frame.Tuple;
import java.time.Instant;
import java.util.Objects;
import org.jspecify.annotations.Nullable;

/**
 * A kept file.
 *
 * @param sha256 hash of the original bytes, 64 hex digits
 * @param name file name, cleaned, with an ending that fits the content
 * @param mime what the content is, found by looking into it
 * @param size bytes
 * @param place the symptom's place on the ticket; null when it belongs to the whole ticket
 * @param what what it is: photo, log, document
 */
public record Exhibit(
        long id,
        String sha256,
        String name,
        String mime,
        long size,
        int ticket,
        @Nullable Integer place,
        String what,
        String caption,
        String keptBy,
        Instant keptAt) {

    /** Of a row with the columns of the table of exhibits. */
    public static Exhibit of(Tuple r) {
        return new Exhibit(
                r.getLong("id"),
                r.getString("sha256"),
                r.getString("name"),
                r.getString("mime"),
                r.getLong("size"),
                r.getInt("ticket"),
                r.getIntOrNull("place"),
                r.getString("what"),
                Objects.requireNonNullElse(r.getString("caption"), ""),
                r.getString("kept_by"),
                r.getInstant("kept_at"));
    }

    public boolean picture() {
        return mime.startsWith("image/");
    }
}
