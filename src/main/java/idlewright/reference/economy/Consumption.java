package idlewright.reference.economy;

import static idlewright.reference.bounds.Bounds.within;

/**
 * Fuel used over a distance.
 *
 * @param km over 0, to 10,000,000 km
 * @param litres 0 to 10,000,000 L
 */
public record Consumption(double km, double litres) {

    static final double KM_PER_MILE = 1.609344;
    static final double LITRES_PER_US_GALLON = 3.785411784;
    static final double LITRES_PER_IMPERIAL_GALLON = 4.54609;

    public Consumption {
        within("distance", km, 0.001, 10_000_000, "km");
        within("fuel", litres, 0, 10_000_000, "L");
    }

    public double litresPer100Km() {
        return 100 * litres / km;
    }

    /** Miles per US gallon; endless when no fuel was used. */
    public double mpgUs() {
        return km / KM_PER_MILE / (litres / LITRES_PER_US_GALLON);
    }

    /** Miles per imperial gallon. */
    public double mpgImperial() {
        return km / KM_PER_MILE / (litres / LITRES_PER_IMPERIAL_GALLON);
    }

    public double kmPerLitre() {
        return km / litres;
    }

    /** Both together: total fuel over total distance, never the mean of two averages. */
    public Consumption plus(Consumption other) {
        return new Consumption(km + other.km, litres + other.litres);
    }
}
