package idlewright.bench.rules;

import idlewright.reference.units.Unit;
import java.util.List;

/** In which unit a bare number is taken next; it is shown beside the field before anybody types. */
public final class UnitShown {
    private UnitShown() {}

    /**
     * A number that was taken in the same test.
     *
     * @param written the unit stood after the number, so it was meant for that one
     */
    public record Taken(String point, Unit unit, boolean written) {}

    /**
     * The unit of the last cylinder or bank of the same reading; else a unit that was chosen by its button and that this reading
     * knows, because gauges are read in one unit all day; else the usual one. A thousandth, such as mV, says how small the last
     * reading was and nothing about the next.
     *
     * @param earlier the oldest first
     */
    public static Unit at(Point point, List<Taken> earlier) {
        Unit shown = point.unit();
        for (Taken taken : earlier) {
            if (!point.units().contains(taken.unit())) continue;
            boolean same = taken.point().equals(point.key());
            if (!same && !taken.written() && !scaled(taken.unit(), point.unit())) shown = taken.unit();
        }
        for (Taken taken : earlier) {
            if (taken.point().equals(point.key()) && point.units().contains(taken.unit())) shown = taken.unit();
        }
        return shown;
    }

    private static boolean scaled(Unit one, Unit other) {
        return one != other
                && (one.symbol().endsWith(other.symbol()) || other.symbol().endsWith(one.symbol()));
    }
}
