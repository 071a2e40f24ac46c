package idlewright.journal.rules;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * One line of the journal.
 *
 * @param id its place in the chain, from 1 without gaps
 * @param at when it was noted, to the microsecond
 * @param personId whose act it was; null when the system did it
 * @param facts the facts as canonical JSON, always an object
 * @param previousHash hash of the entry before, as 64 hex digits
 * @param hash SHA-256 over the previous hash and this entry's canonical form, as 64 hex digits
 */
public record Entry(
        long id,
        Instant at,
        @Nullable Long personId,
        String person,
        String kind,
        @Nullable Integer ticket,
        String sentence,
        String facts,
        String previousHash,
        String hash) {}
