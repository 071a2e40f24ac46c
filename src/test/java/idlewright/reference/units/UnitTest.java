package idlewright.reference.units;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.math.BigDecimal;
import java.util.EnumMap;
import java.util.Map;
import java.util.Objects;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import si.uom.SI;
import tech.units.indriya.AbstractUnit;
import tech.units.indriya.quantity.Quantities;
import tech.units.indriya.unit.Units;

class UnitTest {

    /** Built from the SI units of the JSR-385 reference implementation and the legal definitions, never from our table. */
    private static final Map<Unit, javax.measure.Unit<?>> REFERENCE = reference();

    private static Map<Unit, javax.measure.Unit<?>> reference() {
        var inch = Units.METRE.multiply(254).divide(10000);
        var foot = inch.multiply(12);
        var mile = foot.multiply(5280);
        var pound = Units.KILOGRAM.multiply(45359237).divide(100000000);
        var poundForce =
                pound.multiply(Units.METRE).multiply(980665).divide(100000).divide(Units.SECOND.pow(2));
        var litre = Units.METRE.divide(10).pow(3);
        var usGallon = inch.pow(3).multiply(231);
        var imperialGallon = litre.multiply(454609).divide(100000);
        var stroke = AbstractUnit.ONE;
        Map<Unit, javax.measure.Unit<?>> map = new EnumMap<>(Unit.class);
        map.put(Unit.VOLT, Units.VOLT);
        map.put(Unit.MILLIVOLT, Units.VOLT.divide(1000));
        map.put(Unit.KILOVOLT, Units.VOLT.multiply(1000));
        map.put(Unit.AMPERE, Units.AMPERE);
        map.put(Unit.MILLIAMPERE, Units.AMPERE.divide(1000));
        map.put(Unit.OHM, Units.OHM);
        map.put(Unit.KILOOHM, Units.OHM.multiply(1000));
        map.put(Unit.PASCAL, Units.PASCAL);
        map.put(Unit.HECTOPASCAL, Units.PASCAL.multiply(100));
        map.put(Unit.KILOPASCAL, Units.PASCAL.multiply(1000));
        map.put(Unit.MEGAPASCAL, Units.PASCAL.multiply(1000000));
        map.put(Unit.BAR, Units.PASCAL.multiply(100000));
        map.put(Unit.PSI, poundForce.divide(inch.pow(2)));
        map.put(Unit.MILLIMETRE_OF_MERCURY, Units.PASCAL.multiply(133322387415L).divide(1000000000L));
        map.put(Unit.INCH_OF_MERCURY, Units.PASCAL.multiply(3386389).divide(1000));
        map.put(
                Unit.INCH_OF_WATER,
                Units.KILOGRAM
                        .multiply(1000)
                        .divide(Units.METRE.pow(3))
                        .multiply(Units.METRE.multiply(980665).divide(100000).divide(Units.SECOND.pow(2)))
                        .multiply(inch));
        map.put(Unit.GRAM_PER_SECOND, Units.KILOGRAM.divide(1000).divide(Units.SECOND));
        map.put(Unit.KILOGRAM_PER_HOUR, Units.KILOGRAM.divide(Units.HOUR));
        map.put(Unit.POUND_PER_MINUTE, pound.divide(Units.MINUTE));
        map.put(Unit.RPM, AbstractUnit.ONE.divide(Units.MINUTE));
        map.put(Unit.PERCENT, Units.PERCENT);
        map.put(Unit.PARTS_PER_MILLION, AbstractUnit.ONE.divide(1000000));
        map.put(Unit.MILLISECOND, Units.SECOND.divide(1000));
        map.put(Unit.SECOND, Units.SECOND);
        map.put(Unit.MINUTE, Units.MINUTE);
        map.put(Unit.HOUR, Units.HOUR);
        map.put(Unit.HERTZ, Units.HERTZ);
        map.put(Unit.KILOHERTZ, Units.HERTZ.multiply(1000));
        map.put(Unit.CELSIUS, Units.CELSIUS);
        map.put(Unit.FAHRENHEIT, Units.KELVIN.multiply(5).divide(9).shift(459.67));
        map.put(Unit.KELVIN, Units.KELVIN);
        map.put(Unit.KELVIN_APART, Units.KELVIN);
        map.put(Unit.KILOMETRE, Units.METRE.multiply(1000));
        map.put(Unit.MILE, mile);
        map.put(Unit.METRE, Units.METRE);
        map.put(Unit.MILLIMETRE, Units.METRE.divide(1000));
        map.put(Unit.FOOT, foot);
        map.put(Unit.INCH, inch);
        map.put(Unit.LITRE, Units.LITRE);
        map.put(Unit.MILLILITRE, Units.LITRE.divide(1000));
        map.put(Unit.US_GALLON, usGallon);
        map.put(Unit.IMPERIAL_GALLON, imperialGallon);
        map.put(Unit.CUBIC_INCH, inch.pow(3));
        map.put(Unit.GRAM, Units.GRAM);
        map.put(Unit.KILOGRAM, Units.KILOGRAM);
        map.put(Unit.POUND, pound);
        map.put(Unit.NEWTON_METRE, Units.NEWTON.multiply(Units.METRE));
        map.put(Unit.POUND_FOOT, poundForce.multiply(foot));
        map.put(Unit.LAMBDA, AbstractUnit.ONE);
        map.put(Unit.AFR, AbstractUnit.ONE);
        map.put(Unit.MILLIGRAM_PER_STROKE, Units.GRAM.divide(1000).divide(stroke));
        map.put(Unit.GRAM_PER_STROKE, Units.GRAM.divide(stroke));
        map.put(Unit.KILOMETRE_PER_HOUR, Units.KILOMETRE_PER_HOUR);
        map.put(Unit.MILE_PER_HOUR, mile.divide(Units.HOUR));
        map.put(Unit.DEGREE, Units.RADIAN.multiply(Math.PI).divide(180));
        map.put(Unit.LITRE_PER_HOUR, litre.divide(Units.HOUR));
        map.put(Unit.US_GALLON_PER_HOUR, usGallon.divide(Units.HOUR));
        map.put(Unit.LITRE_PER_100_KM, litre.divide(Units.METRE.multiply(100000)));
        map.put(Unit.MPG_US, mile.divide(usGallon));
        map.put(Unit.MPG_IMPERIAL, mile.divide(imperialGallon));
        map.put(Unit.GRAM_PER_LITRE, Units.GRAM.divide(litre));
        map.put(Unit.COUNT, AbstractUnit.ONE);
        return map;
    }

    private static javax.measure.Unit<?> si(Dimension dimension) {
        var cubicMetre = Units.METRE.pow(3);
        return switch (dimension) {
            case VOLTAGE -> Units.VOLT;
            case CURRENT -> Units.AMPERE;
            case RESISTANCE -> Units.OHM;
            case PRESSURE -> Units.PASCAL;
            case MASS_FLOW -> Units.KILOGRAM.divide(Units.SECOND);
            case SPEED_OF_ROTATION, FREQUENCY -> Units.HERTZ;
            case TIME -> Units.SECOND;
            case TEMPERATURE, TEMPERATURE_DIFFERENCE -> Units.KELVIN;
            case DISTANCE -> Units.METRE;
            case VOLUME -> cubicMetre;
            case MASS, MASS_PER_STROKE -> Units.KILOGRAM;
            case TORQUE -> Units.NEWTON.multiply(Units.METRE);
            case SPEED -> Units.METRE_PER_SECOND;
            case ANGLE -> Units.RADIAN;
            case VOLUME_FLOW -> cubicMetre.divide(Units.SECOND);
            case CONSUMPTION -> cubicMetre.divide(Units.METRE);
            case DENSITY -> Units.KILOGRAM.divide(cubicMetre);
            case RATIO_PERCENT, LAMBDA, AIR_FUEL_RATIO, COUNT -> AbstractUnit.ONE;
        };
    }

    @SuppressWarnings({"unchecked", "rawtypes"})
    private static double byReference(double value, javax.measure.Unit from, javax.measure.Unit to) {
        return Quantities.getQuantity(value, from).to(to).getValue().doubleValue();
    }

    @ParameterizedTest(name = "{0} against JSR-385 (Indriya 2.2.4)")
    @EnumSource(Unit.class)
    void agreesWithTheReferenceImplementation(Unit unit) {
        javax.measure.Unit<?> theirs = Objects.requireNonNull(REFERENCE.get(unit));
        Random random = new Random(385);
        for (int i = 0; i < 100; i++) {
            double value = 0.001 + random.nextDouble() * 10_000;
            double expected;
            if (unit.upsideDown()) {
                expected = 1 / byReference(value, theirs, Units.METRE.divide(Units.METRE.pow(3)));
            } else {
                expected = byReference(value, theirs, si(unit.dimension()));
            }
            assertThat(unit.toSi(value)).isCloseTo(expected, within(Math.abs(expected) * 1e-12));
            assertThat(unit.toSi(BigDecimal.valueOf(value)).doubleValue())
                    .isCloseTo(expected, within(Math.abs(expected) * 1e-12));
        }
    }

    @Test
    void knowsTheUnitsOfTheSiLibraryToo() {
        // si.uom:si-units 2.2.3 carries the same coherent units under its own names
        assertThat(byReference(1, SI.PASCAL, Units.PASCAL)).isEqualTo(1);
        assertThat(Unit.KILOPASCAL.toSi(101.325)).isEqualTo(byReference(101.325, SI.PASCAL.multiply(1000), SI.PASCAL));
    }

    @ParameterizedTest
    @EnumSource(Unit.class)
    void comesBackFromSiExactly(Unit unit) {
        Random random = new Random(unit.ordinal());
        for (int i = 0; i < 200; i++) {
            BigDecimal value = BigDecimal.valueOf(1 + random.nextInt(9_999_999), random.nextInt(5));
            assertThat(unit.fromSi(unit.toSi(value)).subtract(value).abs())
                    .as(value + " " + unit)
                    .isLessThan(new BigDecimal("1e-19"));
            assertThat(unit.fromSi(unit.toSi(value.doubleValue())))
                    .isCloseTo(value.doubleValue(), within(1e-9 * (1 + value.doubleValue())));
        }
    }

    @ParameterizedTest(name = "{0} {1} is {2} {3}")
    @CsvSource({
        "1, psi, 6.894757293, kPa, 1e-9", // NIST SP 811 conversion table
        "100, kPa, 14.503774, psi, 1e-6", // computed from the definition
        "101.325, kPa, 14.69594878, psi, 1e-8", // conversion table, standard atmosphere
        "101.325, kPa, 29.9213, inHg, 1e-4", // conversion table, standard atmosphere
        "29.92, inHg, 101.3208, kPa, 1e-4", // conversion table
        "1, inHg, 3.386389, kPa, 1e-12", // NIST SP 811, conventional inch
        "760, mmHg, 101.325, kPa, 1e-4", // definition of the old atmosphere
        "450, mmHg, 17.72, inHg, 0.005", // a maker's idle vacuum, printed in both units
        "150, psi, 1035, kPa, 2", // a maker's compression figures, printed in both units
        "1, US gal, 3.785411784, L, 1e-12", // 231 cubic inches
        "1, imp gal, 4.54609, L, 1e-12", // UK Weights and Measures Act, from memory
        "30, mpg US, 7.840, L/100 km, 0.0005", // computed, 235.214583 over mpg
        "8, L/100 km, 29.402, mpg US, 0.0005",
        "25, mpg US, 9.409, L/100 km, 0.0005",
        "40, mpg imp, 7.062, L/100 km, 0.0005", // computed, 282.480936 over mpg
        "1, mpg US, 235.214583, L/100 km, 1e-6",
        "1, mpg imp, 282.480936, L/100 km, 1e-6",
        "212, degF, 100, degC, 1e-12",
        "84.2, degF, 29, degC, 1e-12", // obd-java-api AirIntakeTempCommandTest
        "-40, degF, -40, degC, 1e-12",
        "80, degF, 26.7, degC, 0.05", // battery table, printed in both units
        "1, mi, 1.609344, km, 1e-12",
        "1, lb/min, 7.559872833, g/s, 1e-8", // computed
        "1, kg/h, 0.277777778, g/s, 1e-8",
        "1, lb ft, 1.355817948, N m, 1e-9", // NIST SP 811
        "5000, ft, 1524, m, 1e-12"
    })
    void convertsTheCheckValues(String value, String from, String expected, String to, double tolerance) {
        Quantity converted =
                Quantity.of(value, Unit.of(from).orElseThrow()).to(Unit.of(to).orElseThrow());
        assertThat(converted.value()).isCloseTo(new BigDecimal(expected), within(BigDecimal.valueOf(tolerance)));
    }

    @ParameterizedTest(name = "{0} means {1}")
    @CsvSource(
            quoteCharacter = '`',
            value = {
                "deg C, CELSIUS",
                "°C, CELSIUS",
                "degC, CELSIUS",
                "C, CELSIUS",
                "deg F, FAHRENHEIT",
                "g/sec, GRAM_PER_SECOND",
                "G/S, GRAM_PER_SECOND",
                "kpa, KILOPASCAL",
                "rpm, RPM",
                "1/min, RPM",
                "1 / min, RPM",
                "Volt, VOLT",
                "mv, MILLIVOLT",
                "in Hg, INCH_OF_MERCURY",
                "in. Hg, INCH_OF_MERCURY",
                "in H2O, INCH_OF_WATER",
                "N·m, NEWTON_METRE",
                "Nm, NEWTON_METRE",
                "ft-lb, ",
                "ft lb, POUND_FOOT",
                "kΩ, KILOOHM",
                "ohms, OHM",
                "λ, LAMBDA",
                "L/100km, LITRE_PER_100_KM",
                "kmh, KILOMETRE_PER_HOUR",
                "°, DEGREE",
                "count, COUNT",
                "gal, ",
                "mpg, ",
                "furlong, "
            })
    void forgivesHowAUnitIsTyped(String typed, Unit meant) {
        assertThat(Unit.of(typed).orElse(null)).isEqualTo(meant);
    }

    @ParameterizedTest
    @EnumSource(Unit.class)
    void understandsItsOwnSymbol(Unit unit) {
        assertThat(Unit.of(unit.symbol())).contains(unit);
    }

    @Test
    void refusesToMixAndSaysWhatWasMixed() {
        Quantity volts = Quantity.of("12.36", Unit.VOLT);
        assertThatThrownBy(() -> volts.to(Unit.KILOPASCAL))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("12.36 V is a voltage and cannot be given in kPa, which measures a pressure.");
        assertThatThrownBy(() -> volts.plus(Quantity.of("3", Unit.AMPERE)))
                .hasMessage("3 A is a current and cannot be added to 12.36 V, which is a voltage.");
        assertThatThrownBy(() -> volts.minus(Quantity.of("3", Unit.LAMBDA))).hasMessageContaining("taken from");
        assertThatThrownBy(() -> volts.compare(Quantity.of("3", Unit.BAR))).hasMessageContaining("compared");
    }

    @Test
    void refusesEveryMixOfTwoDimensions() {
        for (Unit one : Unit.values()) {
            for (Unit other : Unit.values()) {
                Quantity quantity = Quantity.of("2", one);
                if (one.dimension() == other.dimension()) {
                    assertThat(quantity.to(other).unit()).isEqualTo(other);
                } else {
                    assertThatThrownBy(() -> quantity.to(other)).isInstanceOf(IllegalArgumentException.class);
                }
            }
        }
    }

    @Test
    void addsInTheFirstUnit() {
        assertThat(Quantity.of("1", Unit.BAR)
                        .plus(Quantity.of("50", Unit.KILOPASCAL))
                        .text())
                .isEqualTo("1.5 bar");
        assertThat(Quantity.of("12.36", Unit.VOLT)
                        .minus(Quantity.of("60", Unit.MILLIVOLT))
                        .text())
                .isEqualTo("12.30 V");
    }

    @Test
    void takesATemperatureDifferenceForWhatItIs() {
        Quantity hot = Quantity.of("95", Unit.CELSIUS);
        Quantity cold = Quantity.of("68", Unit.FAHRENHEIT);
        Quantity apart = hot.minus(cold);
        assertThat(apart.unit()).isEqualTo(Unit.KELVIN_APART);
        assertThat(apart.value()).isEqualByComparingTo("75");
        assertThat(hot.minus(apart).value()).isEqualByComparingTo("20");
        assertThat(cold.plus(apart).value()).isEqualByComparingTo("203");
        assertThatThrownBy(() -> hot.plus(cold)).hasMessageContaining("Two temperatures cannot be added");
        assertThatThrownBy(() -> apart.to(Unit.CELSIUS)).isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void doesNotAddMilesPerGallon() {
        Quantity mpg = Quantity.of("30", Unit.MPG_US);
        assertThatThrownBy(() -> mpg.plus(mpg)).hasMessageContaining("use L/100 km instead");
        assertThatThrownBy(() -> Quantity.of("0", Unit.MPG_US).to(Unit.LITRE_PER_100_KM))
                .hasMessageContaining("enter a value above zero");
        assertThat(Unit.MPG_US.toSi(0.0)).isInfinite();
    }

    @Test
    void comparesAcrossUnits() {
        assertThat(Quantity.of("1", Unit.BAR).compare(Quantity.of("100.0", Unit.KILOPASCAL)))
                .isZero();
        assertThat(Quantity.of("40", Unit.MPG_US).compare(Quantity.of("30", Unit.MPG_US)))
                .as("more miles per gallon is less consumption")
                .isNegative();
    }

    @Test
    void showsTheDigitsThatWereTyped() {
        assertThat(Quantity.of("12,30", Unit.VOLT).text()).isEqualTo("12.30 V");
        assertThat(Quantity.of(12.36, Unit.VOLT).toString()).isEqualTo("12.36 V");
        assertThat(Quantity.of("3", Unit.COUNT).text()).isEqualTo("3");
        assertThat(Quantity.of("100000", Unit.PASCAL).to(Unit.BAR).text()).isEqualTo("1 bar");
        assertThat(Quantity.of("1", Unit.BAR).to(Unit.PASCAL).text()).isEqualTo("100000 Pa");
        assertThat(Quantity.of("3.8", Unit.BAR).to(Unit.PSI).text(1)).isEqualTo("55.1 psi");
    }

    @Test
    void goesBetweenLambdaAndAirFuelRatioOnlyThroughANamedFuel() {
        assertThat(Stoichiometry.PETROL.lambda(Quantity.of("14.7", Unit.AFR)).value())
                .isEqualByComparingTo("1");
        assertThat(Stoichiometry.PETROL_E10
                        .airFuelRatio(Quantity.of("1.02", Unit.LAMBDA))
                        .text(2))
                .isEqualTo("14.38 AFR");
        assertThatThrownBy(() -> Quantity.of("14.7", Unit.AFR).to(Unit.LAMBDA))
                .isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new Stoichiometry("none", BigDecimal.ZERO)).hasMessageContaining("above zero");
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "  ", "V V", "💧"})
    void knowsNoUnitInNonsense(String typed) {
        assertThat(Unit.of(typed)).isIn(java.util.Optional.empty(), java.util.Optional.of(Unit.COUNT));
    }

    @Test
    void namesEveryDimensionOnce() {
        assertThat(Set.of(Dimension.values())).hasSize(Dimension.values().length);
        for (Dimension dimension : Dimension.values()) {
            assertThat(dimension.words()).startsWith("a");
            assertThat(dimension.siSymbol()).isNotBlank();
        }
    }
}
