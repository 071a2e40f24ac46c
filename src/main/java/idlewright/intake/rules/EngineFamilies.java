package idlewright.intake.rules;

import java.util.Collection;
import java.util.Locale;
import java.util.Optional;

/** The names a shop gives to its engine families; known-good readings are kept by them, so one family has one name. */
public final class EngineFamilies {
    private EngineFamilies() {}

    /** As it is kept: "bw22 " is "BW22". */
    public static String kept(String typed) {
        return typed.strip().toUpperCase(Locale.ROOT);
    }

    /** A known family that is written differently only in case, spaces, dashes and the like; nothing where the typed one is known. */
    public static Optional<String> nearly(String typed, Collection<String> known) {
        String kept = kept(typed);
        String bare = bare(kept);
        return known.contains(kept)
                ? Optional.empty()
                : known.stream().filter(each -> bare(each).equals(bare)).findFirst();
    }

    private static String bare(String name) {
        return name.toUpperCase(Locale.ROOT).replaceAll("[^\\p{L}\\p{Nd}]", "");
    }
}
