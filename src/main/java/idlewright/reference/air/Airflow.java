package idlewright.reference.air;

import static idlewright.reference.bounds.Bounds.within;

/**
 * Mass airflow, filling and load. Flow in g/s (0 to 2,000), speed in rpm (1 to 20,000), pressure in kPa absolute; a value
 * outside is refused with {@link IllegalArgumentException}. All of it is the one product displacement x speed x density x
 * filling, which 40 CFR 1065.930(d) also uses to verify an airflow sensor at idle. What is not exact is what goes in:
 * speed and flow must belong to the same moment.
 */
public final class Airflow {

    private Airflow() {}

    /** Flow, g/s, of an engine that fills completely with air of this density. */
    public static double idealGps(Engine engine, double engineRpm, double densityGPerL) {
        within("air density", densityGPerL, 0.01, 10, "g/L");
        return engine.sweptLitresPerSecond(engineRpm) * densityGPerL;
    }

    /**
     * Flow, g/s, to expect for a filling (volumetric efficiency). Common practice, no source, without boost at full
     * throttle: 75 to 95 %.
     *
     * @param fillingPercent 0 to 400 %
     */
    public static double expectedGps(Engine engine, double engineRpm, double fillingPercent, double densityGPerL) {
        within("filling", fillingPercent, 0, 400, "%");
        return idealGps(engine, engineRpm, densityGPerL) * fillingPercent / 100;
    }

    /** Filling in percent of the air outside: throttled engines read low at idle. Not capped, boost passes 100 %. */
    public static double fillingOfAmbientPercent(
            Engine engine, double massFlowGps, double engineRpm, Atmosphere ambient) {
        return 100 * flow(massFlowGps) / idealGps(engine, engineRpm, ambient.densityGPerL());
    }

    /**
     * Filling in percent of the air in the manifold: how well the engine itself breathes, whatever the throttle does.
     *
     * @param manifoldKpa absolute, 5 to 400 kPa
     * @param intakeAirC -40 to 200 degC; the sensor lags and soaks, 10 K of error is about 3 %
     */
    public static double fillingOfManifoldPercent(
            Engine engine, double massFlowGps, double engineRpm, double manifoldKpa, double intakeAirC) {
        return 100 * flow(massFlowGps) / idealGps(engine, engineRpm, manifoldDensity(manifoldKpa, intakeAirC));
    }

    /**
     * Absolute load, %, as SAE J1979 (service 01 PID 43) defines it: air mass per intake stroke against 1.184 g/L times
     * the displacement of a cylinder. The number of cylinders cancels. Up to about 95 % without boost, well past 100 %
     * with it.
     */
    public static double absoluteLoadPercent(Engine engine, double massFlowGps, double engineRpm) {
        return fillingOfAmbientPercent(engine, massFlowGps, engineRpm, Atmosphere.LOAD_REFERENCE);
    }

    /**
     * Calculated load, %, as SAE J1979 / ISO 15031-5 (service 01 PID 04) define it: flow against the peak flow the engine
     * can draw at that speed, corrected for the air of the day. Reaches 100 % at full throttle everywhere.
     *
     * @param peakFlowGps at full throttle, at this speed, at 25 degC and 101.325 kPa
     * @param barometerKpa absolute, 50 to 110 kPa
     * @param ambientC -40 to 60 degC
     */
    public static double calculatedLoadPercent(
            double massFlowGps, double peakFlowGps, double barometerKpa, double ambientC) {
        within("peak airflow", peakFlowGps, 0.1, 2000, "g/s");
        within("barometric pressure", barometerKpa, 50, 110, "kPa");
        within("ambient temperature", ambientC, -40, 60, "degC");
        // The standard itself rounds zero Celsius to 273 K.
        double peakOfTheDay = peakFlowGps * barometerKpa / 101.325 * Math.sqrt(298 / (ambientC + 273));
        return 100 * flow(massFlowGps) / peakOfTheDay;
    }

    /** Calculated load, %, in the older form of the standard, which corrects for pressure only. Ranges as above. */
    public static double calculatedLoadOlderFormPercent(
            double massFlowGps, double peakSeaLevelGps, double barometerKpa) {
        within("peak airflow", peakSeaLevelGps, 0.1, 2000, "g/s");
        within("barometric pressure", barometerKpa, 50, 110, "kPa");
        return 100 * flow(massFlowGps) / peakSeaLevelGps * 101.325 / barometerKpa;
    }

    /**
     * Flow, g/s, from speed and density: for engines that meter by manifold pressure, or to stand beside a measured flow.
     * The filling is a guess unless it was measured on this engine (about 80 to 85 % is usual), so is the result.
     *
     * @param manifoldKpa absolute, 5 to 400 kPa
     * @param intakeAirC -40 to 200 degC
     * @param fillingPercent of the air in the manifold, 1 to 150 %
     */
    public static double speedDensityGps(
            Engine engine, double engineRpm, double manifoldKpa, double intakeAirC, double fillingPercent) {
        within("filling of the manifold's air", fillingPercent, 1, 150, "%");
        return expectedGps(engine, engineRpm, fillingPercent, manifoldDensity(manifoldKpa, intakeAirC));
    }

    /** Air per cylinder and intake stroke, mg. */
    public static double mgPerStroke(Engine engine, double massFlowGps, double engineRpm) {
        double strokesPerSecond = engine.sweptLitresPerSecond(engineRpm) / engine.litres() * engine.cylinders();
        return 1000 * flow(massFlowGps) / strokesPerSecond;
    }

    private static double manifoldDensity(double manifoldKpa, double intakeAirC) {
        within("manifold pressure", manifoldKpa, 5, 400, "kPa absolute");
        within("intake air temperature", intakeAirC, -40, 200, "degC");
        return Atmosphere.dry(intakeAirC, manifoldKpa).densityGPerL();
    }

    private static double flow(double massFlowGps) {
        return within("mass airflow", massFlowGps, 0, 2000, "g/s");
    }
}
