package idlewright.frame.rules;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;

/**
 * Curves over a common axis. Places are SVG lengths in per cent, paths run in a square of 1000 by 1000 that is stretched to
 * the plot, so one drawing serves every width.
 *
 * @param title what is shown
 * @param description the picture in words
 * @param axes what is drawn against what, with units
 * @param lines the curves, at most six that can be told apart
 * @param across ticks of the level axis
 * @param up ticks of the upright axis
 * @param stretches marked stretches of the level axis
 * @param limit the stretch of the upright axis allowed by the limits, or null
 * @param heads column heads of the table of figures
 * @param rows the figures, a dash where a curve has none
 * @param thinned what was left out of plot and table, or null when nothing was
 */
public record LinePlot(
        String title,
        String description,
        String axes,
        List<Line> lines,
        List<Tick> across,
        List<Tick> up,
        List<Stretch> stretches,
        @Nullable Stretch limit,
        List<String> heads,
        List<List<String>> rows,
        @Nullable String thinned) {

    /** A curve: {@code css} gives tint and dash, {@code shape} the outline of its points; {@code range} may be null. */
    public record Line(
            String name,
            String css,
            String path,
            @Nullable String range,
            List<Spot> spots,
            String shape,
            boolean hollow) {}

    /** The place of a point. */
    public record Spot(String x, String y) {}

    /** A tick and its words. */
    public record Tick(String at, String words) {}

    /** A marked stretch and what it is. */
    public record Stretch(String from, String to, String width, String words) {}

    private static final int MOST = 600;
    private static final List<String> SHAPES = List.of(
            "M0-4A4 4 0 1 1 0 4 4 4 0 1 1 0-4Z",
            "M-4-4H4V4H-4Z",
            "M0-5 5 4H-5Z",
            "M0-5.5 5.5 0 0 5.5-5.5 0Z",
            "M0-4A4 4 0 1 1 0 4 4 4 0 1 1 0-4Z",
            "M-4-4H4V4H-4Z");

    /** Starts a plot. */
    public static Sketch titled(String title) {
        return new Sketch(title);
    }

    private record Curve(
            String name, double[] x, double[] y, double @Nullable [] low, double @Nullable [] high, boolean steps) {}

    /** Gathers what is to be drawn. */
    public static final class Sketch {
        private final String title;
        private String xName = "";
        private String xUnit = "";
        private String yName = "";
        private String yUnit = "";
        private final List<Curve> curves = new ArrayList<>();
        private final List<Object[]> stretches = new ArrayList<>();
        private @Nullable Double low;
        private @Nullable Double high;
        private double @Nullable [] upEnds;

        private Sketch(String title) {
            this.title = Objects.requireNonNull(title);
        }

        /** What the level axis measures; the unit may be empty. */
        public Sketch across(String name, String unit) {
            xName = name;
            xUnit = unit;
            return this;
        }

        /** What the upright axis measures; the unit may be empty. */
        public Sketch up(String name, String unit) {
            yName = name;
            yUnit = unit;
            return this;
        }

        /** The upright axis holds at least these two values. */
        public Sketch upFrom(double low, double high) {
            upEnds = new double[] {low, high};
            return this;
        }

        /** A curve through the points; a value that is not a number leaves a gap. {@code x} must not fall. */
        public Sketch series(String name, double[] x, double[] y) {
            return add(new Curve(name, x, y, null, null, false));
        }

        /** A curve that keeps its value until the next point, as survival curves do. */
        public Sketch steps(String name, double[] x, double[] y) {
            return add(new Curve(name, x, y, null, null, true));
        }

        /** The same, with a range about it. */
        public Sketch steps(String name, double[] x, double[] y, double[] low, double[] high) {
            return add(new Curve(name, x, y, low, high, true));
        }

        /** A stretch of the level axis worth a look, such as a flat spot. */
        public Sketch stretch(double from, double to, String words) {
            stretches.add(new Object[] {Math.min(from, to), Math.max(from, to), words});
            return this;
        }

        /** Limits on the upright axis; either may be null. */
        public Sketch limits(@Nullable Double low, @Nullable Double high) {
            this.low = low;
            this.high = high;
            return this;
        }

        private Sketch add(Curve curve) {
            int n = curve.x.length;
            if (curve.y.length != n
                    || (curve.low != null && curve.low.length != n)
                    || (curve.high != null && curve.high.length != n)) {
                throw new IllegalArgumentException("Curve " + curve.name + " needs as many values as places");
            }
            for (int i = 0; i < n; i++) {
                if (!Double.isFinite(curve.x[i]) || (i > 0 && curve.x[i] < curve.x[i - 1])) {
                    throw new IllegalArgumentException("The places of curve " + curve.name + " must not fall");
                }
            }
            if (curves.size() == SHAPES.size()) {
                throw new IllegalArgumentException("No more than " + SHAPES.size() + " curves can be told apart");
            }
            curves.add(curve);
            return this;
        }

        /** The plot; without any point it has empty axes and says so. */
        public LinePlot draw() {
            List<Curve> thin = curves.stream().map(Sketch::thin).toList();
            Axis x = axis(values(thin, false), 6, false);
            Axis y = axis(values(thin, true), 5, true);
            List<Line> lines = new ArrayList<>();
            for (int i = 0; i < thin.size(); i++) {
                lines.add(line(thin.get(i), i, x, y));
            }
            return new LinePlot(
                    title,
                    description(thin),
                    named(yName, yUnit) + " against " + named(xName, xUnit),
                    List.copyOf(lines),
                    ticks(x, xUnit, false),
                    ticks(y, yUnit, true),
                    stretches.stream()
                            .map(s -> stretch(x, (double) s[0], (double) s[1], (String) s[2]))
                            .toList(),
                    limit(y),
                    heads(thin),
                    rows(thin),
                    thinned(thin));
        }

        private double[] values(List<Curve> thin, boolean upright) {
            List<double[]> all = new ArrayList<>();
            for (Curve c : thin) {
                all.add(upright ? c.y : c.x);
                if (upright && c.low != null) {
                    all.add(c.low);
                }
                if (upright && c.high != null) {
                    all.add(c.high);
                }
            }
            if (upright && upEnds != null) {
                all.add(upEnds);
            }
            if (upright) {
                all.add(new double[] {low == null ? Double.NaN : low, high == null ? Double.NaN : high});
            }
            return all.stream()
                    .flatMapToDouble(Arrays::stream)
                    .filter(Double::isFinite)
                    .toArray();
        }

        private static Axis axis(double[] values, int ticks, boolean toTicks) {
            double from = Arrays.stream(values).min().orElse(0);
            double to = Arrays.stream(values).max().orElse(1);
            return toTicks ? Axis.covering(from, to, ticks) : Axis.spanning(from, to, ticks);
        }

        /** The lowest and the highest point of each of 300 equal stretches: spikes and dropouts stay in sight. */
        private static Curve thin(Curve c) {
            int n = c.x.length;
            if (n <= MOST || c.steps) {
                return c;
            }
            boolean[] keep = new boolean[n];
            keep[0] = keep[n - 1] = true;
            double width = (c.x[n - 1] - c.x[0]) / (MOST / 2.0);
            int start = 0;
            for (int i = 1; i <= n; i++) {
                boolean ends = i == n
                        || (width > 0 && (int) ((c.x[i] - c.x[0]) / width) != (int) ((c.x[start] - c.x[0]) / width));
                if (!ends) {
                    continue;
                }
                int least = start;
                int most = start;
                for (int j = start; j < i; j++) {
                    if (Double.isNaN(c.y[j])) {
                        keep[j] = j == start || !Double.isNaN(c.y[j - 1]); // one gap is as good as many
                    } else {
                        least = Double.isNaN(c.y[least]) || c.y[j] < c.y[least] ? j : least;
                        most = Double.isNaN(c.y[most]) || c.y[j] > c.y[most] ? j : most;
                    }
                }
                keep[least] = keep[most] = true;
                start = i;
            }
            int[] kept =
                    java.util.stream.IntStream.range(0, n).filter(i -> keep[i]).toArray();
            return new Curve(
                    c.name,
                    Arrays.stream(kept).mapToDouble(i -> c.x[i]).toArray(),
                    Arrays.stream(kept).mapToDouble(i -> c.y[i]).toArray(),
                    null,
                    null,
                    false);
        }

        private @Nullable String thinned(List<Curve> thin) {
            int before = curves.stream().mapToInt(c -> c.x.length).sum();
            int after = thin.stream().mapToInt(c -> c.x.length).sum();
            return before == after
                    ? null
                    : String.format(
                            Locale.ROOT,
                            "%,d of %,d points: the lowest and the highest of each short stretch",
                            after,
                            before);
        }

        private static Line line(Curve c, int index, Axis x, Axis y) {
            List<Spot> spots = new ArrayList<>();
            int every = c.x.length <= 20 ? 1 : Math.max(1, c.x.length / 10);
            for (int i = every == 1 ? 0 : index * every / SHAPES.size(); i < c.x.length; i += every) {
                if (Double.isFinite(c.y[i])) {
                    spots.add(new Spot(Axis.percent(x.place(c.x[i])), Axis.percent(100 - y.place(c.y[i]))));
                }
            }
            String range = c.low == null || c.high == null ? null : range(c, x, y);
            return new Line(
                    c.name,
                    "s" + index,
                    path(c.x, c.y, c.steps, x, y, "M"),
                    range,
                    spots,
                    SHAPES.get(index),
                    index >= 4);
        }

        private static String path(double[] xs, double[] ys, boolean steps, Axis x, Axis y, String first) {
            StringBuilder path = new StringBuilder();
            boolean pen = false;
            for (int i = 0; i < xs.length; i++) {
                if (!Double.isFinite(ys[i])) {
                    pen = false;
                    continue;
                }
                String px = thousandth(x.place(xs[i]));
                String py = thousandth(100 - y.place(ys[i]));
                if (!pen) {
                    path.append(path.isEmpty() ? first : "M")
                            .append(px)
                            .append(' ')
                            .append(py);
                } else if (steps) {
                    path.append('H').append(px).append('V').append(py);
                } else {
                    path.append('L').append(px).append(' ').append(py);
                }
                pen = true;
            }
            return path.toString();
        }

        /** Along the upper edge, then back along the lower one, step by step. */
        private static String range(Curve c, Axis x, Axis y) {
            double[] low = Objects.requireNonNull(c.low);
            StringBuilder path = new StringBuilder(path(c.x, Objects.requireNonNull(c.high), true, x, y, "M"));
            for (int i = c.x.length - 1; i >= 0; i--) {
                String py = thousandth(100 - y.place(low[i]));
                path.append(i == c.x.length - 1 ? "L" + thousandth(x.place(c.x[i])) + " " + py : "V" + py);
                if (i > 0) {
                    path.append("V").append(thousandth(100 - y.place(low[i - 1])));
                }
                path.append('H').append(thousandth(x.place(c.x[Math.max(0, i - 1)])));
            }
            return path.append('Z').toString();
        }

        private static String thousandth(double percent) {
            String text = Axis.fixed(percent * 10, 1);
            return text.endsWith(".0") ? text.substring(0, text.length() - 2) : text;
        }

        /** The unit stands once, at the far end of the axis. */
        private static List<Tick> ticks(Axis axis, String unit, boolean upright) {
            List<Double> values = axis.ticks();
            List<Tick> ticks = new ArrayList<>();
            for (int i = 0; i < values.size(); i++) {
                double place = axis.place(values.get(i));
                String words = axis.words(values.get(i));
                boolean last = i == values.size() - 1;
                ticks.add(new Tick(
                        Axis.percent(upright ? 100 - place : place),
                        last && !unit.isEmpty() ? words + "\u00a0" + unit : words));
            }
            return List.copyOf(ticks);
        }

        private static Stretch stretch(Axis x, double from, double to, String words) {
            double a = Math.max(0, x.place(from));
            double b = Math.min(100, x.place(to));
            return new Stretch(Axis.percent(a), Axis.percent(b), Axis.percent(Math.max(0, b - a)), words);
        }

        private @Nullable Stretch limit(Axis y) {
            if (low == null && high == null) {
                return null;
            }
            double top = high == null ? 0 : Math.max(0, 100 - y.place(high));
            double bottom = low == null ? 100 : Math.min(100, 100 - y.place(low));
            return new Stretch(Axis.percent(top), Axis.percent(bottom), Axis.percent(bottom - top), "limit");
        }

        private static String named(String name, String unit) {
            return unit.isEmpty() ? name : name + " (" + unit + ")";
        }

        private List<String> heads(List<Curve> thin) {
            List<String> heads = new ArrayList<>();
            heads.add(named(xName, xUnit));
            for (Curve c : thin) {
                heads.add(named(c.name, yUnit));
                if (c.low != null) {
                    heads.add(c.name + ", likely from");
                    heads.add(c.name + ", likely to");
                }
            }
            return List.copyOf(heads);
        }

        private static List<List<String>> rows(List<Curve> thin) {
            int columns = thin.stream().mapToInt(c -> c.low == null ? 1 : 3).sum();
            TreeMap<Double, String[]> rows = new TreeMap<>();
            int column = 0;
            for (Curve c : thin) {
                for (int i = 0; i < c.x.length; i++) {
                    String[] row = rows.computeIfAbsent(c.x[i], k -> new String[columns]);
                    row[column] = Axis.say(c.y[i]);
                    if (c.low != null && c.high != null) {
                        row[column + 1] = Axis.say(c.low[i]);
                        row[column + 2] = Axis.say(c.high[i]);
                    }
                }
                column += c.low == null ? 1 : 3;
            }
            List<List<String>> table = new ArrayList<>();
            rows.forEach((x, cells) -> {
                List<String> row = new ArrayList<>();
                row.add(Axis.say(x));
                for (String cell : cells) {
                    row.add(cell == null ? "\u2013" : cell);
                }
                table.add(List.copyOf(row));
            });
            return List.copyOf(table);
        }

        private String description(List<Curve> thin) {
            StringBuilder said = new StringBuilder();
            for (Curve c : thin) {
                double[] known = Arrays.stream(c.y).filter(Double::isFinite).toArray();
                if (known.length == 0) {
                    said.append(c.name).append(": no points. ");
                    continue;
                }
                said.append(c.name)
                        .append(" runs from ")
                        .append(amount(known[0], yUnit))
                        .append(" to ")
                        .append(amount(known[known.length - 1], yUnit))
                        .append(", lowest ")
                        .append(amount(Arrays.stream(known).min().orElse(0), yUnit))
                        .append(", highest ")
                        .append(amount(Arrays.stream(known).max().orElse(0), yUnit))
                        .append(". ");
            }
            for (Object[] s : stretches) {
                said.append("Marked: ")
                        .append(s[2])
                        .append(" from ")
                        .append(amount((double) s[0], xUnit))
                        .append(" to ")
                        .append(amount((double) s[1], xUnit))
                        .append(". ");
            }
            return said.isEmpty() ? "Nothing to show yet." : said.toString().strip();
        }

        private static String amount(double value, String unit) {
            return unit.isEmpty() ? Axis.say(value) : Axis.say(value) + "\u00a0" + unit;
        }
    }
}
