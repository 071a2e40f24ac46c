package idlewright.reference.units;

import java.math.BigDecimal;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Understands numbers as people type them, whatever their keyboard and country.
 *
 * <p>A single comma or point is the decimal mark ("12,345" is twelve and a bit). With two kinds of mark the last one is
 * the decimal mark, and a mark that occurs more than once groups thousands. Spaces of every width and apostrophes group
 * thousands too. Where a single mark before three digits could be either, {@link #meanings} gives both.
 */
public final class Typed {

    private static final int LONGEST = 40;

    private static final String GROUP = "[ ']";
    private static final Pattern SIGNED = Pattern.compile("([+-]?) ?(\\S.*)");
    private static final Pattern SPACED = Pattern.compile("\\d{1,3}(?:" + GROUP + "\\d{3})+(?:[.,]\\d*)?");
    private static final Pattern PLAIN = Pattern.compile("\\d+[.,]?\\d*|[.,]\\d+");
    private static final Pattern POINT_GROUPED =
            Pattern.compile("\\d{1,3}(?:\\.\\d{3})+,\\d*|\\d{1,3}(?:\\.\\d{3}){2,}");
    private static final Pattern COMMA_GROUPED = Pattern.compile("\\d{1,3}(?:,\\d{3})+\\.\\d*|\\d{1,3}(?:,\\d{3}){2,}");
    private static final Pattern WHOLE = Pattern.compile("\\d+|\\d{1,3}(?:[ ',.]\\d{3})+");
    private static final Pattern WITH_UNIT = Pattern.compile("([+-]?[ \\d.,']*?[\\d.,]) ?(|[^\\d .,'].*|1 ?/.*)");

    private static final Pattern ONE_GROUP = Pattern.compile("([+-]? ?[1-9]\\d{0,2})[.,](\\d{3})");

    private Typed() {}

    /** What was typed is no number of the kind asked for; the message says what to do. */
    public static final class NotUnderstood extends IllegalArgumentException {
        private static final long serialVersionUID = 1L;

        NotUnderstood(String message) {
            super(message);
        }
    }

    /**
     * The number a person typed, with the decimals typed.
     *
     * @throws NotUnderstood with a message for the person who typed it
     */
    public static BigDecimal number(String typed) {
        String text = tidied(typed);
        Matcher signed = SIGNED.matcher(text);
        if (text.length() > LONGEST || !signed.matches()) {
            throw new NotUnderstood("Enter a number, like 3.8");
        }
        BigDecimal size = size(signed.group(2));
        return signed.group(1).equals("-") ? size.negate() : size;
    }

    private static BigDecimal size(String digits) {
        if (PLAIN.matcher(digits).matches() || SPACED.matcher(digits).matches()) {
            return decimal(digits.replaceAll(GROUP, "").replace(',', '.'));
        }
        if (POINT_GROUPED.matcher(digits).matches()) {
            return decimal(digits.replace(".", "").replace(',', '.'));
        }
        if (COMMA_GROUPED.matcher(digits).matches()) {
            return decimal(digits.replace(",", ""));
        }
        throw new NotUnderstood("Enter a number, like 3.8");
    }

    private static BigDecimal decimal(String plain) {
        return new BigDecimal(plain.endsWith(".") ? plain.substring(0, plain.length() - 1) : plain);
    }

    /** As {@link #number}, but an empty field is no answer instead of a mistake. */
    public static Optional<BigDecimal> numberIfAny(String typed) {
        return typed.isBlank() ? Optional.empty() : Optional.of(number(typed));
    }

    /**
     * A count or an odometer: digits only, and every mark groups thousands ("123,456" is a hundred thousand and more).
     *
     * @throws NotUnderstood with a message for the person who typed it
     */
    public static long whole(String typed) {
        String text = tidied(typed);
        if (text.length() > LONGEST || !WHOLE.matcher(text).matches()) {
            throw new NotUnderstood("Enter a whole number, like 128400");
        }
        String digits = text.replaceAll("[ ',.]", "");
        if (digits.length() > 15) {
            throw new NotUnderstood("Enter a whole number of at most 15 digits");
        }
        return Long.parseLong(digits);
    }

    /**
     * What an odometer shows, with a tenth where it has one: a mark before three digits groups thousands, as in {@link #whole}.
     *
     * @throws NotUnderstood with a message for the person who typed it
     */
    public static BigDecimal odometer(String typed) {
        String text = tidied(typed);
        if (WHOLE.matcher(text).matches() && text.length() <= 15) {
            return BigDecimal.valueOf(whole(text));
        }
        BigDecimal read;
        try {
            read = number(text);
        } catch (NotUnderstood e) {
            throw new NotUnderstood("Enter the odometer, like 86950");
        }
        if (read.stripTrailingZeros().scale() > 1) {
            throw new NotUnderstood("Enter the odometer, like 86950 or 86950.5");
        }
        return read;
    }

    /**
     * A count of things, a distance or a speed of rotation: a mark before exactly three digits groups thousands, other decimals
     * are decimals ("1,650" and "1 650" are 1650, "812.5" is 812.5).
     *
     * @throws NotUnderstood with a message for the person who typed it
     */
    public static BigDecimal count(String typed) {
        if (namesUnit(typed)) {
            throw new NotUnderstood("Enter a number alone, like 1650");
        }
        return meanings(typed, Unit.COUNT).get(0).value();
    }

    /**
     * A sum of money: at most two decimals, so a mark before three digits groups thousands ("1,386" and "1.386" are
     * both one thousand three hundred and eighty-six).
     *
     * @throws NotUnderstood with a message for the person who typed it
     */
    public static BigDecimal amount(String typed) {
        String text = tidied(typed);
        String bare = text.startsWith("-") ? text.substring(1).strip() : text;
        if (bare.length() <= 15 && bare.matches("[1-9]\\d{0,2}(?:[ ',.]\\d{3})+")) {
            BigDecimal size = BigDecimal.valueOf(whole(bare));
            return text.startsWith("-") ? size.negate() : size;
        }
        BigDecimal amount;
        try {
            amount = number(typed);
        } catch (NotUnderstood e) {
            throw new NotUnderstood("Enter an amount, like 128.50");
        }
        if (amount.scale() > 2) {
            throw new NotUnderstood("Enter an amount with at most two decimals, like 128.50");
        }
        return amount;
    }

    /**
     * A number with or without a unit ("3,8 bar", "55 psi", "12.36"); without one it is in the unit expected.
     *
     * @throws NotUnderstood if the number or the unit cannot be read, or the unit measures something else
     */
    public static Quantity quantity(String typed, Unit expected) {
        Matcher parts = WITH_UNIT.matcher(tidied(typed));
        if (!parts.matches()) {
            throw new NotUnderstood("Enter a number, like 3.8");
        }
        String name = parts.group(2).strip();
        BigDecimal number = number(parts.group(1));
        return new Quantity(number, unit(name, expected));
    }

    /** Whether a unit was written after the number; then it holds for that number only. */
    public static boolean namesUnit(String typed) {
        Matcher parts = WITH_UNIT.matcher(tidied(typed));
        return parts.matches() && !parts.group(2).isBlank();
    }

    /**
     * All that a typed quantity can mean: a mark before exactly three digits may be the decimal mark or group thousands
     * ("1,650"). The usual meaning comes first: thousands where the unit counts whole things, else the decimal mark.
     *
     * @throws NotUnderstood as {@link #quantity}
     */
    public static List<Quantity> meanings(String typed, Unit expected) {
        Quantity literal = quantity(typed, expected);
        Matcher parts = WITH_UNIT.matcher(tidied(typed));
        Matcher grouped = ONE_GROUP.matcher(parts.matches() ? parts.group(1).strip() : "");
        if (!grouped.matches()) {
            return List.of(literal);
        }
        Quantity thousands = new Quantity(number(grouped.group(1) + grouped.group(2)), literal.unit());
        return literal.unit().counts() ? List.of(thousands, literal) : List.of(literal, thousands);
    }

    private static Unit unit(String name, Unit expected) {
        if (name.isEmpty()) {
            return expected;
        }
        Unit unit = Unit.of(name)
                .orElseThrow(() -> new NotUnderstood("The unit \"" + name + "\" is not known here: enter the number in "
                        + (expected.symbol().isEmpty() ? "plain counts" : expected.symbol())));
        if (unit.dimension() != expected.dimension()) {
            throw new NotUnderstood("%s measures %s, but %s is asked for: enter it in %s"
                    .formatted(
                            unit.symbol(),
                            unit.dimension().words(),
                            expected.dimension().words(),
                            expected.symbol()));
        }
        return unit;
    }

    /** One kind of space, minus, apostrophe and digit for all the kinds that keyboards and copied text bring. */
    private static String tidied(String typed) {
        StringBuilder tidy = new StringBuilder(typed.length());
        for (int i = 0; i < typed.length(); i++) {
            char c = typed.charAt(i);
            if (Character.isWhitespace(c) || Character.isSpaceChar(c)) {
                if (tidy.length() > 0 && tidy.charAt(tidy.length() - 1) != ' ') {
                    tidy.append(' ');
                }
            } else if (Character.isDigit(c)) {
                tidy.append((char) ('0' + Character.digit(c, 10)));
            } else {
                switch (c) {
                    case '\u2212', '\u2013', '\uff0d' -> tidy.append('-');
                    case '\u2019', '\u02bc' -> tidy.append('\'');
                    case '\u066b' -> tidy.append('.');
                    case '\u066c' -> tidy.append('\'');
                    case '\u200e', '\u200f', '\u061c' -> {}
                    default -> tidy.append(c);
                }
            }
        }
        return tidy.toString().strip();
    }
}
