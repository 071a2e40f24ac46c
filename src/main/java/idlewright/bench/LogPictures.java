package idlewright.bench;

import idlewright.bench.Logs.Pull;
import idlewright.bench.Logs.Steady;
import idlewright.bench.rules.FromLog;
import idlewright.frame.rules.LinePlot;
import idlewright.reference.obd.log.LogQuantity;
import idlewright.reference.obd.log.LogReading;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/** A log in pictures and words. */
final class LogPictures {

    /** As many as a person compares; the order is that of how much they tell. */
    private static final List<LogQuantity> MAIN = List.of(
            LogQuantity.ENGINE_SPEED,
            LogQuantity.MASS_AIR_FLOW,
            LogQuantity.VEHICLE_SPEED,
            LogQuantity.CALCULATED_LOAD,
            LogQuantity.MANIFOLD_PRESSURE,
            LogQuantity.COOLANT_TEMPERATURE,
            LogQuantity.THROTTLE,
            LogQuantity.FUEL_RATE,
            LogQuantity.LAMBDA,
            LogQuantity.MODULE_VOLTAGE);

    private static final List<LogQuantity> TRIMS = List.of(
            LogQuantity.SHORT_TRIM_1, LogQuantity.LONG_TRIM_1, LogQuantity.SHORT_TRIM_2, LogQuantity.LONG_TRIM_2);

    private static final int MOST_PLOTS = 6;
    private static final int MOST_PULLS = 5;
    private static final int BUCKETS = 150;

    private LogPictures() {}

    static List<LinePlot> of(LogReading log) {
        var plots = new ArrayList<LinePlot>();
        for (LogQuantity quantity : MAIN) {
            if (plots.size() < MOST_PLOTS - 1) {
                log.series(quantity)
                        .filter(LogPictures::moves)
                        .ifPresent(series -> plots.add(plot(quantity.words(), List.of(series))));
            }
        }
        List<LogReading.Series> trims = TRIMS.stream()
                .flatMap(quantity -> log.series(quantity).stream())
                .toList();
        if (!trims.isEmpty()) {
            plots.add(plot("fuel trims", trims));
        }
        return plots;
    }

    private static boolean moves(LogReading.Series series) {
        return Arrays.stream(series.values()).distinct().limit(2).count() > 1;
    }

    private static LinePlot plot(String name, List<LogReading.Series> series) {
        var sketch = LinePlot.titled(Character.toUpperCase(name.charAt(0)) + name.substring(1))
                .across("time", "s")
                .up(name, series.get(0).unit().symbol());
        for (LogReading.Series each : series) {
            double[][] thin = thinned(each.seconds(), each.values());
            sketch.series(each.quantity().words(), thin[0], thin[1]);
        }
        return sketch.draw();
    }

    /** The lowest and the highest of each bucket, so that no spike is lost. */
    private static double[][] thinned(double[] x, double[] y) {
        if (x.length <= 2 * BUCKETS) {
            return new double[][] {x, y};
        }
        double[][] thin = new double[2][2 * BUCKETS];
        for (int bucket = 0; bucket < BUCKETS; bucket++) {
            int from = (int) ((long) x.length * bucket / BUCKETS);
            int to = (int) ((long) x.length * (bucket + 1) / BUCKETS);
            int low = from;
            int high = from;
            for (int i = from; i < to; i++) {
                low = y[i] < y[low] ? i : low;
                high = y[i] > y[high] ? i : high;
            }
            thin[0][2 * bucket] = x[Math.min(low, high)];
            thin[1][2 * bucket] = y[Math.min(low, high)];
            thin[0][2 * bucket + 1] = x[Math.max(low, high)];
            thin[1][2 * bucket + 1] = y[Math.max(low, high)];
        }
        return thin;
    }

    static Steady steady(LogReading.State state) {
        return new Steady(
                FromLog.span(state),
                state.note().orElse(null),
                state.readings().stream()
                        .map(reading -> "%s %s (±%s, %,d values)"
                                .formatted(
                                        reading.quantity().words(),
                                        (figure(reading.median()) + " "
                                                        + reading.unit().symbol())
                                                .strip(),
                                        figure(reading.spread()),
                                        reading.n()))
                        .toList());
    }

    static List<Pull> pulls(LogReading log) {
        var pulls = new ArrayList<Pull>();
        for (int place = 0; place < Math.min(MOST_PULLS, log.ramps().size()); place++) {
            LogReading.Ramp ramp = log.ramps().get(place);
            String unit = ramp.x().unit().symbol();
            pulls.add(new Pull(
                    place,
                    String.format(
                            Locale.ROOT,
                            "%s from %s to %s %s, from %,.0f to %,.0f s, %d points",
                            ramp.x().words(),
                            figure(ramp.xs()[0]),
                            figure(ramp.xs()[ramp.xs().length - 1]),
                            unit,
                            ramp.from(),
                            ramp.to(),
                            ramp.xs().length),
                    Sweeps.words(FromLog.series(ramp)),
                    Sweeps.curve(FromLog.series(ramp))));
        }
        return pulls;
    }

    static List<String> derived(LogReading log) {
        var derived = new ArrayList<String>();
        log.distanceKm().ifPresent(km -> derived.add(String.format(Locale.ROOT, "%.1f km driven", km)));
        log.fuelL().ifPresent(litres -> derived.add(String.format(Locale.ROOT, "%.2f L of fuel", litres)));
        log.litresPer100Km()
                .ifPresent(per100 -> derived.add(
                        String.format(Locale.ROOT, "%.2f L/100 km (%.1f mpg US)", per100, 235.214583 / per100)));
        log.airFuelRatio().ifPresent(ratio -> derived.add(String.format(Locale.ROOT, "air to fuel %.1f to 1", ratio)));
        return derived;
    }

    private static String figure(double value) {
        double size = Math.abs(value);
        return String.format(Locale.ROOT, size >= 100 ? "%,.0f" : size >= 10 ? "%.1f" : "%.2f", value);
    }
}
