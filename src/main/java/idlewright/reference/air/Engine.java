package idlewright.reference.air;

import static idlewright.reference.bounds.Bounds.within;

/**
 * What of an engine decides its airflow.
 *
 * @param litres displacement of all cylinders, 0.05 to 30 L
 * @param cylinders 1 to 16
 * @param strokes 2 or 4
 * @param boosted turbocharged or supercharged: filling may pass 100 %
 * @param throttled petrol and gas engines, whose air is throttled; a diesel breathes freely at idle
 */
public record Engine(double litres, int cylinders, int strokes, boolean boosted, boolean throttled) {

    public Engine {
        within("displacement", litres, 0.05, 30, "L");
        within("number of cylinders", cylinders, 1, 16);
        if (strokes != 2 && strokes != 4) {
            throw new IllegalArgumentException("an engine has 2 or 4 strokes, but %d were given".formatted(strokes));
        }
    }

    /** A four-stroke petrol engine without boost. */
    public static Engine fourStroke(double litres, int cylinders) {
        return new Engine(litres, cylinders, 4, false, true);
    }

    public Engine withBoost() {
        return new Engine(litres, cylinders, strokes, true, throttled);
    }

    public Engine asDiesel() {
        return new Engine(litres, cylinders, strokes, boosted, false);
    }

    /** Volume its pistons sweep on intake strokes, L/s: the whole displacement every 2 turns, every turn as two-stroke. */
    double sweptLitresPerSecond(double engineRpm) {
        within("engine speed", engineRpm, 1, 20_000, "rpm");
        return litres * engineRpm / 60 * 2 / strokes;
    }
}
