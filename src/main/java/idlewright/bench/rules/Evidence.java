package idlewright.bench.rules;

import java.time.Instant;

/**
 * One thing known about a complaint.
 *
 * @param procedure key of the procedure, or {@link #ASKED} for an answer given at the counter
 * @param outcome key of the outcome
 * @param taken when; of several in one group of one procedure the latest counts
 */
public record Evidence(String procedure, String outcome, Instant taken) {
    public static final String ASKED = "asked";
}
