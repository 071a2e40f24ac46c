package idlewright.bench.rules;

import org.jspecify.annotations.Nullable;

/**
 * One thing that can be picked instead of a number.
 *
 * @param good whether picking it means all is well; null where it says neither
 */
public record Choice(String key, String words, @Nullable Boolean good) {}
