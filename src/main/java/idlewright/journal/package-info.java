/**
 * The journal: who did what, append-only and hash-chained, and the exhibits, kept byte for byte and known by their hash.
 * This room never changes or deletes what it has taken in, and it knows a ticket only by its number.
 */
@NullMarked
package idlewright.journal;

import org.jspecify.annotations.NullMarked;
