package idlewright.reference.obd.log;

import idlewright.reference.units.Unit;

/**
 * What a column of a log can be, with the unit it is turned into.
 *
 * <p>The range is what a running car can show (common practice, no source): wider than any healthy reading, narrower
 * than what the bytes of SAE J1979 can carry. The step is one bit of the standard's coding.
 */
public enum LogQuantity {
    TIME("time", Unit.SECOND, 0, -Double.MAX_VALUE, Double.MAX_VALUE),
    ENGINE_SPEED("engine speed", Unit.RPM, 0.25, 0, 12_000),
    VEHICLE_SPEED("vehicle speed", Unit.KILOMETRE_PER_HOUR, 1, 0, 320),
    GPS_SPEED("GPS speed", Unit.KILOMETRE_PER_HOUR, 0.1, 0, 320),
    MASS_AIR_FLOW("mass air flow", Unit.GRAM_PER_SECOND, 0.01, -1, 600),
    CALCULATED_LOAD("calculated load", Unit.PERCENT, 100 / 255.0, 0, 100.01),
    ABSOLUTE_LOAD("absolute load", Unit.PERCENT, 100 / 255.0, 0, 400),
    MANIFOLD_PRESSURE("manifold pressure", Unit.KILOPASCAL, 1, 5, 420),
    BAROMETER("barometer", Unit.KILOPASCAL, 1, 45, 115),
    INTAKE_AIR_TEMPERATURE("intake air temperature", Unit.CELSIUS, 1, -39.5, 130),
    AMBIENT_AIR_TEMPERATURE("outside temperature", Unit.CELSIUS, 1, -39.5, 65),
    COOLANT_TEMPERATURE("coolant temperature", Unit.CELSIUS, 1, -39.5, 150),
    OIL_TEMPERATURE("oil temperature", Unit.CELSIUS, 1, -39.5, 180),
    THROTTLE("throttle", Unit.PERCENT, 100 / 255.0, -1, 100.01),
    PEDAL("accelerator pedal", Unit.PERCENT, 100 / 255.0, -1, 100.01),
    SHORT_TRIM_1("short trim bank 1", Unit.PERCENT, 100 / 128.0, -99, 99),
    LONG_TRIM_1("long trim bank 1", Unit.PERCENT, 100 / 128.0, -99, 99),
    SHORT_TRIM_2("short trim bank 2", Unit.PERCENT, 100 / 128.0, -99, 99),
    LONG_TRIM_2("long trim bank 2", Unit.PERCENT, 100 / 128.0, -99, 99),
    O2_VOLTS_B1S1("O2 volts bank 1 sensor 1", Unit.VOLT, 0.005, -0.2, 8),
    O2_VOLTS_B1S2("O2 volts bank 1 sensor 2", Unit.VOLT, 0.005, -0.2, 8),
    O2_VOLTS_B2S1("O2 volts bank 2 sensor 1", Unit.VOLT, 0.005, -0.2, 8),
    O2_VOLTS_B2S2("O2 volts bank 2 sensor 2", Unit.VOLT, 0.005, -0.2, 8),
    LAMBDA("lambda", Unit.LAMBDA, 2 / 65536.0, 0.3, 40),
    LAMBDA_2("lambda bank 2", Unit.LAMBDA, 2 / 65536.0, 0.3, 40),
    COMMANDED_LAMBDA("commanded lambda", Unit.LAMBDA, 2 / 65536.0, 0.3, 40),
    FUEL_RATE("fuel rate", Unit.LITRE_PER_HOUR, 0.05, 0, 300),
    SPARK_ADVANCE("spark advance", Unit.DEGREE, 0.5, -64, 64),
    MODULE_VOLTAGE("module voltage", Unit.VOLT, 0.001, 3, 36),
    FUEL_LEVEL("fuel level", Unit.PERCENT, 100 / 255.0, 0, 100.01),
    RAIL_PRESSURE("fuel rail pressure", Unit.KILOPASCAL, 10, 0, 400_000),
    RUN_TIME("run time", Unit.SECOND, 1, 0, 1e7),
    /** Known, and of no use here: date, position, distance counters. */
    IGNORED("left out", Unit.COUNT, 0, -Double.MAX_VALUE, Double.MAX_VALUE),
    /** Not recognised; the reader may say what it is. */
    UNKNOWN("not recognised", Unit.COUNT, 0, -Double.MAX_VALUE, Double.MAX_VALUE);

    private final String words;
    private final Unit unit;
    private final double step;
    private final double lowest;
    private final double highest;

    LogQuantity(String words, Unit unit, double step, double lowest, double highest) {
        this.words = words;
        this.unit = unit;
        this.step = step;
        this.lowest = lowest;
        this.highest = highest;
    }

    /** As it stands on a screen, in lower case. */
    public String words() {
        return words;
    }

    /** The unit every value of this quantity is turned into. */
    public Unit unit() {
        return unit;
    }

    /** Smallest difference the usual coding can show, in {@link #unit()}. */
    public double step() {
        return step;
    }

    /** Below this no running car reads, in {@link #unit()}. */
    public double lowest() {
        return lowest;
    }

    /** Above this no running car reads, in {@link #unit()}. */
    public double highest() {
        return highest;
    }

    /** Whether values of this quantity are kept and looked at. */
    public boolean read() {
        return this != TIME && this != IGNORED && this != UNKNOWN;
    }

    /** Whether it cannot stand still while engine speed moves; the others may honestly be constant. */
    boolean lively() {
        return switch (this) {
            case MASS_AIR_FLOW,
                    CALCULATED_LOAD,
                    ABSOLUTE_LOAD,
                    MANIFOLD_PRESSURE,
                    THROTTLE,
                    PEDAL,
                    O2_VOLTS_B1S1,
                    O2_VOLTS_B2S1,
                    SPARK_ADVANCE,
                    FUEL_RATE,
                    SHORT_TRIM_1,
                    SHORT_TRIM_2 -> true;
            default -> false;
        };
    }

    /** One of these out of its range makes the whole log unfit, because all else hangs on it. */
    boolean carries() {
        return this == ENGINE_SPEED || this == VEHICLE_SPEED || this == COOLANT_TEMPERATURE;
    }

    /** First data byte of the SAE J1979 coding that gives this value; NaN where there is none. */
    double firstByte(double value) {
        return switch (this) {
            case ENGINE_SPEED -> value * 4 / 256;
            case VEHICLE_SPEED, MANIFOLD_PRESSURE, BAROMETER -> value;
            case MASS_AIR_FLOW -> value * 100 / 256;
            case CALCULATED_LOAD, THROTTLE -> value * 255 / 100;
            case ABSOLUTE_LOAD -> value * 255 / 100 / 256;
            case INTAKE_AIR_TEMPERATURE, COOLANT_TEMPERATURE, AMBIENT_AIR_TEMPERATURE, OIL_TEMPERATURE -> value + 40;
            case MODULE_VOLTAGE -> value * 1000 / 256;
            case FUEL_RATE -> value * 20 / 256;
            default -> Double.NaN;
        };
    }
}
