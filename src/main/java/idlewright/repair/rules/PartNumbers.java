package idlewright.repair.rules;

import java.text.Normalizer;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** Compares the number read off the old part with the number printed on the other. */
public final class PartNumbers {

    private PartNumbers() {}

    /** How two numbers stand to each other. */
    public enum Likeness {
        /** Letter for letter. */
        SAME("same number"),
        /** Spaces, dashes and the case of letters apart. */
        SAME_WRITTEN_OTHERWISE("same number, written differently"),
        /** They would be the same if a zero were an O, or a one an I. */
        LOOK_ALIKE("not the same: they differ in letters and digits that look alike"),
        DIFFERENT("different number"),
        /** The old part's number could not be read. */
        NOT_READ("old number not readable");

        private final String words;

        Likeness(String words) {
            this.words = words;
        }

        public String words() {
            return words;
        }

        /** Whether nothing more has to be said about the number. */
        public boolean same() {
            return this == SAME || this == SAME_WRITTEN_OTHERWISE;
        }
    }

    /**
     * Compares two numbers as they were read; look-alikes are told, never taken as equal.
     *
     * @param removed null or blank where it could not be read
     */
    public static Likeness compare(@Nullable String removed, String fitted) {
        if (removed == null || bare(removed).isEmpty()) {
            return Likeness.NOT_READ;
        }
        if (removed.strip().equals(fitted.strip())) {
            return Likeness.SAME;
        }
        if (bare(removed).equals(bare(fitted))) {
            return Likeness.SAME_WRITTEN_OTHERWISE;
        }
        return squinted(removed).equals(squinted(fitted)) ? Likeness.LOOK_ALIKE : Likeness.DIFFERENT;
    }

    /** The number without spaces and dashes of any kind, in capitals; letters and digits stay what they are. */
    public static String bare(String number) {
        return Normalizer.normalize(number, Normalizer.Form.NFKC)
                .replaceAll("[\\s\\p{Z}\\p{Pd}\\u2212\\p{Cf}]+", "")
                .toUpperCase(Locale.ROOT);
    }

    /** A piece of a number that stands in the other one too, or does not. */
    public record Run(String text, boolean differs) {}

    /** The number in pieces, those that the other one has not marked; spaces, dashes and case do not count. */
    public static List<Run> against(String number, @Nullable String other) {
        String theirs = other == null ? "" : bare(other);
        if (theirs.isEmpty()) {
            return List.of(new Run(number, false));
        }
        // The longest common row of letters, after the textbook: what is not in it differs.
        int[][] longest = new int[number.length() + 1][theirs.length() + 1];
        for (int i = number.length() - 1; i >= 0; i--) {
            for (int j = theirs.length() - 1; j >= 0; j--) {
                longest[i][j] = same(number.charAt(i), theirs.charAt(j))
                        ? longest[i + 1][j + 1] + 1
                        : Math.max(longest[i + 1][j], longest[i][j + 1]);
            }
        }
        var runs = new ArrayList<Run>();
        int j = 0;
        for (int i = 0; i < number.length(); i++) {
            String letter = number.substring(i, i + 1);
            boolean differs = !bare(letter).isEmpty();
            while (differs && j < theirs.length() && longest[i][j] > longest[i + 1][j]) {
                differs = !same(number.charAt(i), theirs.charAt(j));
                j++;
            }
            int last = runs.size() - 1;
            if (last >= 0 && runs.get(last).differs() == differs) {
                runs.set(last, new Run(runs.get(last).text() + letter, differs));
            } else {
                runs.add(new Run(letter, differs));
            }
        }
        return runs;
    }

    private static boolean same(char one, char other) {
        return Character.toUpperCase(one) == other;
    }

    /** As tired eyes read it: for the warning only. */
    private static String squinted(String number) {
        return bare(number).replace('O', '0').replace('I', '1');
    }
}
