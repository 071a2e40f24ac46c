package idlewright.warranty.rules;

import java.util.Collection;
import java.util.Comparator;
import java.util.Locale;
import java.util.Objects;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/** Keeps somebody's name and ways of reaching them out of what strangers are to read. */
public final class Discretion {

    private static final Discretion NONE = new Discretion(null);
    private static final String INSTEAD = "the customer";
    private static final Set<String> COMMON = Set.of(
            "the",
            "the customer",
            "customer",
            "owner",
            "the owner",
            "driver",
            "the driver",
            "mrs",
            "miss",
            "mister",
            "her",
            "his",
            "husband",
            "wife",
            "and",
            "shop");

    private final @Nullable Pattern hidden;

    private Discretion(@Nullable Pattern hidden) {
        this.hidden = hidden;
    }

    /** Hides nothing. */
    public static Discretion none() {
        return NONE;
    }

    /**
     * Hides each of these in any case, and of names also each part that starts with a capital; only where it stands as a
     * word of its own. "The customer" is no name.
     */
    public static Discretion about(Collection<@Nullable String> whole, Collection<@Nullable String> names) {
        var all = Stream.concat(whole.stream(), names.stream())
                .filter(Objects::nonNull)
                .map(String::strip)
                .filter(Discretion::telling)
                .map(word -> "(?iu:" + Pattern.quote(word) + ")");
        var parts = names.stream()
                .filter(Objects::nonNull)
                .flatMap(name -> Stream.of(name.split("[\\s,.;]+")))
                .filter(part -> !part.isEmpty() && Character.isUpperCase(part.codePointAt(0)) && telling(part))
                .map(Pattern::quote);
        var words = Stream.concat(all, parts)
                .distinct()
                .sorted(Comparator.comparing(String::length).reversed())
                .toList();
        return words.isEmpty()
                ? NONE
                : new Discretion(
                        Pattern.compile("(?<![\\p{L}\\p{N}])(?:" + String.join("|", words) + ")(?![\\p{L}\\p{N}])"));
    }

    private static boolean telling(String word) {
        return word.length() >= 3 && !COMMON.contains(word.toLowerCase(Locale.ROOT));
    }

    public String read(String text) {
        return hidden == null
                ? text
                : hidden.matcher(text).replaceAll(INSTEAD).replace(INSTEAD + " " + INSTEAD, INSTEAD);
    }

    /** Whether something in it is hidden. */
    public boolean hides(String text) {
        return hidden != null && hidden.matcher(text).find();
    }
}
