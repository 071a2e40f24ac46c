package idlewright.repair.rules;

import org.jspecify.annotations.Nullable;

/**
 * The part that came out, as it was read off it.
 *
 * @param number null where it could not be read
 * @param dateCode as printed
 * @param condition what it looked like, in the technician's words
 */
public record RemovedPart(
        @Nullable String number,
        @Nullable String maker,
        @Nullable String dateCode,
        String condition,
        Went went) {}
