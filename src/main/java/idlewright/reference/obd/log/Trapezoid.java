package idlewright.reference.obd.log;

/**
 * Integral over time of something per hour. Up to 30 s between two values the line between them is taken as measured; up
 * to 120 s it is taken too, but counted as assumed; a longer gap is left out.
 */
final class Trapezoid {
    static final double MEASURED_GAP = 30;
    static final double ASSUMED_GAP = 120;

    private double lastTime = Double.NaN;
    private double last;
    private double sum;
    private double assumed;
    private long n;
    int assumedGaps;
    int openGaps;
    double longestOpen;

    void add(double time, double perHour) {
        double step = time - lastTime;
        if (step > ASSUMED_GAP) {
            openGaps++;
            longestOpen = Math.max(longestOpen, step);
        } else if (step >= 0) {
            double area = step * (last + perHour) / 2;
            sum += area;
            if (step > MEASURED_GAP) {
                assumed += area;
                assumedGaps++;
            }
        }
        lastTime = time;
        last = perHour;
        n++;
    }

    void breakHere() {
        lastTime = Double.NaN;
    }

    boolean any() {
        return n > 1;
    }

    double total() {
        return sum / 3600;
    }

    double assumed() {
        return assumed / 3600;
    }
}
