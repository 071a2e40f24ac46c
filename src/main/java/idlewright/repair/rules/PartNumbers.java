package idlewright.repair.rules;

import java.text.Normalizer;
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

    /** As tired eyes read it: for the warning only. */
    private static String squinted(String number) {
        return bare(number).replace('O', '0').replace('I', '1');
    }
}
