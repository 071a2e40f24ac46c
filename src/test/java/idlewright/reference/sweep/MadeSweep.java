package idlewright.reference.sweep;

import idlewright.reference.sweep.SweepFeature.Kind;
import idlewright.reference.sweep.SweepOptions.Axis;
import java.util.Arrays;
import java.util.SplittableRandom;
import org.jspecify.annotations.Nullable;

/**
 * A sweep made up from a seed: curve, points, noise, rounding, and at most one planted fault.
 *
 * @param from where the fault begins, NaN without one
 */
record MadeSweep(
        double[] x,
        double[] y,
        SweepOptions options,
        @Nullable Kind fault,
        double from,
        double to,
        String recipe) {

    /** Curves of healthy sensors over their ramp, both from 0 to 1. */
    enum Shape {
        LINEAR {
            @Override
            double at(double u) {
                return u;
            }
        },
        ROOT {
            @Override
            double at(double u) {
                return (Math.sqrt(0.03 + u) - Math.sqrt(0.03)) / (Math.sqrt(1.03) - Math.sqrt(0.03));
            }
        },
        LOG {
            @Override
            double at(double u) {
                return Math.log(1 + 9 * u) / Math.log(10);
            }
        },
        /** King's law of a heated film: square root of a + b root of flow. */
        HOT_FILM {
            @Override
            double at(double u) {
                double low = Math.sqrt(0.5 + Math.sqrt(0.05));
                return (Math.sqrt(0.5 + Math.sqrt(0.05 + u)) - low) / (Math.sqrt(0.5 + Math.sqrt(1.05)) - low);
            }
        },
        RISING_STEEPER {
            @Override
            double at(double u) {
                return 0.3 * u + 0.7 * u * u;
            }
        },
        EASED {
            @Override
            double at(double u) {
                return 0.5 * u + 0.5 * u * u * (3 - 2 * u);
            }
        };

        abstract double at(double u);
    }

    static MadeSweep of(long seed, @Nullable Kind fault) {
        SplittableRandom random = new SplittableRandom(seed);
        int n = (int) Math.round(20 * Math.pow(500, random.nextDouble()));
        Axis axis = fault == Kind.SATURATION || random.nextBoolean() ? Axis.DRIVER : Axis.TIME;
        Shape shape = Shape.values()[random.nextInt(Shape.values().length)];
        double noise = 0.001 * Math.pow(10, random.nextDouble());
        double[] rounding = {0, 0.01, 0.02, 0.005};
        double step = rounding[random.nextInt(4)];
        double low = 0.8 + 0.4 * random.nextDouble();
        double height = 2.2 + 1.6 * random.nextDouble();

        // Places of the points, 0 to 1, uneven.
        double unevenness = random.nextDouble();
        double[] place = new double[n];
        double sum = 0;
        for (int i = 0; i < n; i++) {
            sum += 1 + unevenness * (random.nextDouble(-0.9, 0.9));
            place[i] = sum;
        }
        double first = place[0];
        double span = sum - first;
        Arrays.setAll(place, i -> (place[i] - first) / span);

        // How far the ramp is at each place.
        double[] u = place.clone();
        double rampFrom = 0;
        double rampTo = 1;
        boolean down = false;
        if (axis == Axis.TIME) {
            double ramp = Math.min(1, Math.max(18.0 / n, 0.2 + 0.6 * random.nextDouble()));
            rampFrom = (1 - ramp) * random.nextDouble();
            rampTo = rampFrom + ramp;
            down = rampTo < 0.75 && random.nextBoolean();
            double ease = random.nextDouble() * 0.6;
            double downFrom = rampTo + (1 - rampTo) * 0.3 * random.nextDouble();
            for (int i = 0; i < n; i++) {
                double t = Math.min(1, Math.max(0, (place[i] - rampFrom) / ramp));
                if (down && place[i] > downFrom) {
                    t = Math.max(0, 1 - (place[i] - downFrom) / (1 - downFrom) * 1.3);
                }
                u[i] = (1 - ease) * t + ease * t * t * (3 - 2 * t);
            }
        }
        double[] clean = new double[n];
        Arrays.setAll(clean, i -> shape.at(u[i]));

        // The fault stands well inside the ramp.
        double ramp = rampTo - rampFrom;
        int from = -1;
        int to = -1;
        String size = "";
        if (fault != null) {
            double centre = rampFrom + ramp * (0.2 + 0.55 * random.nextDouble());
            int at = firstAtLeast(place, centre);
            switch (fault) {
                case SPIKE -> {
                    int width = 1 + random.nextInt(Math.max(1, Math.min(3, n / 15)));
                    width = Math.max(width, (int) (0.02 * random.nextDouble() * n));
                    double by = Math.max(0.10, 12 * noise) + 0.4 * random.nextDouble();
                    from = at;
                    to = Math.min(n - 3, at + width - 1);
                    for (int i = from; i <= to; i++) {
                        clean[i] += by;
                    }
                    size = "by " + by + " points " + (to - from + 1);
                }
                case DROPOUT -> {
                    int width = Math.max(1 + random.nextInt(Math.max(1, Math.min(3, n / 15))), (int)
                            (0.08 * ramp * random.nextDouble() * n));
                    from = at;
                    to = at + width - 1;
                    double by = Math.max(0.12, 12 * noise) + 0.6 * random.nextDouble();
                    boolean dead = random.nextBoolean();
                    for (int i = from; i <= to; i++) {
                        clean[i] = dead ? -low / height : clean[i] - by;
                    }
                    size = (dead ? "dead" : "by " + by) + " points " + (to - from + 1);
                }
                case BACKWARD_STEP -> {
                    // It must fall, not just rise less: the rise between two points comes on top.
                    double by = Math.max(0.08, 12 * noise) + 0.12 * random.nextDouble() + clean[at] - clean[at - 1];
                    from = at - 1;
                    to = at;
                    for (int i = at; i < n; i++) {
                        // A step in the track: higher up it is all lower; not below the rest.
                        clean[i] = Math.max(clean[i] - by, down && place[i] > rampTo ? 0 : -1);
                    }
                    size = "by " + by;
                }
                case FLAT_SPOT -> {
                    double width = ramp * (0.08 + 0.14 * random.nextDouble());
                    from = Math.max(2, at);
                    to = Math.max(from + 5, firstAtLeast(place, place[from] + width));
                    from = Math.min(from, n - 12);
                    to = Math.min(to, n - 5);
                    double rest = clean[from];
                    // Wide enough that what is missing stands clear of the noise.
                    while (to < n - 4
                            && clean[to] - rest < Math.max(0.05, 30 * noise / Math.sqrt(to - from) + 2 * step / height)
                            && place[to] < rampFrom + 0.9 * ramp) {
                        to++;
                    }
                    size = "missing " + (clean[to] - rest) + " points " + (to - from + 1);
                    boolean catchesUp = random.nextBoolean();
                    int rejoin = catchesUp ? to : Math.min(n - 1, to + Math.max(2, (to - from) / 3));
                    double end = clean[Math.min(n - 1, rejoin)];
                    for (int i = from; i <= to; i++) {
                        clean[i] = rest;
                    }
                    for (int i = to + 1; i < rejoin; i++) {
                        clean[i] = rest + (end - rest) * (i - to) / (rejoin - to);
                    }
                }
                case SATURATION -> {
                    double top = 0.55 + 0.3 * random.nextDouble();
                    from = firstAtLeast(place, top);
                    to = n - 1;
                    while (from > n / 3
                            && (clean[n - 1] - clean[from]
                                            < Math.max(0.06, 30 * noise / Math.sqrt(to - from + 1) + 2 * step / height)
                                    || to - from < 5)) {
                        from--;
                    }
                    double most = clean[from];
                    for (int i = from; i <= to; i++) {
                        clean[i] = most;
                    }
                    size = "from " + place[from];
                }
            }
        }
        double[] x = new double[n];
        double[] y = new double[n];
        boolean driver = axis == Axis.DRIVER;
        for (int i = 0; i < n; i++) {
            x[i] = driver ? 700 + 2800 * place[i] : 12 * place[i];
            double value = low + height * (clean[i] + noise * random.nextGaussian());
            y[i] = step == 0 ? value : Math.rint(value / step) * step;
        }
        double begin = from < 0 ? Double.NaN : x[from];
        double end = to < 0 ? Double.NaN : x[to];
        if (driver && random.nextInt(3) == 0) {
            shuffle(random, x, y);
        }
        return new MadeSweep(
                x,
                y,
                driver ? SweepOptions.over("rpm") : SweepOptions.overTime(),
                fault,
                begin,
                end,
                "seed %d: %s over %s, %d points, noise %.2f %%, step %s, %s%s, at %.4g..%.4g"
                        .formatted(
                                seed,
                                shape,
                                axis,
                                n,
                                100 * noise,
                                step,
                                size,
                                down ? ", up and down" : "",
                                begin,
                                end));
    }

    /** The reading names the planted kind at the planted place, give or take one point. */
    boolean foundBy(SweepReading reading) {
        double slack =
                (Arrays.stream(x).max().orElseThrow() - Arrays.stream(x).min().orElseThrow()) * 2 / x.length;
        return reading.features().stream()
                .anyMatch(feature ->
                        feature.kind() == fault && feature.from() <= to + slack && feature.to() >= from - slack);
    }

    private static int firstAtLeast(double[] sorted, double value) {
        int i = 0;
        while (i < sorted.length - 1 && sorted[i] < value) {
            i++;
        }
        return i;
    }

    private static void shuffle(SplittableRandom random, double[] x, double[] y) {
        for (int i = x.length - 1; i > 0; i--) {
            int j = random.nextInt(i + 1);
            double swap = x[i];
            x[i] = x[j];
            x[j] = swap;
            swap = y[i];
            y[i] = y[j];
            y[j] = swap;
        }
    }
}
