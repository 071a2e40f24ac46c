package idlewright.billing.rules;

import java.math.BigDecimal;
import java.math.RoundingMode;

/** How clocked time becomes hours for charge: to the nearest step, and never to nothing. */
public enum HoursStep {
    EXACT("as clocked", "0.001"),
    TENTH("to 0.1 h", "0.1"),
    QUARTER("to 0.25 h", "0.25");

    private static final BigDecimal SECONDS = BigDecimal.valueOf(3600);

    private final String words;
    private final BigDecimal step;

    HoursStep(String words, String step) {
        this.words = words;
        this.step = new BigDecimal(step);
    }

    public String words() {
        return words;
    }

    /**
     * Hours for charge, a half step up.
     *
     * @param seconds above 0
     */
    public BigDecimal hours(long seconds) {
        if (seconds <= 0) {
            throw new IllegalArgumentException("No time: " + seconds + " s");
        }
        BigDecimal steps = BigDecimal.valueOf(seconds).divide(SECONDS.multiply(step), 0, RoundingMode.HALF_UP);
        return steps.max(BigDecimal.ONE).multiply(step);
    }
}
