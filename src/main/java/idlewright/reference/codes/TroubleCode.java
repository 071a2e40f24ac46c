package idlewright.reference.codes;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Pattern;

/**
 * A diagnostic trouble code such as P0101: a system letter, a digit from 0 to 3 and three hexadecimal digits.
 *
 * <p>Source: SAE J2012 / ISO 15031-6 for the two bytes and the ranges (ranges from memory).
 */
public record TroubleCode(String text) implements Comparable<TroubleCode> {

    private static final Pattern FORM = Pattern.compile("[PCBU][0-3][0-9A-F]{3}");
    private static final Pattern BETWEEN = Pattern.compile("[\\s\\p{Zs}.\\-\u2010\u2011\u2013]");

    /** Which part of the vehicle speaks; in the order of the two topmost bits. */
    public enum VehicleSystem {
        POWERTRAIN('P', "powertrain"),
        CHASSIS('C', "chassis"),
        BODY('B', "body"),
        NETWORK('U', "network");

        private final char letter;
        private final String words;

        VehicleSystem(char letter, String words) {
            this.letter = letter;
            this.words = words;
        }

        public String words() {
            return words;
        }
    }

    public TroubleCode {
        if (!FORM.matcher(text).matches()) {
            throw new IllegalArgumentException("\u201c" + text
                    + "\u201d is no trouble code: enter a letter P, B, C or U and four digits, like P0101.");
        }
    }

    /**
     * Reads a code as typed: "p0101", "P 0101", "P-0101"; the letter O is taken for a zero.
     *
     * @throws IllegalArgumentException with a message for the person who typed it
     */
    public static TroubleCode parse(String typed) {
        String bare =
                BETWEEN.matcher(typed.toUpperCase(Locale.ROOT)).replaceAll("").replace('O', '0');
        if (!FORM.matcher(bare).matches()) {
            throw new IllegalArgumentException("\u201c" + typed.strip()
                    + "\u201d is no trouble code: enter a letter P, B, C or U and four digits, like P0101.");
        }
        return new TroubleCode(bare);
    }

    /** As {@link #parse}, but without a refusal. */
    public static Optional<TroubleCode> find(String typed) {
        try {
            return Optional.of(parse(typed));
        } catch (IllegalArgumentException e) {
            return Optional.empty();
        }
    }

    /**
     * Several codes typed into one field, parted by commas, semicolons or line breaks, or by spaces alone.
     *
     * @throws IllegalArgumentException naming the first that is no code
     */
    public static List<TroubleCode> parseAll(String typed) {
        return Arrays.stream(typed.split("[,;/\\n\\r]+|(?<=[0-9A-Fa-f]{4})[\\s\\p{Zs}]+"))
                .filter(one -> !one.isBlank())
                .map(TroubleCode::parse)
                .distinct()
                .toList();
    }

    /** The code of two bytes, each from 0 to 255; 00 00 is padding on the wire and is P0000 here. */
    public static TroubleCode ofBytes(int first, int second) {
        if ((first & ~0xFF) != 0 || (second & ~0xFF) != 0) {
            throw new IllegalArgumentException("A byte lies between 0 and 255.");
        }
        char letter = VehicleSystem.values()[first >> 6].letter;
        return new TroubleCode(String.format(Locale.ROOT, "%c%X%X%02X", letter, (first >> 4) & 3, first & 0xF, second));
    }

    /**
     * The codes in a row of hexadecimal bytes such as "01 04 41 23"; padding of 00 00 is left out, and so is an odd
     * byte at the end.
     *
     * @throws IllegalArgumentException naming the byte that is none and its place
     */
    public static List<TroubleCode> decode(String hex) {
        List<Integer> bytes = bytesIn(hex);
        List<TroubleCode> codes = new ArrayList<>();
        for (int i = 0; i + 1 < bytes.size(); i += 2) {
            if (bytes.get(i) != 0 || bytes.get(i + 1) != 0) {
                codes.add(ofBytes(bytes.get(i), bytes.get(i + 1)));
            }
        }
        return codes;
    }

    private static List<Integer> bytesIn(String hex) {
        List<Integer> bytes = new ArrayList<>();
        for (String group : hex.strip().split("[\\s\\p{Zs},]+")) {
            for (int i = 0; i < group.length(); i += 2) {
                String one = group.substring(i, Math.min(i + 2, group.length()));
                if (!one.matches("[0-9A-Fa-f]{2}")) {
                    throw new IllegalArgumentException(
                            "Byte %d, \u201c%s\u201d, is not two hexadecimal digits: enter bytes like 01 04 41 23."
                                    .formatted(bytes.size() + 1, one));
                }
                bytes.add(Integer.parseInt(one, 16));
            }
        }
        return bytes;
    }

    /** The code as a number of two bytes. */
    public int bits() {
        return (system().ordinal() << 14) | Integer.parseInt(text.substring(1), 16);
    }

    /** The two bytes as sent on the wire, "01 01". */
    public String bytes() {
        return String.format(Locale.ROOT, "%02X %02X", bits() >> 8, bits() & 0xFF);
    }

    public VehicleSystem system() {
        return switch (text.charAt(0)) {
            case 'P' -> VehicleSystem.POWERTRAIN;
            case 'C' -> VehicleSystem.CHASSIS;
            case 'B' -> VehicleSystem.BODY;
            default -> VehicleSystem.NETWORK;
        };
    }

    /**
     * Whether the meaning is the same for every maker: P0, P2, P34 to P39, and the 0 ranges of the other systems, also
     * U3; all else is the maker's own or kept back by the standard.
     */
    public boolean generic() {
        char range = text.charAt(1);
        char next = text.charAt(2);
        return switch (system()) {
            case POWERTRAIN -> range == '0' || range == '2' || (range == '3' && next >= '4' && next <= '9');
            case CHASSIS, BODY -> range == '0';
            case NETWORK -> range == '0' || range == '3';
        };
    }

    @Override
    public int compareTo(TroubleCode other) {
        return text.compareTo(other.text);
    }

    @Override
    public String toString() {
        return text;
    }
}
