package idlewright.reference.electric;

import idlewright.reference.verdict.Judged;
import idlewright.reference.verdict.Verdict;
import java.util.Locale;

/**
 * Which wire loses the voltage, after the supply across a plug read low: the feed is tried alone against a good ground,
 * then the ground alone against a good feed.
 *
 * @param fault what is bad
 * @param judged the verdict and the sentence
 */
public record Isolation(Fault fault, Judged judged) {

    /** Where the voltage goes. */
    public enum Fault {
        /** Both wires good now: nothing found, or the fault comes and goes. */
        NONE,
        FEED_WIRE,
        GROUND_WIRE,
        BOTH_WIRES
    }

    /**
     * Finds the wire. All three volts at the same moment, -60 to 60 V, negative meaning swapped probes; a wire is good when
     * it shows the battery less at most 0.2 V (common practice, no source).
     *
     * @param batteryVolts across the battery posts
     * @param feedToGoodGroundVolts feed terminal of the plug to a ground known good
     * @param groundToGoodFeedVolts a feed known good, such as the battery post, to the ground terminal of the plug
     */
    public static Isolation find(double batteryVolts, double feedToGoodGroundVolts, double groundToGoodFeedVolts) {
        Probes battery = Probes.read(batteryVolts);
        Probes feed = Probes.read(feedToGoodGroundVolts);
        Probes ground = Probes.read(groundToGoodFeedVolts);
        if (battery.volts() < 6 || battery.volts() > 18) {
            throw new IllegalArgumentException(String.format(
                    Locale.ROOT,
                    "the battery must lie between 6 and 18 V to isolate a wire, but was %.2f V",
                    battery.volts()));
        }
        boolean feedGood = battery.volts() - feed.volts() <= Supply.MAX_DROP_VOLTS + Supply.ROUNDING;
        boolean groundGood = battery.volts() - ground.volts() <= Supply.MAX_DROP_VOLTS + Supply.ROUNDING;
        String sums = Supply.noted(battery, feed, ground)
                + String.format(
                        Locale.ROOT,
                        "Battery %.2f V; feed alone against a good ground %.2f V, ground alone against a good feed %.2f V: ",
                        battery.volts(),
                        feed.volts(),
                        ground.volts());
        if (feedGood && groundGood) {
            return new Isolation(
                    Fault.NONE,
                    Judged.practice(
                            Verdict.WITHIN,
                            sums + "both wires are good now. Load them and wiggle: the fault comes and goes."));
        }
        Fault fault = feedGood ? Fault.GROUND_WIRE : groundGood ? Fault.FEED_WIRE : Fault.BOTH_WIRES;
        String found = switch (fault) {
            case GROUND_WIRE -> "the feed is good, the ground wire loses it.";
            case FEED_WIRE -> "the ground is good, the feed wire loses it (fuse, relay, joints on the way).";
            default -> "both wires lose it: look for what they share, a plug or a splice.";
        };
        return new Isolation(fault, Judged.practice(Verdict.OUTSIDE, sums + found));
    }
}
