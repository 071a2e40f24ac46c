package idlewright.people.rules;

import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

/** Says why a password or PIN would be guessed too soon; empty when it will do. */
public final class Weak {

    /** The least letters a password has. */
    public static final int LENGTH = 10;

    private static final int LONGEST = 200;

    /** From memory: what people type when they must type ten letters or more, digits taken off the end. */
    private static final Set<String> COMMON = Set.of(
            "password",
            "passwort",
            "passphrase",
            "passwordpassword",
            "qwertyuiop",
            "qwertyuiopasdfghjkl",
            "qwerty",
            "qwertz",
            "asdfghjkl",
            "asdfghjklp",
            "letmein",
            "letmeinplease",
            "iloveyou",
            "administrator",
            "admin",
            "welcome",
            "welcomeback",
            "changeme",
            "changemenow",
            "workshop",
            "mechanic",
            "technician",
            "garage",
            "football",
            "baseball",
            "basketball",
            "superman",
            "sunshine",
            "princess",
            "whatever",
            "trustnoone",
            "secret",
            "topsecret",
            "idlewright",
            "correcthorsebatterystaple");

    private Weak() {}

    /** The reason to refuse a password; {@code known} are words an onlooker would try first (names, the shop). */
    public static Optional<String> password(String password, String... known) {
        if (password.codePointCount(0, password.length()) < LENGTH) {
            return Optional.of("Use " + LENGTH + " letters or more; a few words in a row do well.");
        }
        if (password.length() > LONGEST) {
            return Optional.of("Use " + LONGEST + " letters at most.");
        }
        String plain = plain(password);
        if (plain.chars().distinct().count() < 4 || isRun(plain)) {
            return Optional.of("Use more different letters; this one is guessed at once.");
        }
        String bare = plain.replaceAll("\\d+$", "").replaceAll("^\\d+", "");
        if (COMMON.contains(bare) || COMMON.contains(plain)) {
            return Optional.of("This is one of the first passwords anybody tries. Choose another.");
        }
        boolean aName = Stream.of(known)
                .flatMap(name -> Stream.concat(Stream.of(name), Stream.of(name.split("\\s+"))))
                .map(Weak::plain)
                .filter(name -> name.length() >= 3)
                .anyMatch(name -> bare.equals(name) || (plain.contains(name) && plain.length() - name.length() < 6));
        return aName ? Optional.of("This is hardly more than a name. Choose something else.") : Optional.empty();
    }

    /** The reason to refuse a PIN. */
    public static Optional<String> pin(String pin) {
        if (!pin.matches("[0-9]{4,6}")) {
            return Optional.of("A PIN has 4 to 6 digits.");
        }
        if (pin.chars().distinct().count() == 1 || isRun(pin) || pin.matches("(..)\\1+")) {
            return Optional.of("This PIN is guessed at once. Choose one without a pattern.");
        }
        return Optional.empty();
    }

    private static String plain(String text) {
        return text.toLowerCase(Locale.ROOT).replaceAll("[^\\p{L}\\p{N}]", "");
    }

    /** All steps from letter to letter are the same; the nought of the keyboard's row counts as ten, too. */
    private static boolean isRun(String text) {
        return hasEvenSteps(text) || hasEvenSteps(text.replace('0', (char) ('9' + 1)));
    }

    private static boolean hasEvenSteps(String text) {
        if (text.length() < 3) {
            return true;
        }
        int step = text.charAt(1) - text.charAt(0);
        for (int i = 2; i < text.length(); i++) {
            if (text.charAt(i) - text.charAt(i - 1) != step) {
                return false;
            }
        }
        return Math.abs(step) <= 1;
    }
}
