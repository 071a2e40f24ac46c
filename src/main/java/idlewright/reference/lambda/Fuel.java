package idlewright.reference.lambda;

import static idlewright.reference.bounds.Bounds.within;

import java.util.Locale;

/**
 * A fuel as the air-fuel sums need it.
 *
 * @param name as a person says it
 * @param stoichiometric kg of air that burn 1 kg of fuel, 4 to 20
 * @param densityGPerL liquid, near 15 degC, 400 to 1,000 g/L; gas fuels carry the density of the liquid or none fits
 * @param throttled the engine's air follows the fuel (petrol, gas), so that airflow tells fuel; a diesel's does not
 */
public record Fuel(String name, double stoichiometric, double densityGPerL, boolean throttled) {

    // Source of 14.7, 9 and of petrol's and ethanol's density range: US DOE, Alternative Fuels Data Center.
    private static final double PETROL_DENSITY = 745;
    private static final double ETHANOL_DENSITY = 789;

    public static final Fuel PETROL = new Fuel("petrol", 14.7, PETROL_DENSITY, true);
    public static final Fuel ETHANOL = new Fuel("ethanol", 9.0, ETHANOL_DENSITY, true);

    /** Petrol with 10 % ethanol, stoichiometric 14.1: what most pumps sell. */
    public static final Fuel E10 = petrolWithEthanol(10);

    /** Petrol with 85 % ethanol. */
    public static final Fuel E85 = petrolWithEthanol(85);

    /** Diesel: stoichiometric 14.5, 835 g/L (both from memory), and never run there. */
    public static final Fuel DIESEL = new Fuel("diesel", 14.5, 835, false);

    /** Propane and butane: stoichiometric 15.6, 540 g/L (both from memory). */
    public static final Fuel LPG = new Fuel("LPG", 15.6, 540, true);

    public Fuel {
        within("stoichiometric air-fuel ratio", stoichiometric, 4, 20, "");
        within("fuel density", densityGPerL, 400, 1000, "g/L");
    }

    /**
     * Petrol with ethanol mixed in, by mass.
     *
     * @param ethanolPercent by volume, 0 to 100 %
     */
    public static Fuel petrolWithEthanol(double ethanolPercent) {
        double share = within("ethanol in fuel", ethanolPercent, 0, 100, "%") / 100;
        double density = (1 - share) * PETROL_DENSITY + share * ETHANOL_DENSITY;
        double ethanolByMass = share * ETHANOL_DENSITY / density;
        double stoichiometric = (1 - ethanolByMass) * 14.7 + ethanolByMass * 9.0;
        return new Fuel(String.format(Locale.ROOT, "E%.0f", ethanolPercent), stoichiometric, density, true);
    }

    /**
     * Energy per litre against petrol without ethanol, as a share: E10 gives 0.966, so about 3.4 % fewer miles per gallon.
     * Source: US DOE, lower heating values 115,000 and 76,000 Btu/gal.
     *
     * @param ethanolPercent by volume, 0 to 100 %
     */
    public static double energyShare(double ethanolPercent) {
        double share = within("ethanol in fuel", ethanolPercent, 0, 100, "%") / 100;
        return 1 - share + share * 76_000 / 115_000;
    }
}
