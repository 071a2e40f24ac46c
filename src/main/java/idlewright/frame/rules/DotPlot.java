package idlewright.frame.rules;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.DoubleStream;
import org.jspecify.annotations.Nullable;

/**
 * How values are spread: one dot for each, stacked where they meet. All places are SVG lengths in per cent.
 *
 * @param title what is shown
 * @param description the picture in words
 * @param axis what is measured, with its unit
 * @param dots the values
 * @param ticks ticks of the axis
 * @param band the stretch between the limits, or null
 * @param edges the limits
 * @param rows value and standing of each dot, as text
 */
public record DotPlot(
        String title,
        String description,
        String axis,
        List<Dot> dots,
        List<LinePlot.Tick> ticks,
        LinePlot.@Nullable Stretch band,
        List<BandPlot.Edge> edges,
        List<List<String>> rows) {

    /** A value; struck ones are drawn hollow. */
    public record Dot(String x, String y, boolean struck) {}

    private record Value(double value, boolean struck) {}

    /** Starts a plot. */
    public static Sketch titled(String title) {
        return new Sketch(title);
    }

    /** Gathers what is to be drawn. */
    public static final class Sketch {
        private static final int BINS = 60;
        private final String title;
        private String name = "";
        private String unit = "";
        private final List<Value> values = new ArrayList<>();
        private @Nullable Double low;
        private @Nullable Double high;

        private Sketch(String title) {
            this.title = Objects.requireNonNull(title);
        }

        /** What is measured; the unit may be empty. */
        public Sketch along(String name, String unit) {
            this.name = name;
            this.unit = unit;
            return this;
        }

        /** Values that count. */
        public Sketch values(double... more) {
            DoubleStream.of(more).filter(Double::isFinite).forEach(v -> values.add(new Value(v, false)));
            return this;
        }

        /** A value struck out, drawn hollow. */
        public Sketch struck(double value) {
            values.add(new Value(value, true));
            return this;
        }

        /** The limits drawn from the values; either may be null. */
        public Sketch limits(@Nullable Double low, @Nullable Double high) {
            this.low = low;
            this.high = high;
            return this;
        }

        /** The plot. */
        public DotPlot draw() {
            List<Value> sorted = values.stream()
                    .sorted(Comparator.comparingDouble(Value::value))
                    .toList();
            DoubleStream.Builder ends = DoubleStream.builder();
            sorted.forEach(v -> ends.add(v.value));
            if (low != null) {
                ends.add(low);
            }
            if (high != null) {
                ends.add(high);
            }
            double[] all = ends.build().toArray();
            double from = DoubleStream.of(all).min().orElse(0);
            double to = DoubleStream.of(all).max().orElse(1);
            double room = (to - from) / 20;
            Axis axis = Axis.spanning(from - room, to + room, 6);
            return new DotPlot(
                    title,
                    description(sorted),
                    unit.isEmpty() ? name : name + " (" + unit + ")",
                    dots(sorted, axis),
                    axis.ticks().stream()
                            .map(t -> new LinePlot.Tick(Axis.percent(axis.place(t)), axis.words(t)))
                            .toList(),
                    band(axis),
                    edges(axis),
                    sorted.stream()
                            .map(v -> List.of(Axis.say(v.value), v.struck ? "struck out" : "counts"))
                            .toList());
        }

        /** Dots of one narrow stretch stand on each other; high stacks are pressed together to fit. */
        private static List<Dot> dots(List<Value> sorted, Axis axis) {
            Map<Long, Integer> heights = new HashMap<>();
            for (Value v : sorted) {
                heights.merge(bin(v, axis), 1, Integer::sum);
            }
            int highest = heights.values().stream().mapToInt(h -> h).max().orElse(1);
            double lift = Math.min(9, 88.0 / highest);
            Map<Long, Integer> filled = new HashMap<>();
            List<Dot> dots = new ArrayList<>();
            for (Value v : sorted) {
                int level = filled.merge(bin(v, axis), 1, Integer::sum) - 1;
                double x = highest == 1 ? axis.place(v.value) : (bin(v, axis) + 0.5) * 100 / BINS;
                dots.add(new Dot(Axis.percent(x), Axis.percent(95 - level * lift), v.struck));
            }
            return List.copyOf(dots);
        }

        private static long bin(Value v, Axis axis) {
            return Math.min(BINS - 1, (long) (axis.place(v.value) * BINS / 100));
        }

        private LinePlot.@Nullable Stretch band(Axis axis) {
            if (low == null && high == null) {
                return null;
            }
            double a = low == null ? 0 : axis.place(low);
            double b = high == null ? 100 : axis.place(high);
            return new LinePlot.Stretch(Axis.percent(a), Axis.percent(b), Axis.percent(b - a), "limit");
        }

        private List<BandPlot.Edge> edges(Axis axis) {
            List<BandPlot.Edge> edges = new ArrayList<>();
            if (low != null) {
                edges.add(new BandPlot.Edge(Axis.percent(axis.place(low)), Axis.say(low), "start", "4"));
            }
            if (high != null) {
                edges.add(new BandPlot.Edge(Axis.percent(axis.place(high)), Axis.say(high), "end", "-4"));
            }
            return List.copyOf(edges);
        }

        private String description(List<Value> sorted) {
            double[] counted = sorted.stream()
                    .filter(v -> !v.struck)
                    .mapToDouble(Value::value)
                    .toArray();
            if (counted.length == 0) {
                return "Nothing to show yet.";
            }
            int n = counted.length;
            double median = (counted[(n - 1) / 2] + counted[n / 2]) / 2;
            String tail = unit.isEmpty() ? "" : "\u00a0" + unit;
            int out = sorted.size() - n;
            return n + (n == 1 ? " value" : " values") + " from " + Axis.say(counted[0]) + " to "
                    + Axis.say(counted[n - 1]) + tail + ", middle " + Axis.say(median) + tail
                    + (out == 0 ? "." : "; " + out + " struck out.");
        }
    }
}
