package idlewright.journal.rules;

import java.text.Normalizer;
import java.util.regex.Pattern;

/** Makes a name that somebody else chose harmless on every system it may be saved on. */
public final class FileNames {

    private static final int LONGEST = 100;
    // Controls, formatting marks (some turn the reading direction round), broken characters, private use.
    private static final Pattern UNSEEN = Pattern.compile("\\p{C}");
    private static final Pattern NOT_IN_NAMES = Pattern.compile("[<>:\"|?*%;]");
    private static final Pattern DEVICE =
            Pattern.compile("(con|prn|aux|nul|com\\d|lpt\\d)(\\..*)?", Pattern.CASE_INSENSITIVE);

    private FileNames() {}

    /** The cleaned name, without folders, with an ending that fits the kind; never empty, at most 110 characters. */
    public static String clean(String typed, FileKind kind) {
        var name = typed.substring(Math.max(typed.lastIndexOf('/'), typed.lastIndexOf('\\')) + 1);
        name = UNSEEN.matcher(Normalizer.normalize(name, Normalizer.Form.NFC)).replaceAll("");
        name = NOT_IN_NAMES.matcher(name).replaceAll("_").strip();
        name = name.replaceAll("^\\.+", "").replaceAll("[. ]+$", "");
        if (name.isBlank()) {
            name = "unnamed";
        }
        if (DEVICE.matcher(name).matches()) {
            name = "_" + name;
        }
        if (!kind.fits(name)) {
            return shortened(name) + "." + kind.ending();
        }
        var dot = name.lastIndexOf('.');
        return shortened(name.substring(0, dot)) + name.substring(dot);
    }

    private static String shortened(String name) {
        if (name.length() <= LONGEST) {
            return name;
        }
        var end = Character.isHighSurrogate(name.charAt(LONGEST - 1)) ? LONGEST - 1 : LONGEST;
        return name.substring(0, end).stripTrailing();
    }
}
