package idlewright.reference.units;

/** What kind of thing is measured; only quantities of one dimension can be converted, added or compared. */
public enum Dimension {
    VOLTAGE("a voltage", "V"),
    CURRENT("a current", "A"),
    RESISTANCE("a resistance", "ohm"),
    PRESSURE("a pressure", "Pa"),
    MASS_FLOW("a mass flow", "kg/s"),
    SPEED_OF_ROTATION("a speed of rotation", "1/s"),
    RATIO_PERCENT("a percentage", "1"),
    TIME("a time", "s"),
    FREQUENCY("a frequency", "Hz"),
    TEMPERATURE("a temperature", "K"),
    TEMPERATURE_DIFFERENCE("a temperature difference", "K"),
    DISTANCE("a distance", "m"),
    VOLUME("a volume", "m3"),
    MASS("a mass", "kg"),
    TORQUE("a torque", "N m"),
    LAMBDA("a lambda value", "1"),
    AIR_FUEL_RATIO("an air-fuel ratio", "1"),
    MASS_PER_STROKE("a mass per stroke", "kg"),
    SPEED("a speed", "m/s"),
    ANGLE("an angle", "rad"),
    VOLUME_FLOW("a volume flow", "m3/s"),
    CONSUMPTION("a fuel consumption", "m3/m"),
    DENSITY("a density", "kg/m3"),
    COUNT("a count", "1");

    private final String words;
    private final String siSymbol;

    Dimension(String words, String siSymbol) {
        this.words = words;
        this.siSymbol = siSymbol;
    }

    /** With its article, to stand in a sentence: "a pressure". */
    public String words() {
        return words;
    }

    /** The SI unit in which values of this dimension are kept; revolutions count as 1/s, ratios as 1. */
    public String siSymbol() {
        return siSymbol;
    }
}
