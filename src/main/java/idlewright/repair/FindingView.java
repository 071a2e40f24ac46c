package idlewright.repair;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * The cause a technician decided on.
 *
 * @param causeName as the catalogue called it then
 * @param plain the cause in the customer's words
 * @param words what the technician saw
 * @param correction what is to be done
 * @param reason why it took the place of an earlier finding, or null for the first
 * @param replaced whether a later finding took its place
 */
public record FindingView(
        long id,
        int place,
        String cause,
        String causeName,
        String plain,
        String words,
        String correction,
        Instant at,
        String who,
        @Nullable String reason,
        boolean replaced) {}
