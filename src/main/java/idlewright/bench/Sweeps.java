package idlewright.bench;

import idlewright.bench.rules.Series;
import idlewright.bench.rules.SeriesMark;
import idlewright.frame.rules.LinePlot;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.Set;

/** Recorded series, judged and drawn. */
final class Sweeps {
    private Sweeps() {}

    static Set<SeriesMark> marks(Series series) {
        return EnumSet.noneOf(SeriesMark.class);
    }

    static String words(Series series) {
        return series.size() + " points.";
    }

    static LinePlot curve(Series series) {
        double[][] sorted = sorted(series);
        return LinePlot.titled(series.up())
                .across(series.across(), series.acrossUnit())
                .up(series.up(), series.upUnit())
                .series(series.up(), sorted[0], sorted[1])
                .draw();
    }

<<<<<<< HEAD
<<<<<<< HEAD
=======
>>>>>>> refs/heads/warranty
    static double[][] sorted(Series series) {
        double[] x = series.x();
        double[] y = series.y();
        var order = new ArrayList<Integer>();
        for (int i = 0; i < x.length; i++) order.add(i);
        order.sort(Comparator.comparingDouble(i -> x[i]));
        double[][] sorted = new double[2][x.length];
        for (int i = 0; i < x.length; i++) {
            sorted[0][i] = x[order.get(i)];
            sorted[1][i] = y[order.get(i)];
        }
        return sorted;
<<<<<<< HEAD
=======
    private static SweepReading read(Series series) {
        return Sweep.judge(
                series.x(),
                series.y(),
                series.acrossUnit().equals("s") ? SweepOptions.overTime() : SweepOptions.over(series.acrossUnit()));
>>>>>>> refs/heads/bench
=======
>>>>>>> refs/heads/warranty
    }
}
