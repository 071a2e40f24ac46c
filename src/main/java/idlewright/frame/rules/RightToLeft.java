package idlewright.frame.rules;

import java.text.Bidi;
import java.text.Normalizer;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Arabic and Hebrew for a printer that sets sign after sign from the left and knows of no joining: letters in the shape their
 * neighbours ask for, stretches of a paragraph by direction, and a line's signs in the order they are seen.
 */
public final class RightToLeft {

    /** A stretch of a paragraph that is set in one direction. */
    public record Stretch(int start, int length, boolean rightToLeft) {}

    private static final Pattern SHAPE =
            Pattern.compile("ARABIC (?:LETTER|LIGATURE LAM WITH ALEF).*? (ISOLATED|FINAL|INITIAL|MEDIAL) FORM");
    private static final List<String> SHAPES = List.of("ISOLATED", "FINAL", "INITIAL", "MEDIAL");
    private static final String PAIRS = "()[]{}<>\u00ab\u00bb\u2039\u203a";
    private static final char TATWEEL = '\u0640';
    private static final char JOINER = '\u200d';

    /** Letters (or lam and alef) with their four shapes in the order of {@code SHAPES}, by Unicode's presentation forms. */
    private static final class Shapes {
        static final Map<String, char[]> OF = read();

        private static Map<String, char[]> read() {
            var shapes = new HashMap<String, char[]>();
            for (char each = '\ufb50'; each <= '\ufefc'; each++) {
                Matcher name = SHAPE.matcher(Character.isDefined(each) ? Character.getName(each) : "");
                String letters = Normalizer.normalize(Character.toString(each), Normalizer.Form.NFKC);
                if (name.matches() && (letters.length() == 1 || letters.charAt(0) == '\u0644')) {
                    shapes.computeIfAbsent(letters, l -> new char[4])[SHAPES.indexOf(name.group(1))] = each;
                }
            }
            return shapes;
        }
    }

    private RightToLeft() {}

    /** Whether any of it needs this class. */
    public static boolean in(String words) {
        return Bidi.requiresBidi(words.toCharArray(), 0, words.length());
    }

    /** Whether the first letter that has a direction runs from the right. */
    public static boolean begins(String paragraph) {
        return new Bidi(paragraph, Bidi.DIRECTION_DEFAULT_LEFT_TO_RIGHT).getBaseLevel() == 1;
    }

    /** Where a paragraph changes its direction; numbers within words from the right belong to these. */
    public static List<Stretch> stretches(String paragraph, boolean fromRight) {
        var bidi = new Bidi(paragraph, fromRight ? Bidi.DIRECTION_RIGHT_TO_LEFT : Bidi.DIRECTION_LEFT_TO_RIGHT);
        var stretches = new ArrayList<Stretch>();
        int start = 0;
        for (int at = 1; at <= paragraph.length(); at++) {
            if (at == paragraph.length() || (bidi.getLevelAt(at) > 0) != (bidi.getLevelAt(start) > 0)) {
                stretches.add(new Stretch(start, at - start, bidi.getLevelAt(start) > 0));
                start = at;
            }
        }
        return stretches;
    }

    /** A line's part of a stretch from the right, as it is seen from the left: Unicode's rules L2 to L4 (UAX 9). */
    public static String seen(String words) {
        var bidi = new Bidi(words, Bidi.DIRECTION_RIGHT_TO_LEFT);
        var signs = new ArrayList<String>();
        var levels = new ArrayList<Integer>();
        for (int at = 0; at < words.length(); ) {
            int letter = words.codePointAt(at);
            int end = at + Character.charCount(letter);
            while (end < words.length() && accent(words.codePointAt(end))) {
                end += Character.charCount(words.codePointAt(end));
            }
            boolean reversed = bidi.getLevelAt(at) % 2 == 1;
            signs.add(
                    reversed
                            ? mirrored(letter) + words.substring(at + Character.charCount(letter), end)
                            : words.substring(at, end));
            levels.add(bidi.getLevelAt(at));
            at = end;
        }
        byte[] bytes = new byte[levels.size()];
        for (int i = 0; i < bytes.length; i++) {
            bytes[i] = levels.get(i).byteValue();
        }
        Object[] order = signs.toArray();
        Bidi.reorderVisually(bytes, 0, order, 0, order.length);
        var seen = new StringBuilder();
        for (Object sign : order) {
            seen.append(sign);
        }
        return seen.toString();
    }

    /** Arabic letters in the shape they have between their neighbours; lam and alef become one sign. */
    public static String joined(String words) {
        var joined = new StringBuilder();
        for (int at = 0; at < words.length(); at++) {
            char letter = words.charAt(at);
            int next = next(words, at);
            String lamAlef = next < 0 ? "" : "" + letter + words.charAt(next);
            char[] shapes = Shapes.OF.get(next == at + 1 && Shapes.OF.containsKey(lamAlef) ? lamAlef : "" + letter);
            if (shapes == null || shapes[1] == 0) {
                joined.append(letter);
                continue;
            }
            boolean ligature = next == at + 1 && Shapes.OF.containsKey(lamAlef);
            boolean before = joinsOn(words, before(words, at)) && shapes[1] != 0;
            boolean after = !ligature && next >= 0 && joinsBack(words.charAt(next)) && shapes[2] != 0;
            char shape = shapes[(before ? 1 : 0) + (after ? 2 : 0)];
            joined.append(shape == 0 ? letter : shape);
            if (ligature) {
                at++;
            }
        }
        return joined.toString();
    }

    /** The letters again that {@link #joined} has shaped. */
    public static String parted(String words) {
        var parted = new StringBuilder();
        words.chars().forEach(each -> {
            boolean shaped = each >= 0xfb50 && each <= 0xfefc;
            String letter = Character.toString(each);
            parted.append(shaped ? Normalizer.normalize(letter, Normalizer.Form.NFKC) : letter);
        });
        return parted.toString();
    }

    /** Whether the letter there reaches out to the one that follows. */
    private static boolean joinsOn(String words, int at) {
        if (at < 0) {
            return false;
        }
        char letter = words.charAt(at);
        char[] shapes = Shapes.OF.get("" + letter);
        return letter == TATWEEL || letter == JOINER || (shapes != null && shapes[2] != 0);
    }

    private static boolean joinsBack(char letter) {
        char[] shapes = Shapes.OF.get("" + letter);
        return letter == TATWEEL || letter == JOINER || (shapes != null && shapes[1] != 0);
    }

    private static int next(String words, int at) {
        int next = at + 1;
        while (next < words.length() && accent(words.charAt(next))) {
            next++;
        }
        return next < words.length() ? next : -1;
    }

    private static int before(String words, int at) {
        int before = at - 1;
        while (before >= 0 && accent(words.charAt(before))) {
            before--;
        }
        return before;
    }

    /** Vowel signs and the like are seen through. */
    private static boolean accent(int letter) {
        int type = Character.getType(letter);
        return type == Character.NON_SPACING_MARK || type == Character.ENCLOSING_MARK;
    }

    private static String mirrored(int letter) {
        int pair = PAIRS.indexOf(letter);
        return pair < 0 ? Character.toString(letter) : String.valueOf(PAIRS.charAt(pair ^ 1));
    }
}
