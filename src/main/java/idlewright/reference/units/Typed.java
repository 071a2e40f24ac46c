package idlewright.reference.units;

import java.math.BigDecimal;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Understands numbers as people type them, whatever their keyboard and country.
 *
 * <p>A single comma or point is the decimal mark ("12,345" is twelve and a bit). With two kinds of mark the last one is
 * the decimal mark, and a mark that occurs more than once groups thousands. Spaces of every width and apostrophes group
 * thousands too.
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
        if (name.isEmpty()) {
            return new Quantity(number, expected);
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
        return new Quantity(number, unit);
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
