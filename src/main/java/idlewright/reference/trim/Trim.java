package idlewright.reference.trim;

import static idlewright.reference.bounds.Bounds.within;

/**
 * Short and long fuel trim of one bank at one moment; plus adds fuel.
 *
 * @param shortPercent -100 to 99.22 %, the range of service 01 PIDs 06 to 09
 * @param longPercent the same
 */
public record Trim(double shortPercent, double longPercent) {

    public Trim {
        within("short fuel trim", shortPercent, -100, 99.22, "%");
        within("long fuel trim", longPercent, -100, 99.22, "%");
    }

    /** What the engine really corrects by: short plus long, %. */
    public double totalPercent() {
        return shortPercent + longPercent;
    }

    /** The two pull against each other so hard that the long one must still hold an old correction. */
    boolean fights(double percent) {
        return shortPercent * longPercent < 0
                && Math.abs(longPercent) > percent
                && Math.abs(shortPercent) > percent
                && Math.abs(totalPercent()) <= percent;
    }
}
