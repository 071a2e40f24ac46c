package idlewright.reference.sweep;

import idlewright.reference.sweep.SweepFeature.Kind;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A sweep, read.
 *
 * @param words the verdict with its reason
 * @param features what is wrong, in order of x; empty unless faulty
 * @param segments the curve cut at its features, thinned out for drawing, in order of x
 * @param noise standard deviation of the noise found in the data, unit of y
 */
public record SweepReading(
        Outcome outcome, String words, List<SweepFeature> features, List<Segment> segments, double noise) {

    /** Whether the sweep is healthy. */
    public enum Outcome {
        SMOOTH,
        FAULTY,
        NOT_JUDGED
    }

    /** A point to draw. */
    public record Point(double x, double y) {}

    /**
     * A stretch to draw in one manner.
     *
     * @param fault what is wrong here, null for a healthy stretch
     */
    public record Segment(@Nullable Kind fault, List<Point> points) {
        public Segment {
            points = List.copyOf(points);
        }
    }

    public SweepReading {
        features = List.copyOf(features);
        segments = List.copyOf(segments);
    }
}
