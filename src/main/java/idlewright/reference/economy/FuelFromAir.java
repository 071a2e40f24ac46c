package idlewright.reference.economy;

import static idlewright.reference.bounds.Bounds.within;

import idlewright.reference.lambda.Fuel;

/**
 * Fuel estimated from mass airflow, on the belief that the engine runs at lambda 1. True hot, in closed loop; too low when
 * enriching (cold, full throttle), too high in a fuel cut. A sensor that reads wrong makes the estimate wrong alike.
 */
public final class FuelFromAir {

    private FuelFromAir() {}

    /**
     * Fuel rate, L/h. On petrol without ethanol this is 0.32872 times the flow; on E10 the same flow means 4 % more mass.
     *
     * @param massFlowGps 0 to 2,000 g/s
     * @throws IllegalArgumentException for a diesel, whose air says nothing of its fuel
     */
    public static double litresPerHour(double massFlowGps, Fuel fuel) {
        if (!fuel.throttled()) {
            throw new IllegalArgumentException(
                    "a diesel is not throttled and runs lean, so airflow does not tell its fuel:"
                            + " use the fuel rate (service 01 PID 5E) or full tanks");
        }
        return within("mass airflow", massFlowGps, 0, 2000, "g/s")
                * 3600
                / (fuel.stoichiometric() * fuel.densityGPerL());
    }

    /**
     * Fuel rate, L/h, as commanded with a total trim. Right only when the trim mends a real fuel error; when it mends a
     * misread airflow, the untrimmed figure is off instead. Show both.
     *
     * @param totalTrimPercent -100 to 100 %
     */
    public static double litresPerHourTrimmed(double massFlowGps, Fuel fuel, double totalTrimPercent) {
        within("total fuel trim", totalTrimPercent, -100, 100, "%");
        return litresPerHour(massFlowGps, fuel) * (1 + totalTrimPercent / 100);
    }

    /**
     * Consumption of the moment, from speed and fuel rate.
     *
     * @param speedKmh above 0 to 400 km/h; standing still there is none
     * @param litresPerHour 0 to 500 L/h
     */
    public static Consumption atSpeed(double speedKmh, double litresPerHour) {
        within("speed", speedKmh, 0.1, 400, "km/h");
        within("fuel rate", litresPerHour, 0, 500, "L/h");
        return new Consumption(speedKmh, litresPerHour);
    }
}
