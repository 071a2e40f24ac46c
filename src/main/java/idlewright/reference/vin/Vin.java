package idlewright.reference.vin;

import java.time.Year;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * A vehicle identification number and all that can be said about it without asking anyone; checked, never forced.
 *
 * <p>Sources: 49 CFR 565.15 for check digit and model year, ISO 3779 for form, ISO 3780 for regions (from memory).
 *
 * @param vin upper case, without spaces and hyphens
 * @param wellFormed 17 characters of the permitted alphabet
 * @param checkDigit absent unless well formed
 * @param modelYears none, one or two candidates, the likelier first
 * @param modelYearsWhy why these, in a sentence
 * @param region absent when the first character tells none
 * @param problems what a person should look at again, in words
 */
public record Vin(
        String vin,
        boolean wellFormed,
        @Nullable CheckDigit checkDigit,
        List<Integer> modelYears,
        String modelYearsWhy,
        @Nullable Region region,
        List<String> problems) {

    private static final int LENGTH = 17;
    private static final int CHECK_POSITION = 9;
    private static final int YEAR_POSITION = 10;

    /** From the first year of the code (A = 1980), thirty years to a round. */
    private static final String YEAR_CODES = "ABCDEFGHJKLMNPRSTVWXY123456789";

    private static final int FIRST_YEAR = 1980;

    private static final String LETTERS = "ABCDEFGHJKLMNPRSTUVWXYZ";
    private static final String LETTER_VALUES = "12345678123457923456789";
    private static final int[] WEIGHTS = {8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2};

    /** Where the maker is registered, from the first characters. */
    public enum Region {
        AFRICA("Africa"),
        ASIA("Asia"),
        EUROPE("Europe"),
        NORTH_AMERICA("North America"),
        OCEANIA("Oceania"),
        SOUTH_AMERICA("South America");

        private final String words;

        Region(String words) {
            this.words = words;
        }

        public String words() {
            return words;
        }
    }

    /**
     * Position 9 against the rest.
     *
     * @param applies only North American vehicles must have one; elsewhere the position is free
     * @param ok whether found and expected agree; null when it does not apply
     */
    public record CheckDigit(
            boolean applies,
            String expected,
            String found,
            @Nullable Boolean ok) {

        /** A sentence for the screen. */
        public String words() {
            if (!applies) {
                return "The check digit does not apply outside North America; nothing is verified.";
            }
            return expected.equals(found)
                    ? "The check digit " + found + " is right."
                    : "The check digit at position 9 should be %s but is %s: read the number again."
                            .formatted(expected, found);
        }
    }

    public Vin {
        modelYears = List.copyOf(modelYears);
        problems = List.copyOf(problems);
    }

    /** Checks a number as typed or scanned, for any time: both rounds of the model year code are candidates. */
    public static Vin check(String typed) {
        return check(typed, Year.of(Year.MAX_VALUE));
    }

    /** Checks a number as typed or scanned; a model year after {@code latest} is no candidate. */
    public static Vin check(String typed, Year latest) {
        String vin = normal(typed);
        List<String> problems = new ArrayList<>(formProblems(vin));
        boolean wellFormed = problems.isEmpty();
        Region region = region(vin);
        if (!wellFormed) {
            return new Vin(
                    vin, false, null, List.of(), "A number that is not well formed tells no year.", region, problems);
        }
        CheckDigit checkDigit = checkDigit(vin, region);
        if (Boolean.FALSE.equals(checkDigit.ok())) {
            problems.add(checkDigit.words());
        }
        Years years = Years.of(vin, region, latest.getValue());
        if (years.candidates.isEmpty() && region == Region.NORTH_AMERICA) {
            problems.add(years.why);
        }
        return new Vin(vin, true, checkDigit, years.candidates, years.why, region, problems);
    }

    /**
     * Upper case, without spaces, hyphens and the stars that some plates and printouts put around it; also without the
     * letter I that older door labels carry in front of the 17 characters in their bar code (common practice).
     */
    public static String normal(String typed) {
        String bare = typed.toUpperCase(Locale.ROOT).replaceAll("[\\s\\p{Zs}\\-*\u2010\u2011\u2013]", "");
        return bare.length() == LENGTH + 1 && bare.startsWith("I") ? bare.substring(1) : bare;
    }

    private static List<String> formProblems(String vin) {
        List<String> problems = new ArrayList<>();
        if (vin.length() != LENGTH) {
            problems.add("A VIN has 17 characters; this one has %d.%s"
                    .formatted(
                            vin.length(),
                            vin.length() > 4 && vin.length() < LENGTH
                                    ? " Vehicles built before 1981 may have a shorter number."
                                    : ""));
        }
        for (int i = 0; i < vin.length() && problems.size() < 4; i++) {
            char c = vin.charAt(i);
            if (c == 'I') {
                problems.add("Position %d is I, which a VIN never uses: is it a 1 (one)?".formatted(i + 1));
            } else if (c == 'O' || c == 'Q') {
                problems.add("Position %d is %s, which a VIN never uses: is it a 0 (zero)?".formatted(i + 1, c));
            } else if (value(c) < 0) {
                problems.add("Position %d is \u201c%s\u201d: a VIN has only letters and digits.".formatted(i + 1, c));
            }
        }
        return problems;
    }

    /** Transliteration of 49 CFR 565.15 table III; -1 for a character that no VIN has. */
    private static int value(char c) {
        if (c >= '0' && c <= '9') {
            return c - '0';
        }
        int letter = LETTERS.indexOf(c);
        return letter < 0 ? -1 : LETTER_VALUES.charAt(letter) - '0';
    }

    private static CheckDigit checkDigit(String vin, @Nullable Region region) {
        int remainder = weightedSum(vin) % 11;
        String expected = remainder == 10 ? "X" : String.valueOf(remainder);
        String found = String.valueOf(vin.charAt(CHECK_POSITION - 1));
        boolean applies = region == Region.NORTH_AMERICA;
        return new CheckDigit(applies, expected, found, applies ? expected.equals(found) : null);
    }

    /** The sum of products of 49 CFR 565.15 table V, for a well-formed number. */
    static int weightedSum(String vin) {
        int sum = 0;
        for (int i = 0; i < LENGTH; i++) {
            sum += value(vin.charAt(i)) * WEIGHTS[i];
        }
        return sum;
    }

    private static @Nullable Region region(String vin) {
        if (vin.isEmpty()) {
            return null;
        }
        char first = vin.charAt(0);
        if (first >= '1' && first <= '5') {
            return Region.NORTH_AMERICA;
        }
        if (first == '6' || first == '7') {
            // 7F to 70 was given to the United States later on (from memory)
            boolean lateAmerican = first == '7' && vin.length() > 1 && "ABCDE".indexOf(vin.charAt(1)) < 0;
            return lateAmerican ? Region.NORTH_AMERICA : Region.OCEANIA;
        }
        if (first == '8' || first == '9') {
            return Region.SOUTH_AMERICA;
        }
        if (first >= 'A' && first <= 'H') {
            return Region.AFRICA;
        }
        if (first >= 'J' && first <= 'R') {
            return Region.ASIA;
        }
        return first >= 'S' && first <= 'Z' ? Region.EUROPE : null;
    }

    private record Years(List<Integer> candidates, String why) {

        static Years of(String vin, @Nullable Region region, int latest) {
            char code = vin.charAt(YEAR_POSITION - 1);
            int place = YEAR_CODES.indexOf(code);
            if (place < 0) {
                return new Years(List.of(), "Position 10 is %s, which stands for no model year.".formatted(code));
            }
            int early = FIRST_YEAR + place;
            int late = early + YEAR_CODES.length();
            if (late > latest) {
                return early > latest
                        ? new Years(List.of(), "Position 10 is %s: %d is still to come.".formatted(code, early))
                        : new Years(
                                List.of(early),
                                "Position 10 is %s: %d, because %d is still to come.%s"
                                        .formatted(code, early, late, elsewhere(region)));
            }
            if (region != Region.NORTH_AMERICA) {
                return new Years(
                        List.of(late, early),
                        "Position 10 is %s: %d or %d.%s".formatted(code, late, early, elsewhere(region)));
            }
            boolean digit = Character.isDigit(vin.charAt(6));
            return new Years(
                    digit ? List.of(early, late) : List.of(late, early),
                    ("Position 10 is %s: %d or %d. Position 7 is a %s, so a car or a truck up to 10,000 lb (4,536 kg) is of %d;"
                                    + " over that weight position 7 does not tell.")
                            .formatted(code, early, late, digit ? "digit" : "letter", digit ? early : late));
        }

        private static String elsewhere(@Nullable Region region) {
            return region == Region.NORTH_AMERICA ? "" : " Outside North America makers need not put the year there.";
        }
    }
}
