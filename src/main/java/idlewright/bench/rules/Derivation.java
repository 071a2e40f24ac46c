package idlewright.bench.rules;

import java.util.List;

/**
 * How a reading is calculated from others of the same test.
 *
 * @param of keys of the points it is made of
 */
public record Derivation(How how, List<String> of) {

    /** The calculations known to the catalogue. */
    public enum How {
        /** First plus second. */
        SUM(2, false),
        /** First less second, read with one meter at one moment. */
        DIFFERENCE(2, false),
        /** First as a percentage of the second. */
        PERCENT_OF(2, false),
        /** Mass flow and speed as SAE J1979 absolute load, in per cent. */
        ABSOLUTE_LOAD(2, false),
        /** As absolute load, but per cent of the air at hand: flow, speed, barometer. */
        FILLING(3, false),
        /** Lowest place as a percentage of the highest. */
        LOWEST_OF_HIGHEST(1, true),
        /** Highest place less lowest place. */
        SPREAD(1, true),
        /** The largest distance of a place from the mean of all places. */
        FARTHEST_FROM_MEAN(1, true),
        /** Highest reading among several points. */
        HIGHEST(-1, true),
        /** Highest less lowest among several points. */
        APART(-1, true);

        final int arguments;
        final boolean gathersPlaces;

        How(int arguments, boolean gathersPlaces) {
            this.arguments = arguments;
            this.gathersPlaces = gathersPlaces;
        }
    }

    public Derivation {
        of = List.copyOf(of);
        if (how.arguments >= 0 && of.size() != how.arguments) {
            throw new Refusal(how + " is made of " + how.arguments + " readings, not " + of.size() + ".");
        }
    }
}
