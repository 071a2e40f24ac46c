package idlewright.reference.sweep;

import idlewright.reference.bounds.Bounds;
import idlewright.reference.sweep.SweepFeature.Kind;
import idlewright.reference.sweep.SweepOptions.Axis;
import idlewright.reference.sweep.SweepReading.Outcome;
import idlewright.reference.sweep.SweepReading.Point;
import idlewright.reference.sweep.SweepReading.Segment;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;

/**
 * Judges a slow ramp of a sensor. The noise is taken from the data; only what stands clear of it, and is more than 2 % of
 * the range, is a fault. Method our own (running median, slopes against both neighbours), limits common practice; measured
 * against simulated sweeps in the tests.
 */
public final class Sweep {

    /** Fewer points tell nothing. */
    public static final int FEWEST = 12;

    private static final int MOST = 1_000_000;

    private Sweep() {}

    /**
     * Reads a sweep.
     *
     * @param x any order, finite; see {@link SweepOptions.Axis}
     * @param y the signal, same length, finite
     * @throws IllegalArgumentException for different lengths, more than a million points, or a value that is no number
     */
    public static SweepReading judge(double[] x, double[] y, SweepOptions options) {
        if (x.length != y.length) {
            throw new IllegalArgumentException(
                    "each point needs an x and a y, but there were %d and %d".formatted(x.length, y.length));
        }
        Bounds.within("number of points", x.length, 0, MOST);
        Bounds.finite("x of the points", x);
        Bounds.finite("y of the points", y);
        if (x.length < FEWEST) {
            return not("Only %d points: at least %d are needed to see a fault.".formatted(x.length, FEWEST), x, y);
        }
        double[][] sorted = sorted(x, y);
        double[] xs = sorted[0];
        double[] ys = sorted[1];
        if (xs[0] == xs[xs.length - 1]) {
            return not("All points stand at one place: it was no sweep.", xs, ys);
        }
        double step = options.step() > 0 ? options.step() : Noise.step(ys);
        boolean falls = falls(ys, options.axis());
        Curve whole = Curve.of(xs, falls ? negated(ys) : ys, step);
        Curve curve = whole;
        if (options.axis() == Axis.TIME) {
            Ramp ramp = Ramp.rising(whole);
            if (ramp.to() - ramp.from() < FEWEST) {
                return not("Fewer than %d points on the ramp: go slower or read faster.".formatted(FEWEST), xs, ys);
            }
            curve = whole.part(ramp.from(), ramp.to());
        }
        return judge(whole, curve, falls, options);
    }

    private static SweepReading judge(Curve whole, Curve curve, boolean falls, SweepOptions options) {
        double[] x = whole.x();
        double[] y = falls ? negated(whole.y()) : whole.y();
        double range = Curve.range(curve.level());
        double noise = median(curve.sigma());
        if (range <= Math.max(8 * noise, 4 * curve.step())) {
            return not("The signal hardly moved against its noise: there was no sweep to judge.", x, y);
        }
        Jumps jumps = Jumps.in(curve, range);
        List<Found> found = new ArrayList<>(jumps.found());
        Curve cleaned = jumps.cleaned();
        if (cleaned.size() >= FEWEST) {
            double clean = Curve.range(cleaned.level());
            Flats flats = new Flats(cleaned, clean);
            found.addAll(flats.spots(found));
            if (options.ceiling().isPresent() && !falls) {
                ceiling(curve, options.ceiling(), range).ifPresent(found::add);
            } else if (options.axis() == Axis.DRIVER) {
                flats.saturation().ifPresent(found::add);
            }
        }
        found.sort(Comparator.comparingDouble(Found::from));
        List<SweepFeature> features =
                found.stream().map(each -> worded(each, options, range)).toList();
        List<Segment> segments = segments(x, y, found);
        String part = curve.size() < whole.size()
                ? " Judged from %s to %s %s, the rising part."
                        .formatted(
                                Bounds.plain(curve.x()[0]), Bounds.plain(curve.x()[curve.size() - 1]), options.unit())
                : "";
        if (!features.isEmpty()) {
            String all = features.stream().map(SweepFeature::words).collect(Collectors.joining("; "));
            return new SweepReading(Outcome.FAULTY, "Faulty: " + all + "." + part, features, segments, noise);
        }
        OptionalDouble gap = gap(curve);
        if (gap.isPresent()) {
            return not(
                    "No points over %.0f %% of the sweep: a fault could hide there. Go slower and evenly."
                            .formatted(100 * gap.getAsDouble()),
                    x,
                    y);
        }
        return new SweepReading(
                Outcome.SMOOTH,
                String.format(
                        Locale.ROOT,
                        "Smooth: rises without a fault clear of its noise (%.1f %% of its range) over %d points.%s",
                        100 * noise / range,
                        curve.size(),
                        part),
                List.of(),
                segments,
                noise);
    }

    /** Points at the known ceiling over a stretch. */
    private static Optional<Found> ceiling(Curve curve, OptionalDouble most, double range) {
        double height = most.orElseThrow() - Math.max(curve.step() / 2, 1e-9 * range);
        int first = -1;
        int last = -1;
        int count = 0;
        for (int i = 0; i < curve.size(); i++) {
            if (curve.y()[i] >= height) {
                first = first < 0 ? i : first;
                last = i;
                count++;
            }
        }
        boolean stretch = count >= 3 && curve.x()[last] - curve.x()[first] >= 0.05 * curve.width();
        return stretch
                ? Optional.of(new Found(Kind.SATURATION, curve.x()[first], curve.x()[last], 0))
                : Optional.empty();
    }

    /** The widest gap between points as a share of the sweep, where it is too wide to look over. */
    private static OptionalDouble gap(Curve curve) {
        double widest = 0;
        for (int i = 1; i < curve.size(); i++) {
            widest = Math.max(widest, curve.x()[i] - curve.x()[i - 1]);
        }
        double share = widest / curve.width();
        return share > 0.3 ? OptionalDouble.of(share) : OptionalDouble.empty();
    }

    private static SweepFeature worded(Found found, SweepOptions options, double range) {
        String from = Bounds.plain(found.from());
        String to = Bounds.plain(found.to());
        String where = from.equals(to)
                ? "at %s %s".formatted(from, options.unit())
                : "from %s to %s %s".formatted(from, to, options.unit());
        String size = String.format(Locale.ROOT, "%.0f %% of the range", 100 * found.size() / range);
        String words = found.kind().words() + " " + where
                + switch (found.kind()) {
                    case FLAT_SPOT, SATURATION -> "";
                    case SPIKE -> ", " + size + " up and back";
                    case DROPOUT -> ", " + size + " down and back";
                    case BACKWARD_STEP -> ", down by " + size;
                };
        return new SweepFeature(found.kind(), found.from(), found.to(), words);
    }

    private static SweepReading not(String reason, double[] x, double[] y) {
        return new SweepReading(Outcome.NOT_JUDGED, "Not judged. " + reason, List.of(), segments(x, y, List.of()), 0);
    }

    /** Cuts the curve at its features; neighbouring stretches share the point between them, so that the line holds together. */
    private static List<Segment> segments(double[] x, double[] y, List<Found> found) {
        List<Segment> segments = new ArrayList<>();
        int at = 0;
        int n = x.length;
        for (Found each : found) {
            int from = Math.max(at, lower(x, each.from()));
            int to = Math.max(from, lower(x, Math.nextUp(each.to())) - 1);
            if (from >= n) {
                break;
            }
            // One point alone is drawn with its neighbours.
            int begin = Math.max(at, from - 1);
            int end = Math.min(n - 1, to + 1);
            if (begin > at) {
                segments.add(new Segment(null, thinned(x, y, at, begin)));
            }
            segments.add(new Segment(each.kind(), thinned(x, y, begin, end)));
            at = end;
        }
        if (n > 0 && (at < n - 1 || segments.isEmpty())) {
            segments.add(new Segment(null, thinned(x, y, at, n - 1)));
        }
        return segments;
    }

    /** At most 600 points, keeping the lowest and the highest of each bucket, so that no spike is lost on paper. */
    private static List<Point> thinned(double[] x, double[] y, int from, int to) {
        int n = to - from + 1;
        List<Point> points = new ArrayList<>();
        if (n <= 600) {
            for (int i = from; i <= to; i++) {
                points.add(new Point(x[i], y[i]));
            }
            return points;
        }
        points.add(new Point(x[from], y[from]));
        for (int bucket = 0; bucket < 298; bucket++) {
            int begin = from + 1 + (int) ((long) (n - 2) * bucket / 298);
            int end = from + 1 + (int) ((long) (n - 2) * (bucket + 1) / 298);
            int low = begin;
            int high = begin;
            for (int i = begin; i < end; i++) {
                low = y[i] < y[low] ? i : low;
                high = y[i] > y[high] ? i : high;
            }
            int first = Math.min(low, high);
            int second = Math.max(low, high);
            points.add(new Point(x[first], y[first]));
            if (second > first) {
                points.add(new Point(x[second], y[second]));
            }
        }
        points.add(new Point(x[to], y[to]));
        return points;
    }

    private static int lower(double[] x, double place) {
        int low = 0;
        int high = x.length;
        while (low < high) {
            int half = (low + high) >>> 1;
            if (x[half] >= place) {
                high = half;
            } else {
                low = half + 1;
            }
        }
        return low;
    }

    private static double[][] sorted(double[] x, double[] y) {
        boolean rising = true;
        for (int i = 1; i < x.length && rising; i++) {
            rising = x[i] >= x[i - 1];
        }
        if (rising) {
            return new double[][] {x.clone(), y.clone()};
        }
        Integer[] order = new Integer[x.length];
        Arrays.setAll(order, i -> i);
        Arrays.sort(order, Comparator.comparingDouble(i -> x[i]));
        double[] xs = new double[x.length];
        double[] ys = new double[x.length];
        for (int i = 0; i < order.length; i++) {
            xs[i] = x[order[i]];
            ys[i] = y[order[i]];
        }
        return new double[][] {xs, ys};
    }

    /** A sensor whose signal falls as its ramp rises. */
    private static boolean falls(double[] y, Axis axis) {
        int third = Math.max(1, y.length / 3);
        double start = median(Arrays.copyOf(y, third));
        double end = median(Arrays.copyOfRange(y, y.length - third, y.length));
        if (axis == Axis.DRIVER) {
            return end < start;
        }
        double[] level = RunningMedian.of(y, Curve.half(y.length));
        double range = Curve.range(level);
        double low = Arrays.stream(level).min().orElseThrow();
        // Starts high, goes low, and nothing rises as far as it fell: a ramp of a falling sensor.
        double first = median(Arrays.copyOf(level, Math.max(1, y.length / 20)));
        return first - low > 0.7 * range;
    }

    private static double[] negated(double[] y) {
        return Arrays.stream(y).map(value -> -value).toArray();
    }

    private static double median(double[] values) {
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        return sorted[sorted.length / 2];
    }
}
