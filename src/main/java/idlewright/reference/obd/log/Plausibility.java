package idlewright.reference.obd.log;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * Whether a log can be of a car. Two signs against it: values no car shows, and one raw byte behind all quantities at
 * once, as a simulator without an engine model sends.
 */
final class Plausibility {
    /** Share of impossible values from which a column is not believed. */
    private static final double TOO_MANY = 0.05;

    private static final int FEWEST_ALIKE = 4;
    private static final int ROUNDS_LOOKED_AT = 5_000;

    private final long[] n = new long[Held.SIZE];
    private final long[] outside = new long[Held.SIZE];
    private final double[] lowest = new double[Held.SIZE];
    private final double[] highest = new double[Held.SIZE];
    private final double[] round = new double[Held.SIZE];
    private long inRound;
    private long rounds;
    private long roundsAlike;

    /** Takes one value; false when no running car shows it. */
    boolean believes(LogQuantity quantity, double value) {
        int q = quantity.ordinal();
        if (n[q]++ == 0) {
            lowest[q] = value;
            highest[q] = value;
        } else if (value < lowest[q]) {
            lowest[q] = value;
        } else if (value > highest[q]) {
            highest[q] = value;
        }
        if (rounds < ROUNDS_LOOKED_AT) {
            round(quantity, value);
        }
        if (value < quantity.lowest() || value > quantity.highest()) {
            outside[q]++;
            return false;
        }
        return true;
    }

    /** A round ends when a quantity comes again, in whatever order the tool asks. */
    private void round(LogQuantity quantity, double value) {
        double first = quantity.firstByte(value);
        if (Double.isNaN(first)) {
            return;
        }
        long bit = 1L << quantity.ordinal();
        if ((inRound & bit) != 0) {
            closeRound();
        }
        inRound |= bit;
        round[quantity.ordinal()] = first;
    }

    private void closeRound() {
        int count = Long.bitCount(inRound);
        if (count >= FEWEST_ALIKE) {
            double low = Double.MAX_VALUE;
            double high = -Double.MAX_VALUE;
            for (long rest = inRound; rest != 0; rest &= rest - 1) {
                double value = round[Long.numberOfTrailingZeros(rest)];
                low = Math.min(low, value);
                high = Math.max(high, value);
            }
            rounds++;
            // All at zero is a key-off car; a percentage shown in whole numbers is off by up to 2.55 bytes.
            roundsAlike += high - low <= 3 && low > 3 ? 1 : 0;
        }
        inRound = 0;
    }

    /** Reasons why this is no drive of a car, gravest first; empty when it may be one. */
    List<String> reasonsAgainst() {
        List<String> reasons = new ArrayList<>();
        if (rounds >= 5 && roundsAlike * 2 > rounds) {
            reasons.add("One raw byte is repeated over all quantities in %d of %d rounds: a simulator, not a car."
                    .formatted(roundsAlike, rounds));
        }
        List<String> columns = new ArrayList<>();
        boolean carrying = false;
        for (LogQuantity quantity : LogQuantity.values()) {
            if (disbelieved(quantity)) {
                columns.add(sentence(quantity));
                carrying |= quantity.carries();
            }
        }
        if (carrying || columns.size() >= 2 || !reasons.isEmpty()) {
            reasons.addAll(columns);
        }
        return reasons;
    }

    /** Columns that are not believed in a log that otherwise is, and single values left out. */
    List<String> remarks() {
        List<String> remarks = new ArrayList<>();
        for (LogQuantity quantity : LogQuantity.values()) {
            int q = quantity.ordinal();
            if (outside[q] > 0) {
                remarks.add(
                        disbelieved(quantity)
                                ? sentence(quantity)
                                : "%d of %d values of %s cannot be and are left out."
                                        .formatted(outside[q], n[q], quantity.words()));
            }
        }
        return remarks;
    }

    private boolean disbelieved(LogQuantity quantity) {
        int q = quantity.ordinal();
        return quantity.read() && outside[q] > 0 && outside[q] >= n[q] * TOO_MANY && (outside[q] >= 3 || n[q] < 20);
    }

    private String sentence(LogQuantity quantity) {
        int q = quantity.ordinal();
        boolean above = highest[q] > quantity.highest();
        String unit = quantity.unit().symbol();
        return "%s %s %s %s in %d of %d values (%s %s %s): no running car shows that. A sensor fault looks like this too; leave the column out to read the rest."
                .formatted(
                        capital(quantity.words()),
                        above ? "is above" : "is below",
                        number(above ? quantity.highest() : quantity.lowest()),
                        unit,
                        outside[q],
                        n[q],
                        above ? "up to" : "down to",
                        number(above ? highest[q] : lowest[q]),
                        unit);
    }

    static String capital(String words) {
        return words.substring(0, 1).toUpperCase(Locale.ROOT) + words.substring(1);
    }

    static String number(double value) {
        String text = String.format(Locale.ROOT, Math.abs(value) >= 1000 ? "%,.0f" : "%.1f", value);
        return text.endsWith(".0") ? text.substring(0, text.length() - 2) : text;
    }
}
