package idlewright.frame.rules;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.stream.Collectors;
import java.util.stream.DoubleStream;
import org.jspecify.annotations.Nullable;

/**
 * A reading on its band: limits, known-good cars, the value and how far the meter may be off. All places are SVG lengths
 * in per cent, so the picture stretches with its place on the page.
 *
 * @param band the stretch allowed by the limits, open to the picture's edge where a limit is missing; null without limits
 * @param edges the limits themselves, each with its label
 * @param usual the stretch most cars keep to, or null
 * @param good one place for each known-good car
 * @param unsure the value give or take the meter's uncertainty, or null
 * @param at the place of the value, or null when nothing has been read
 * @param mark how the value is drawn
 * @param shown the value as written, or a dash
 * @param unit the unit of all figures, may be empty
 * @param sentence the whole picture in words
 * @param low the lower limit itself, or null
 * @param high the upper limit itself, or null
 */
public record BandPlot(
        @Nullable Span band,
        List<Edge> edges,
        @Nullable Span usual,
        List<String> good,
        @Nullable Span unsure,
        @Nullable String at,
        Mark mark,
        String shown,
        String unit,
        String sentence,
        @Nullable Double low,
        @Nullable Double high) {

    /** All known-good cars as one path of points in a box 100 wide: a hundred cars cost the page one element. */
    public String dots() {
        return good.stream()
                .map(at -> "M" + at.substring(0, at.length() - 1) + " 0h0")
                .collect(Collectors.joining());
    }

    /** A stretch of the picture. */
    public record Span(String from, String to, String width) {
        private static Span of(Axis axis, double low, double high) {
            double a = Math.max(0, axis.place(low));
            double b = Math.min(100, axis.place(high));
            return new Span(Axis.percent(a), Axis.percent(b), Axis.percent(Math.max(0, b - a)));
        }
    }

    /** A limit: its place, its label, and on which side of the place the label stands (SVG text-anchor, shift in px). */
    public record Edge(String at, String words, String anchor, String nudge) {}

    /** Starts a picture for figures in one unit. */
    public static Sketch in(String unit) {
        return new Sketch(unit);
    }

    /** Gathers what is to be drawn; everything may be left out. */
    public static final class Sketch {
        private final String unit;
        private @Nullable Double low;
        private @Nullable Double high;
        private @Nullable Double value;
        private @Nullable String shown;
        private double uncertainty;
        private double[] good = {};
        private @Nullable Double usualLow;
        private @Nullable Double usualHigh;
        private Mark mark = Mark.NOT_JUDGED;

        private Sketch(String unit) {
            this.unit = Objects.requireNonNull(unit);
        }

        /** The limits; either may be null. */
        public Sketch limits(@Nullable Double low, @Nullable Double high) {
            this.low = finite(low);
            this.high = finite(high);
            return this;
        }

        /** The reading; {@code shown} is how it was typed, null for our own rounding. */
        public Sketch value(@Nullable Double value, @Nullable String shown) {
            this.value = finite(value);
            this.shown = shown;
            return this;
        }

        /** The reading, written with our own rounding. */
        public Sketch value(double value) {
            return value(value, null);
        }

        /** Half the width of what the true value may be. */
        public Sketch uncertainty(double uncertainty) {
            this.uncertainty = Double.isFinite(uncertainty) ? Math.abs(uncertainty) : 0;
            return this;
        }

        /** The same reading on known-good cars. */
        public Sketch good(double... values) {
            this.good = Arrays.stream(values).filter(Double::isFinite).toArray();
            return this;
        }

        /** The same reading on known-good cars. */
        public Sketch good(List<? extends Number> values) {
            return good(values.stream().mapToDouble(Number::doubleValue).toArray());
        }

        /** What is usual, without being a limit. */
        public Sketch usual(@Nullable Double low, @Nullable Double high) {
            this.usualLow = finite(low);
            this.usualHigh = finite(high);
            return this;
        }

        /** The verdict: a Mark, a word, or an enum of that name. */
        public Sketch verdict(@Nullable Object verdict) {
            this.mark = Mark.of(verdict);
            return this;
        }

        private static @Nullable Double finite(@Nullable Double number) {
            return number == null || !Double.isFinite(number) ? null : number;
        }

        /** The picture. */
        public BandPlot draw() {
            Axis axis = axis();
            Span band = low == null && high == null
                    ? null
                    : Span.of(axis, low == null ? axis.from() : low, high == null ? axis.to() : high);
            Span usual = usualLow == null || usualHigh == null ? null : Span.of(axis, usualLow, usualHigh);
            Span unsure =
                    value == null || uncertainty == 0 ? null : Span.of(axis, value - uncertainty, value + uncertainty);
            List<String> dots = Arrays.stream(good)
                    .sorted()
                    .mapToObj(g -> Axis.percent(axis.place(g)))
                    .toList();
            String at = value == null ? null : Axis.percent(axis.place(value));
            String written = shown != null ? shown : value == null ? "\u2013" : Axis.say(value);
            return new BandPlot(
                    band, edges(axis), usual, dots, unsure, at, mark, written, unit, sentence(written), low, high);
        }

        /** Holds everything that is drawn, with a sixth of room on both sides so that marks and labels stay inside. */
        private Axis axis() {
            DoubleStream.Builder all = DoubleStream.builder();
            for (Double x : new Double[] {low, high, usualLow, usualHigh}) {
                if (x != null) {
                    all.add(x);
                }
            }
            if (value != null) {
                all.add(value - uncertainty).add(value + uncertainty);
            }
            Arrays.stream(good).forEach(all::add);
            double[] xs = all.build().toArray();
            double from = Arrays.stream(xs).min().orElse(0);
            double to = Arrays.stream(xs).max().orElse(1);
            double room = to > from ? (to - from) / 6 : Math.max(Math.abs(from) * 0.25, 1e-6);
            return Axis.spanning(from - room, to + room, 5);
        }

        /** A label stands under its limit, or outside it where the two would run into each other. */
        private List<Edge> edges(Axis axis) {
            boolean narrow = low != null && high != null && axis.place(high) - axis.place(low) < 24;
            List<Edge> edges = new ArrayList<>();
            if (low != null) {
                edges.add(edge(axis, low, narrow ? "end" : "middle"));
            }
            if (high != null) {
                edges.add(edge(axis, high, narrow ? "start" : "middle"));
            }
            return edges;
        }

        private static Edge edge(Axis axis, double limit, String anchor) {
            return new Edge(Axis.percent(axis.place(limit)), Axis.say(limit), anchor, "0");
        }

        private String sentence(String written) {
            StringBuilder said = new StringBuilder();
            said.append(value == null ? "Nothing read yet" : amount(written));
            if (value != null && uncertainty > 0) {
                said.append(" give or take ").append(amount(Axis.say(uncertainty)));
            }
            if (low != null && high != null) {
                said.append("; limit ").append(Axis.say(low)).append(" to ").append(amount(Axis.say(high)));
            } else if (high != null) {
                said.append("; limit at most ").append(amount(Axis.say(high)));
            } else if (low != null) {
                said.append("; limit at least ").append(amount(Axis.say(low)));
            } else {
                said.append("; no limit");
            }
            if (usualLow != null && usualHigh != null) {
                said.append("; usual ")
                        .append(Axis.say(usualLow))
                        .append(" to ")
                        .append(amount(Axis.say(usualHigh)));
            }
            if (good.length > 0) {
                double least = Arrays.stream(good).min().getAsDouble();
                double most = Arrays.stream(good).max().getAsDouble();
                said.append("; ")
                        .append(good.length)
                        .append(good.length == 1 ? " known-good car at " : " known-good cars from ");
                said.append(
                        good.length == 1 ? amount(Axis.say(least)) : Axis.say(least) + " to " + amount(Axis.say(most)));
            }
            if (value != null) {
                said.append("; ").append(mark.getWords());
            }
            return said.append('.').toString();
        }

        private String amount(String figure) {
            return unit.isEmpty() ? figure : figure + "\u00a0" + unit;
        }
    }
}
