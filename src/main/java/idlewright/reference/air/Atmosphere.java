package idlewright.reference.air;

import static idlewright.reference.bounds.Bounds.within;

/**
 * The air an engine breathes: temperature, pressure and density.
 *
 * @param temperatureC degC
 * @param pressureKpa absolute, kPa
 * @param densityGPerL g/L, the same figure as kg/m3
 */
public record Atmosphere(double temperatureC, double pressureKpa, double densityGPerL) {

    /** Specific gas constant of dry air, J/(kg K). Source: US Standard Atmosphere 1976. */
    static final double DRY_AIR = 287.0528;

    /** Specific gas constant of water vapour, J/(kg K), from memory. */
    private static final double WATER_VAPOUR = 461.5;

    private static final double ZERO_C = 273.15;
    private static final double SEA_LEVEL_KPA = 101.325;
    private static final double SEA_LEVEL_K = 288.15;
    private static final double LAPSE_K_PER_M = 0.0065;
    private static final double EXPONENT = 9.80665 / (DRY_AIR * LAPSE_K_PER_M);

    /** The air SAE J1979 refers load to: 25 degC, 101.325 kPa, dry; 1.184 g/L as the standard rounds it. */
    public static final Atmosphere LOAD_REFERENCE = new Atmosphere(25, SEA_LEVEL_KPA, 1.184);

    /**
     * The standard atmosphere at a height. Source: US Standard Atmosphere 1976, troposphere; real weather moves the
     * pressure by up to about 3 %.
     *
     * @param altitudeM metres above sea level, -500 to 11,000
     */
    public static Atmosphere standardAt(double altitudeM) {
        within("altitude", altitudeM, -500, 11_000, "m");
        double temperatureK = SEA_LEVEL_K - LAPSE_K_PER_M * altitudeM;
        return dry(temperatureK - ZERO_C, SEA_LEVEL_KPA * Math.pow(temperatureK / SEA_LEVEL_K, EXPONENT));
    }

    /**
     * The height, in metres, at which the standard atmosphere has this pressure: the inverse of {@link #standardAt}.
     *
     * @param pressureKpa absolute, 22.7 to 107.5 kPa
     */
    public static double standardAltitudeM(double pressureKpa) {
        within("barometric pressure", pressureKpa, 22.7, 107.5, "kPa");
        return SEA_LEVEL_K / LAPSE_K_PER_M * (1 - Math.pow(pressureKpa / SEA_LEVEL_KPA, 1 / EXPONENT));
    }

    /**
     * Dry air by the ideal gas law; error under 0.1 % in the range.
     *
     * @param temperatureC -60 to 200 degC
     * @param pressureKpa absolute, 1 to 500 kPa
     */
    public static Atmosphere dry(double temperatureC, double pressureKpa) {
        within("air temperature", temperatureC, -60, 200, "degC");
        within("air pressure", pressureKpa, 1, 500, "kPa absolute");
        return new Atmosphere(temperatureC, pressureKpa, pressureKpa * 1000 / (DRY_AIR * (temperatureC + ZERO_C)));
    }

    /**
     * Moist air, its vapour pressure after Buck (1996, from memory). Damp air is lighter: at 30 degC and 80 % about
     * 1.3 %, and a mass flow sensor counts the vapour too. Error of the density under 0.1 %.
     *
     * @param temperatureC -40 to 60 degC
     * @param pressureKpa absolute, 50 to 300 kPa
     * @param relativeHumidityPercent 0 to 100 %
     */
    public static Atmosphere moist(double temperatureC, double pressureKpa, double relativeHumidityPercent) {
        within("air temperature", temperatureC, -40, 60, "degC");
        within("air pressure", pressureKpa, 50, 300, "kPa absolute");
        within("relative humidity", relativeHumidityPercent, 0, 100, "%");
        double vapourKpa = relativeHumidityPercent / 100 * saturationKpa(temperatureC);
        double temperatureK = temperatureC + ZERO_C;
        double density = 1000 * ((pressureKpa - vapourKpa) / DRY_AIR + vapourKpa / WATER_VAPOUR) / temperatureK;
        return new Atmosphere(temperatureC, pressureKpa, density);
    }

    private static double saturationKpa(double temperatureC) {
        return 0.61121 * Math.exp((18.678 - temperatureC / 234.5) * (temperatureC / (257.14 + temperatureC)));
    }
}
