package idlewright.reference.stats;

import static idlewright.reference.bounds.Bounds.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import org.apache.commons.statistics.distribution.NormalDistribution;

/**
 * How long things last, by Kaplan and Meier: what is still out there counts up to now, then leaves (censored). One censored
 * at the time of an event counts as at risk at that time.
 *
 * @param steps one for each time with an event, rising
 * @param n how many were watched
 * @param events how many came back
 * @param totalTime watched, in the unit of the times
 */
public record Survival(List<Step> steps, int n, int events, double totalTime) {

    /**
     * A step of the curve.
     *
     * @param atRisk just before this time
     * @param survival share that lasts beyond this time
     * @param standardError Greenwood's
     */
    public record Step(double time, int atRisk, int events, double survival, double standardError) {

        /** 95 % interval on the log-log scale (Kalbfleisch and Prentice), which stays within 0 and 1. */
        public Interval likely() {
            if (survival <= 0 || survival >= 1) {
                return new Interval(survival, survival);
            }
            double z = NormalDistribution.of(0, 1).inverseSurvivalProbability(0.025);
            double log = Math.log(survival);
            double spread = z * standardError / (survival * -log);
            return new Interval(Math.exp(log * Math.exp(spread)), Math.exp(log * Math.exp(-spread)));
        }
    }

    public Survival {
        steps = List.copyOf(steps);
    }

    /**
     * Works the curve out.
     *
     * @param times 0 and up, any order, any unit of time
     * @param observed true where it came back at that time, false where it is still out there
     * @throws IllegalArgumentException for different lengths, nothing at all, or a time below 0
     */
    public static Survival of(double[] times, boolean[] observed) {
        if (times.length != observed.length) {
            throw new IllegalArgumentException("each time needs its outcome, but the times are %d and the outcomes %d"
                    .formatted(times.length, observed.length));
        }
        if (times.length == 0) {
            throw new IllegalArgumentException("at least one time with its outcome is needed");
        }
        Integer[] order = new Integer[times.length];
        Arrays.setAll(order, i -> i);
        double total = 0;
        for (double time : times) {
            total += within("time", time, 0, Double.MAX_VALUE, "");
        }
        Arrays.sort(order, Comparator.comparingDouble(i -> times[i]));
        List<Step> steps = new ArrayList<>();
        int atRisk = times.length;
        int allEvents = 0;
        double survival = 1;
        double greenwood = 0;
        for (int i = 0; i < order.length; ) {
            double time = times[order[i]];
            int leaving = 0;
            int events = 0;
            for (; i < order.length && times[order[i]] == time; i++) {
                leaving++;
                events += observed[order[i]] ? 1 : 0;
            }
            if (events > 0) {
                survival *= 1 - (double) events / atRisk;
                greenwood += (double) events / ((double) atRisk * (atRisk - events));
                double error = survival == 0 ? 0 : survival * Math.sqrt(greenwood);
                steps.add(new Step(time, atRisk, events, survival, error));
                allEvents += events;
            }
            atRisk -= leaving;
        }
        return new Survival(steps, times.length, allEvents, total);
    }

    /** Share that lasts beyond a time; beyond the last watched time it is the last one known. */
    public double survivalAt(double time) {
        double survival = 1;
        for (Step step : steps) {
            if (step.time() > time) {
                break;
            }
            survival = step.survival();
        }
        return survival;
    }

    /** First time at which half or fewer last; empty while more than half do. */
    public OptionalDouble median() {
        return steps.stream()
                .filter(step -> step.survival() <= 0.5 + 1e-12)
                .mapToDouble(Step::time)
                .findFirst();
    }

    /** Events per unit of time watched. */
    public double rate() {
        return totalTime == 0 ? 0 : events / totalTime;
    }

    /** "After 90 days 94 % hold, likely 83 to 98 %." */
    public String words(double time, String unit) {
        Step last = null;
        for (Step step : steps) {
            if (step.time() <= time) {
                last = step;
            }
        }
        if (last == null) {
            return String.format(Locale.ROOT, "After %.0f %s all %d hold.", time, unit, n);
        }
        Interval likely = last.likely();
        return String.format(
                Locale.ROOT,
                "After %.0f %s %.0f %% hold, likely %.0f to %.0f %%.",
                time,
                unit,
                100 * last.survival(),
                100 * likely.low(),
                100 * likely.high());
    }
}
