package idlewright.journal;

import java.time.Instant;
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

    public boolean picture() {
        return mime.startsWith("image/");
    }
}
