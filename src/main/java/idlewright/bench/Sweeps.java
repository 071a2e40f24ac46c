package idlewright.bench;

import idlewright.bench.rules.Series;
import idlewright.bench.rules.SeriesMark;
import idlewright.frame.rules.LinePlot;
import idlewright.reference.sweep.Sweep;
import idlewright.reference.sweep.SweepFeature;
import idlewright.reference.sweep.SweepOptions;
import idlewright.reference.sweep.SweepReading;
import idlewright.reference.sweep.SweepReading.Point;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;

/** Recorded series, judged and drawn. */
final class Sweeps {
    private Sweeps() {}

    static Set<SeriesMark> marks(Series series) {
        SweepReading read = read(series);
        if (read.outcome() == SweepReading.Outcome.NOT_JUDGED) {
            return EnumSet.of(SeriesMark.NOT_JUDGED);
        }
        var marks = EnumSet.noneOf(SeriesMark.class);
        for (SweepFeature feature : read.features()) {
            marks.add(
                    switch (feature.kind()) {
                        case FLAT_SPOT -> SeriesMark.FLAT_SPOT;
                        case SPIKE -> SeriesMark.SPIKE;
                        case DROPOUT -> SeriesMark.DROPOUT;
                        case BACKWARD_STEP -> SeriesMark.STEP_BACK;
                        case SATURATION -> SeriesMark.SATURATED;
                    });
        }
        return marks;
    }

    static String words(Series series) {
        return read(series).words();
    }

    /** The curve with what is wrong marked on it; thinned out, so that a long recording stays a small page. */
    static LinePlot curve(Series series) {
        SweepReading read = read(series);
        List<Point> points = read.segments().stream()
                .flatMap(segment -> segment.points().stream())
                .distinct()
                .toList();
        LinePlot.Sketch sketch = LinePlot.titled(series.up())
                .across(series.across(), series.acrossUnit())
                .up("signal", series.upUnit())
                .series(
                        series.up(),
                        points.stream().mapToDouble(Point::x).toArray(),
                        points.stream().mapToDouble(Point::y).toArray());
        read.features()
                .forEach(each ->
                        sketch.stretch(each.from(), each.to(), each.kind().words()));
        return sketch.draw();
    }

    private static SweepReading read(Series series) {
        return Sweep.judge(
                series.x(), series.y(), SweepOptions.by(series.acrossUnit()).withRail(series.upUnit(), series.y()));
    }
}
