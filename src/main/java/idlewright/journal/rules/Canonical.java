package idlewright.journal.rules;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.time.temporal.TemporalAccessor;
import java.util.Collection;
import java.util.Currency;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** JSON in the one form that RFC 8785 allows, so that equal facts are equal bytes. */
public final class Canonical {

    private static final long LARGEST_EXACT = (1L << 53) - 1;

    private Canonical() {}

    /**
     * Canonical JSON of strings, booleans, whole numbers, doubles, null, collections and string-keyed maps. A
     * {@link BigDecimal}, an enum, a temporal value, a UUID or a currency is written as a string, since a JSON number
     * is a double.
     *
     * @throws IllegalArgumentException for NaN, infinities, whole numbers beyond 2^53 - 1, broken surrogate pairs and
     *     other kinds of value
     */
    public static String json(@Nullable Object value) {
        var out = new StringBuilder();
        write(value, out);
        return out.toString();
    }

    private static void write(@Nullable Object value, StringBuilder out) {
        if (value == null || value instanceof Boolean) {
            out.append(value);
        } else if (value instanceof String text) {
            string(text, out);
        } else if (value instanceof Integer || value instanceof Long || value instanceof Short) {
            out.append(exact(((Number) value).longValue()));
        } else if (value instanceof Double number) {
            out.append(number(number));
        } else if (value instanceof BigDecimal decimal) {
            string(decimal.toPlainString(), out);
        } else if (value instanceof Enum<?> constant) {
            string(constant.name(), out);
        } else if (value instanceof TemporalAccessor || value instanceof UUID || value instanceof Currency) {
            string(value.toString(), out);
        } else if (value instanceof Map<?, ?> map) {
            object(map, out);
        } else if (value instanceof Collection<?> items) {
            array(items, out);
        } else {
            throw new IllegalArgumentException(
                    "a fact can't be a " + value.getClass().getName());
        }
    }

    private static long exact(long number) {
        if (Math.abs(number) > LARGEST_EXACT || number == Long.MIN_VALUE) {
            throw new IllegalArgumentException(number + " is no exact JSON number; write it as a string");
        }
        return number;
    }

    /** A double as ECMAScript writes it (RFC 8785, section 3.2.2.3): the shortest digits that read back the same. */
    static String number(double value) {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException(value + " is no JSON number");
        }
        if (value == 0) {
            return "0";
        }
        var shortest = shortest(Math.abs(value));
        var digits = shortest.unscaledValue().toString();
        var point = digits.length() - shortest.scale();
        return (value < 0 ? "-" : "") + placed(digits, point);
    }

    /** Double.toString does not always find the shortest digits before Java 19. */
    private static BigDecimal shortest(double value) {
        var exact = new BigDecimal(value);
        for (int digits = 1; digits < 17; digits++) {
            // Beside a power of two the nearest decimal may miss while its neighbour on the wider side reads back.
            for (var mode : new RoundingMode[] {RoundingMode.HALF_EVEN, RoundingMode.UP, RoundingMode.DOWN}) {
                var rounded = exact.round(new MathContext(digits, mode));
                if (rounded.doubleValue() == value) {
                    return rounded.stripTrailingZeros();
                }
            }
        }
        return exact.round(new MathContext(17, RoundingMode.HALF_EVEN)).stripTrailingZeros();
    }

    private static String placed(String digits, int point) {
        if (digits.length() <= point && point <= 21) {
            return digits + "0".repeat(point - digits.length());
        }
        if (0 < point && point <= 21) {
            return digits.substring(0, point) + "." + digits.substring(point);
        }
        if (-6 < point && point <= 0) {
            return "0." + "0".repeat(-point) + digits;
        }
        var exponent = point - 1;
        return digits.charAt(0)
                + (digits.length() > 1 ? "." + digits.substring(1) : "")
                + "e"
                + (exponent < 0 ? "-" : "+")
                + Math.abs(exponent);
    }

    static void string(String text, StringBuilder out) {
        out.append('"');
        for (int i = 0; i < text.length(); i++) {
            var c = text.charAt(i);
            switch (c) {
                case '"' -> out.append("\\\"");
                case '\\' -> out.append("\\\\");
                case '\b' -> out.append("\\b");
                case '\f' -> out.append("\\f");
                case '\n' -> out.append("\\n");
                case '\r' -> out.append("\\r");
                case '\t' -> out.append("\\t");
                default -> {
                    if (c < 0x20) {
                        out.append("\\u00")
                                .append(Character.forDigit(c >> 4, 16))
                                .append(Character.forDigit(c & 15, 16));
                    } else if (!Character.isSurrogate(c)) {
                        out.append(c);
                    } else if (Character.isHighSurrogate(c)
                            && i + 1 < text.length()
                            && Character.isLowSurrogate(text.charAt(i + 1))) {
                        out.append(c).append(text.charAt(++i));
                    } else {
                        throw new IllegalArgumentException("half a character at " + i);
                    }
                }
            }
        }
        out.append('"');
    }

    private static void object(Map<?, ?> map, StringBuilder out) {
        // The order of String.compareTo is that of UTF-16 code units, which RFC 8785 asks for.
        var sorted = new TreeMap<String, @Nullable Object>();
        map.forEach((key, value) -> sorted.put((String) key, value));
        var comma = "";
        out.append('{');
        for (var member : sorted.entrySet()) {
            out.append(comma);
            string(member.getKey(), out);
            out.append(':');
            write(member.getValue(), out);
            comma = ",";
        }
        out.append('}');
    }

    private static void array(Collection<?> items, StringBuilder out) {
        var comma = "";
        out.append('[');
        for (var item : items) {
            out.append(comma);
            write(item, out);
            comma = ",";
        }
        out.append(']');
    }
}
