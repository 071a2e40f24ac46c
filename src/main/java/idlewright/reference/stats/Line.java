package idlewright.reference.stats;

import static idlewright.reference.bounds.Bounds.within;

import idlewright.reference.bounds.Bounds;
import java.util.Arrays;

/**
 * A straight line by least squares.
 *
 * @param interceptError standard error
 * @param slopeError standard error
 * @param residualSd standard deviation of the residuals; 0 with two points
 * @param rSquared share of the variation that the line explains
 */
public record Line(
        double intercept, double slope, double interceptError, double slopeError, double residualSd, double rSquared) {

    /** Fits with an intercept; 2 points or more at two places or more. Checked against NIST StRD Norris. */
    public static Line through(double[] x, double[] y) {
        check(x, y, 2);
        int n = x.length;
        double xMean = Arrays.stream(x).average().orElseThrow();
        double yMean = Arrays.stream(y).average().orElseThrow();
        double xx = 0;
        double xy = 0;
        double yy = 0;
        for (int i = 0; i < n; i++) {
            double dx = x[i] - xMean;
            double dy = y[i] - yMean;
            xx += dx * dx;
            xy += dx * dy;
            yy += dy * dy;
        }
        if (xx == 0) {
            throw new IllegalArgumentException("the points all stand at one place: no line can be drawn through them");
        }
        double slope = xy / xx;
        double intercept = yMean - slope * xMean;
        double squares = residuals(x, y, intercept, slope);
        double variance = n > 2 ? squares / (n - 2) : 0;
        return new Line(
                intercept,
                slope,
                Math.sqrt(variance * (1.0 / n + xMean * xMean / xx)),
                Math.sqrt(variance / xx),
                Math.sqrt(variance),
                yy == 0 ? 1 : 1 - squares / yy);
    }

    /** Fits through the origin. Checked against NIST StRD NoInt1; R2 is taken about 0, as NIST does. */
    public static Line throughOrigin(double[] x, double[] y) {
        check(x, y, 1);
        double xx = 0;
        double xy = 0;
        double yy = 0;
        for (int i = 0; i < x.length; i++) {
            xx += x[i] * x[i];
            xy += x[i] * y[i];
            yy += y[i] * y[i];
        }
        if (xx == 0) {
            throw new IllegalArgumentException("the points all stand at the origin: no line can be drawn through them");
        }
        double slope = xy / xx;
        double squares = residuals(x, y, 0, slope);
        double variance = x.length > 1 ? squares / (x.length - 1) : 0;
        return new Line(0, slope, 0, Math.sqrt(variance / xx), Math.sqrt(variance), yy == 0 ? 1 : 1 - squares / yy);
    }

    /**
     * A line that a quarter of wild points cannot move (Theil 1950, Sen 1968): slope is the median of the slopes of all
     * pairs, intercept the median of what is left. Errors and R2 are not given (0).
     *
     * @param x 2 to 3,000 points, since every pair is looked at
     */
    public static Line robust(double[] x, double[] y) {
        check(x, y, 2);
        within("number of points", x.length, 2, 3000, "");
        double[] slopes = new double[x.length * (x.length - 1) / 2];
        int count = 0;
        for (int i = 0; i < x.length; i++) {
            for (int j = i + 1; j < x.length; j++) {
                if (x[i] != x[j]) {
                    slopes[count++] = (y[j] - y[i]) / (x[j] - x[i]);
                }
            }
        }
        if (count == 0) {
            throw new IllegalArgumentException("the points all stand at one place: no line can be drawn through them");
        }
        double slope = Robust.median(Arrays.copyOf(slopes, count));
        double[] left = new double[x.length];
        Arrays.setAll(left, i -> y[i] - slope * x[i]);
        double intercept = Robust.median(left);
        Arrays.setAll(left, i -> y[i] - intercept - slope * x[i]);
        return new Line(intercept, slope, 0, 0, Robust.sigma(left, 0), 0);
    }

    public double at(double x) {
        return intercept + slope * x;
    }

    private static double residuals(double[] x, double[] y, double intercept, double slope) {
        double squares = 0;
        for (int i = 0; i < x.length; i++) {
            double left = y[i] - intercept - slope * x[i];
            squares += left * left;
        }
        return squares;
    }

    private static void check(double[] x, double[] y, int fewest) {
        if (x.length != y.length || x.length < fewest) {
            throw new IllegalArgumentException(
                    "at least %d points with an x and a y each are needed, but there were %d and %d"
                            .formatted(fewest, x.length, y.length));
        }
        Bounds.finite("x values", x);
        Bounds.finite("y values", y);
    }
}
