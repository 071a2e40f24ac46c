package idlewright.reference.obd.log;

import java.util.OptionalDouble;

/**
 * What the engine burns, as far as a log needs it.
 *
 * <p>Air-fuel ratios by mass: US DOE Alternative Fuels Data Center (petrol 14.7, ethanol 9), mixed by mass for E10 and
 * E85. Densities in g/L: 745 petrol and 789 ethanol, mixed by volume; diesel 832, inside the printed 6.7 to 7.4 lb per
 * US gallon.
 */
public enum Fuel {
    PETROL("petrol", 14.7, 745),
    E10("petrol E10", 14.1, 749.4),
    E85("E85", 9.8, 782.4),
    DIESEL("diesel", 14.5, 832);

    private final String words;
    private final double airFuelRatio;
    private final double gramsPerLitre;

    Fuel(String words, double airFuelRatio, double gramsPerLitre) {
        this.words = words;
        this.airFuelRatio = airFuelRatio;
        this.gramsPerLitre = gramsPerLitre;
    }

    public String words() {
        return words;
    }

    /** Masses of air that burn one mass of fuel completely. */
    public double airFuelRatio() {
        return airFuelRatio;
    }

    public double gramsPerLitre() {
        return gramsPerLitre;
    }

    /**
     * Litres per hour burnt with 1 g/s of air at the right mixture, 0.32872 for petrol; empty for diesel, which runs with
     * far more air than it burns.
     */
    public OptionalDouble litresPerHourPerGramOfAir() {
        return this == DIESEL ? OptionalDouble.empty() : OptionalDouble.of(3600 / (airFuelRatio * gramsPerLitre));
    }
}
