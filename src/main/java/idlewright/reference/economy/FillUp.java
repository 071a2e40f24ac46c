package idlewright.reference.economy;

import static idlewright.reference.bounds.Bounds.within;

/**
 * One visit to the pump.
 *
 * @param odometerKm 0 to 10,000,000 km
 * @param litres 0.1 to 2,000 L
 * @param full filled to the first click; only full tanks close a span
 */
public record FillUp(double odometerKm, double litres, boolean full) {

    public FillUp {
        within("odometer", odometerKm, 0, 10_000_000, "km");
        within("fuel filled", litres, 0.1, 2000, "L");
    }

    public static FillUp us(double odometerMiles, double usGallons, boolean full) {
        return new FillUp(odometerMiles * Consumption.KM_PER_MILE, usGallons * Consumption.LITRES_PER_US_GALLON, full);
    }

    public static FillUp imperial(double odometerMiles, double imperialGallons, boolean full) {
        return new FillUp(
                odometerMiles * Consumption.KM_PER_MILE,
                imperialGallons * Consumption.LITRES_PER_IMPERIAL_GALLON,
                full);
    }
}
