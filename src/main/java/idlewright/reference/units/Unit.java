package idlewright.reference.units;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/**
 * The units that instruments in a workshop show, each with its exact way to SI.
 *
 * <p>Factors: NIST SP 811 conversion tables and the definitions of inch, pound, gallon and standard gravity. Distance
 * per fuel (mpg) is the reciprocal of a consumption.
 */
public enum Unit {
    VOLT(Dimension.VOLTAGE, "V", times("1"), "volt", "volts", "vdc"),
    MILLIVOLT(Dimension.VOLTAGE, "mV", times("0.001"), "millivolt", "millivolts"),
    KILOVOLT(Dimension.VOLTAGE, "kV", times("1000"), "kilovolt", "kilovolts"),
    AMPERE(Dimension.CURRENT, "A", times("1"), "amp", "amps", "ampere", "amperes"),
    MILLIAMPERE(Dimension.CURRENT, "mA", times("0.001"), "milliamp", "milliamps"),
    OHM(Dimension.RESISTANCE, "ohm", times("1"), "ohms", "\u03a9", "\u2126"),
    KILOOHM(Dimension.RESISTANCE, "kohm", times("1000"), "kohms", "kilohm", "kiloohm", "k\u03a9", "k\u2126"),

    PASCAL(Dimension.PRESSURE, "Pa", times("1"), "pascal"),
    HECTOPASCAL(Dimension.PRESSURE, "hPa", times("100"), "mbar", "millibar"),
    KILOPASCAL(Dimension.PRESSURE, "kPa", times("1000"), "kilopascal"),
    MEGAPASCAL(Dimension.PRESSURE, "MPa", times("1000000"), "megapascal"),
    BAR(Dimension.PRESSURE, "bar", times("100000"), "bars"),
    /** 0.45359237 kg x 9.80665 m/s2 over (0.0254 m) squared: 6.894757293 kPa. */
    PSI(Dimension.PRESSURE, "psi", ratio("4.4482216152605", "0.00064516"), "lb/in2", "lbs/in2", "lbf/in2"),
    /** The conventional inch, 3.386389 kPa; the inch at 60 degF (3.37685 kPa) is another unit. */
    INCH_OF_MERCURY(Dimension.PRESSURE, "inHg", times("3386.389"), "in.hg", "\"hg", "inches of mercury"),
    MILLIMETRE_OF_MERCURY(Dimension.PRESSURE, "mmHg", times("133.322387415")),
    /** The conventional inch: 1000 kg/m3 x 9.80665 m/s2 x 0.0254 m. */
    INCH_OF_WATER(Dimension.PRESSURE, "inH2O", times("249.08891"), "in.h2o", "\"h2o", "inwc", "inches of water"),

    GRAM_PER_SECOND(Dimension.MASS_FLOW, "g/s", times("0.001"), "g/sec", "gps", "gm/s", "gm/sec", "grams/sec"),
    KILOGRAM_PER_HOUR(Dimension.MASS_FLOW, "kg/h", ratio("1", "3600"), "kg/hr", "kgh"),
    POUND_PER_MINUTE(Dimension.MASS_FLOW, "lb/min", ratio("0.45359237", "60"), "lbs/min"),

    RPM(Dimension.SPEED_OF_ROTATION, "rpm", ratio("1", "60"), "1/min", "/min", "min-1", "r/min", "rev/min"),

    PERCENT(Dimension.RATIO_PERCENT, "%", times("0.01"), "percent", "per cent", "pct", "% vol", "vol %"),
    PARTS_PER_MILLION(Dimension.RATIO_PERCENT, "ppm", times("0.000001")),

    MILLISECOND(Dimension.TIME, "ms", times("0.001"), "msec", "millisecond", "milliseconds"),
    SECOND(Dimension.TIME, "s", times("1"), "sec", "secs", "second", "seconds"),
    MINUTE(Dimension.TIME, "min", times("60"), "mins", "minute", "minutes"),
    HOUR(Dimension.TIME, "h", times("3600"), "hr", "hrs", "hour", "hours"),

    HERTZ(Dimension.FREQUENCY, "Hz", times("1"), "hertz", "1/s"),
    KILOHERTZ(Dimension.FREQUENCY, "kHz", times("1000"), "kilohertz"),

    CELSIUS(
            Dimension.TEMPERATURE,
            "\u00b0C",
            shifted("273.15", "1", "1"),
            "c",
            "deg c",
            "celsius",
            "\u2103",
            "\u00bac"),
    FAHRENHEIT(Dimension.TEMPERATURE, "\u00b0F", shifted("459.67", "5", "9"), "f", "deg f", "fahrenheit", "\u2109"),
    KELVIN(Dimension.TEMPERATURE, "K", times("1"), "kelvin"),
    /** A difference of two temperatures, kept apart from {@link #KELVIN} so that 5 K never turns into -268 degC. */
    KELVIN_APART(Dimension.TEMPERATURE_DIFFERENCE, "K apart", times("1")),

    KILOMETRE(Dimension.DISTANCE, "km", times("1000"), "kms", "kilometre", "kilometres", "kilometer", "kilometers"),
    MILE(Dimension.DISTANCE, "mi", times("1609.344"), "mile", "miles"),
    METRE(Dimension.DISTANCE, "m", times("1"), "metre", "metres", "meter", "meters"),
    MILLIMETRE(Dimension.DISTANCE, "mm", times("0.001"), "millimetre", "millimetres", "millimeter", "millimeters"),
    FOOT(Dimension.DISTANCE, "ft", times("0.3048"), "foot", "feet"),
    INCH(Dimension.DISTANCE, "in", times("0.0254"), "inch", "inches"),

    LITRE(Dimension.VOLUME, "L", times("0.001"), "litre", "litres", "liter", "liters"),
    MILLILITRE(Dimension.VOLUME, "mL", times("0.000001"), "cc", "cm3", "ccm", "millilitre", "milliliter"),
    US_GALLON(Dimension.VOLUME, "US gal", times("0.003785411784"), "gal us", "us gallon", "us gallons"),
    IMPERIAL_GALLON(Dimension.VOLUME, "imp gal", times("0.00454609"), "gal imp", "uk gal", "imperial gallon"),
    CUBIC_INCH(Dimension.VOLUME, "in3", times("0.000016387064"), "cu in", "cid", "cubic inch", "cubic inches"),

    GRAM(Dimension.MASS, "g", times("0.001"), "gram", "grams"),
    KILOGRAM(Dimension.MASS, "kg", times("1"), "kilogram", "kilograms"),
    POUND(Dimension.MASS, "lb", times("0.45359237"), "lbs", "pound", "pounds"),

    NEWTON_METRE(Dimension.TORQUE, "N m", times("1"), "n*m", "n.m", "newton metre", "newton meter"),
    /** 0.45359237 kg x 9.80665 m/s2 x 0.3048 m. */
    POUND_FOOT(Dimension.TORQUE, "lb ft", times("1.3558179483314004"), "ft lb", "ft lbs", "lbs ft", "lbf ft", "ft lbf"),

    LAMBDA(Dimension.LAMBDA, "lambda", times("1"), "\u03bb"),
    /** Mass of air to mass of fuel; becomes lambda only through a named {@link Stoichiometry}. */
    AFR(Dimension.AIR_FUEL_RATIO, "AFR", times("1"), ":1", "air-fuel ratio", "air fuel ratio"),
    MILLIGRAM_PER_STROKE(Dimension.MASS_PER_STROKE, "mg/stroke", times("0.000001"), "mg/str", "mg/stk"),
    GRAM_PER_STROKE(Dimension.MASS_PER_STROKE, "g/stroke", times("0.001"), "g/str"),

    KILOMETRE_PER_HOUR(Dimension.SPEED, "km/h", ratio("1", "3.6"), "kmh", "kph", "km/hr"),
    MILE_PER_HOUR(Dimension.SPEED, "mph", times("0.44704"), "mi/h"),

    /** Pi over 180, pi to 40 digits. */
    DEGREE(
            Dimension.ANGLE,
            "deg",
            ratio("3.141592653589793238462643383279502884197", "180"),
            "\u00b0",
            "degree",
            "degrees",
            "deg btdc"),

    LITRE_PER_HOUR(Dimension.VOLUME_FLOW, "L/h", ratio("0.001", "3600"), "l/hr", "lph"),
    US_GALLON_PER_HOUR(Dimension.VOLUME_FLOW, "US gal/h", ratio("0.003785411784", "3600"), "us gal/hr"),

    LITRE_PER_100_KM(Dimension.CONSUMPTION, "L/100 km", times("0.00000001"), "l per 100 km"),
    MPG_US(Dimension.CONSUMPTION, "mpg US", reciprocal("0.003785411784", "1609.344"), "us mpg"),
    MPG_IMPERIAL(
            Dimension.CONSUMPTION,
            "mpg imp",
            reciprocal("0.00454609", "1609.344"),
            "imp mpg",
            "mpg uk",
            "mpg imperial"),

    GRAM_PER_LITRE(Dimension.DENSITY, "g/L", times("1"), "kg/m3"),
    COUNT(Dimension.COUNT, "", times("1"), "count", "counts", "times");

    private record Way(BigDecimal numerator, BigDecimal denominator, BigDecimal shift, boolean upsideDown) {}

    private static Way times(String factor) {
        return shifted("0", factor, "1");
    }

    private static Way ratio(String numerator, String denominator) {
        return shifted("0", numerator, denominator);
    }

    private static Way shifted(String shift, String numerator, String denominator) {
        return new Way(new BigDecimal(numerator), new BigDecimal(denominator), new BigDecimal(shift), false);
    }

    private static Way reciprocal(String numerator, String denominator) {
        return new Way(new BigDecimal(numerator), new BigDecimal(denominator), BigDecimal.ZERO, true);
    }

    /** More digits than are kept, so that there and back again ends where it began. */
    private static final MathContext WORKING = new MathContext(50, RoundingMode.HALF_EVEN);

    private static final MathContext KEPT = new MathContext(30, RoundingMode.HALF_EVEN);

    private static final Map<String, Unit> BY_NAME = new HashMap<>();

    static {
        for (Unit unit : values()) {
            BY_NAME.putIfAbsent(folded(unit.symbol), unit);
            unit.names.forEach(name -> BY_NAME.putIfAbsent(folded(name), unit));
        }
    }

    private final Dimension dimension;
    private final String symbol;
    private final Way way;
    private final List<String> names;

    Unit(Dimension dimension, String symbol, Way way, String... names) {
        this.dimension = dimension;
        this.symbol = symbol;
        this.way = way;
        this.names = List.of(names);
    }

    /** How the unit is written after a number; empty for a plain count. */
    public String symbol() {
        return symbol;
    }

    /** What kind of thing this unit measures. */
    public Dimension dimension() {
        return dimension;
    }

    /**
     * Whether it counts whole things, as rpm, an odometer or a stopwatch do: there a mark before exactly three digits groups
     * thousands.
     */
    public boolean counts() {
        return switch (this) {
            case RPM, COUNT, PARTS_PER_MILLION, KILOMETRE, MILE, SECOND -> true;
            default -> false;
        };
    }

    /** Whether a larger value means less of the thing, as with miles per gallon; such values are not added. */
    public boolean upsideDown() {
        return way.upsideDown;
    }

    /**
     * The value in the SI unit of this dimension, to 30 digits.
     *
     * @throws IllegalArgumentException for no distance per gallon at all, which is no finite consumption
     */
    public BigDecimal toSi(BigDecimal value) {
        return kept(way.upsideDown ? turned(value) : linear(value));
    }

    private BigDecimal linear(BigDecimal value) {
        return value.add(way.shift).multiply(way.numerator).divide(way.denominator, WORKING);
    }

    private BigDecimal turned(BigDecimal value) {
        if (value.signum() == 0) {
            throw new IllegalArgumentException("0 " + symbol + " has no counterpart: enter a value above zero.");
        }
        return way.numerator.divide(way.denominator.multiply(value), WORKING);
    }

    /** The value in this unit of what is given in the SI unit of its dimension, to 30 digits. */
    public BigDecimal fromSi(BigDecimal si) {
        return kept(
                way.upsideDown
                        ? turned(si)
                        : si.multiply(way.denominator)
                                .divide(way.numerator, WORKING)
                                .subtract(way.shift));
    }

    /** As {@link #toSi(BigDecimal)} for series of values; 0 mpg becomes infinity instead of a refusal. */
    public double toSi(double value) {
        double factor = way.numerator.doubleValue() / way.denominator.doubleValue();
        return way.upsideDown ? factor / value : (value + way.shift.doubleValue()) * factor;
    }

    /** As {@link #fromSi(BigDecimal)} for series of values. */
    public double fromSi(double si) {
        double factor = way.numerator.doubleValue() / way.denominator.doubleValue();
        return way.upsideDown ? factor / si : si / factor - way.shift.doubleValue();
    }

    private static BigDecimal kept(BigDecimal exact) {
        BigDecimal rounded = exact.round(KEPT).stripTrailingZeros();
        return rounded.scale() < 0 ? rounded.setScale(0) : rounded;
    }

    /**
     * The unit a person meant: case, spaces and the usual other spellings do not matter ("deg C", "g/sec", "1/min").
     * A bare "gal" or "mpg" is not guessed at, because two gallons are in use.
     */
    public static Optional<Unit> of(String typed) {
        return Optional.ofNullable(BY_NAME.get(folded(typed)));
    }

    /** "degC" and "°C" fold alike, and so do "N·m" and "N m". */
    private static String folded(String name) {
        String bare = name.strip().toLowerCase(Locale.ROOT).replaceAll("[\\s\\p{Zs}\u00b7]", "");
        return bare.startsWith("deg") && bare.length() == 4 ? "\u00b0" + bare.charAt(3) : bare;
    }
}
