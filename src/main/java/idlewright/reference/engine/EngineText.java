package idlewright.reference.engine;

import java.util.Locale;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * An engine as people write it, "4-FI 2.0L T/C", "V6 3.5 litre" or "1998 cc turbo diesel".
 *
 * @param cylinders 1 to 16, empty when the text does not say
 * @param litres displacement, 0.3 to 20, empty when the text does not say
 * @param boosted turbocharged or supercharged; false also when the text does not say
 */
public record EngineText(
        OptionalInt cylinders, OptionalDouble litres, boolean boosted, boolean diesel, boolean hybrid) {
    private static final Pattern LITRES =
            Pattern.compile("(?<![\\d.,])(\\d{1,2}(?:[.,]\\d{1,2})?)[ -]?(?:L|LTR|LIT(?:ER|RE)S?)\\b");
    private static final Pattern CUBIC_CENTIMETRES =
            Pattern.compile("(?<![\\d.,])(\\d{1,2}[., ]?\\d{3}|\\d{3}) ?(?:CC|CCM|CM3|CM\u00b3)(?![A-Z0-9])");
    private static final Pattern CUBIC_INCHES =
            Pattern.compile("(?<![\\d.,])(\\d{2,3}) ?(?:CID|CI|CU\\.? ?IN)(?![A-Z])");
    private static final Pattern BARE_DECIMAL = Pattern.compile("(?<![\\d.,])(\\d{1,2}[.,]\\d)(?![\\d.,])");
    private static final Pattern NAMED_CYLINDERS =
            Pattern.compile("(?<![\\d.,])(\\d{1,2})[ -]?CYL|(?<![A-Z0-9])CYL(?:INDERS)?[ :=]*(\\d{1,2})(?![\\d.,])");
    private static final Pattern ARRANGED = Pattern.compile(
            "(?<![A-Z0-9])(?:STRAIGHT|INLINE|FLAT|BOXER|VR|[IVLHWBR])[ -]?(\\d{1,2})(?![\\d.,]| ?L\\b)");
    private static final Pattern LEADING = Pattern.compile("^(\\d{1,2})-(?=[A-Z0-9])");
    private static final Pattern BOOST = Pattern.compile(
            "(?<![A-Z])(?:T/C|S/C|(?:TWIN-?|BI-?)?TURBO|TURBOCHARGED|SUPERCHARGE[DR]|BOOSTED)(?![A-Z])");
    private static final Pattern DIESEL = Pattern.compile("(?<![A-Z])(?:DSL|(?:TURBO)?DIESEL)(?![A-Z])");
    private static final Pattern HYBRID = Pattern.compile("ELEC(?:TRIC)?(?![A-Z])|HYBRID");

    /** Never fails: what the text does not say stays empty. */
    public static EngineText parse(String text) {
        String upper = text.strip().toUpperCase(Locale.ROOT);
        // Longer than any engine label; keeps hostile input cheap.
        String label = upper.length() > 200 ? upper.substring(0, 200) : upper;
        return new EngineText(
                cylinders(label),
                litres(label),
                BOOST.matcher(label).find(),
                DIESEL.matcher(label).find(),
                HYBRID.matcher(label).find());
    }

    private static OptionalDouble litres(String label) {
        Matcher litres = LITRES.matcher(label);
        if (litres.find()) {
            return within(Double.parseDouble(litres.group(1).replace(',', '.')));
        }
        Matcher cubic = CUBIC_CENTIMETRES.matcher(label);
        if (cubic.find()) {
            return within(Double.parseDouble(cubic.group(1).replaceAll("[., ]", "")) / 1000);
        }
        Matcher inches = CUBIC_INCHES.matcher(label);
        if (inches.find()) {
            return within(Double.parseDouble(inches.group(1)) * 0.016387064);
        }
        Matcher bare = BARE_DECIMAL.matcher(label);
        return bare.find() ? within(Double.parseDouble(bare.group(1).replace(',', '.'))) : OptionalDouble.empty();
    }

    private static OptionalDouble within(double litres) {
        return litres >= 0.3 && litres <= 20 ? OptionalDouble.of(litres) : OptionalDouble.empty();
    }

    private static OptionalInt cylinders(String label) {
        for (Pattern pattern : new Pattern[] {NAMED_CYLINDERS, ARRANGED, LEADING}) {
            Matcher matcher = pattern.matcher(label);
            while (matcher.find()) {
                String digits = matcher.group(1) != null ? matcher.group(1) : matcher.group(2);
                int cylinders = Integer.parseInt(digits);
                if (cylinders >= 1 && cylinders <= 16) {
                    return OptionalInt.of(cylinders);
                }
            }
        }
        return OptionalInt.empty();
    }
}
