package idlewright.reference.obd.log;

import java.io.ByteArrayInputStream;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;

/** An invented drive of a 2.0 L petrol engine whose phases are known to the second. */
final class Drive {
    static final double KEY_ON = 0;
    static final double CRANK = 6;
    static final double WARM_UP = 7.5;
    static final double HOT_IDLE = 180;
    static final double HOT_IDLE_END = 240;
    static final double PARKED_2500 = 243;
    static final double PARKED_2500_END = 263;
    static final double CRUISE = 300;
    static final double CRUISE_END = 360;
    static final double WIDE_OPEN = 362;
    static final double WIDE_OPEN_END = 370;
    static final double END = 400;

    record Row(double t, double rpm, double speed, double flow, double throttle, double coolant, double volts) {}

    static List<Row> rows(double step) {
        SplittableRandom random = new SplittableRandom(41);
        List<Row> rows = new ArrayList<>();
        for (int i = 0; i * step <= END; i++) {
            double t = i * step;
            double noise = random.nextDouble() - 0.5;
            double rpm;
            double speed = 0;
            double throttle = 14;
            if (t < CRANK) {
                rpm = 0;
            } else if (t < WARM_UP) {
                rpm = 220 + 40 * noise;
            } else if (t < HOT_IDLE) {
                rpm = 1250 - 500 * (t - WARM_UP) / (HOT_IDLE - WARM_UP) + 30 * noise;
            } else if (t < HOT_IDLE_END) {
                rpm = 750 + 30 * noise;
            } else if (t < PARKED_2500) {
                rpm = 750 + 1750 * (t - HOT_IDLE_END) / (PARKED_2500 - HOT_IDLE_END);
                throttle = 14 + 6 * (t - HOT_IDLE_END) / (PARKED_2500 - HOT_IDLE_END);
            } else if (t < PARKED_2500_END) {
                rpm = 2500 + 40 * noise;
                throttle = 20;
            } else if (t < PARKED_2500_END + 3) {
                rpm = 2500 - 1750 * (t - PARKED_2500_END) / 3;
            } else if (t < 272) {
                rpm = 760 + 30 * noise;
            } else if (t < CRUISE) {
                double share = (t - 272) / (CRUISE - 272);
                speed = 80 * share;
                rpm = 1000 + 1100 * share + 30 * noise;
                throttle = 32;
            } else if (t < CRUISE_END) {
                speed = 80 + noise;
                rpm = 2100 + 25 * noise;
                throttle = 24 + noise;
            } else if (t < WIDE_OPEN) {
                speed = 80;
                rpm = 2100 + 300 * (t - CRUISE_END);
                throttle = 24 + 22 * (t - CRUISE_END);
            } else if (t < WIDE_OPEN_END) {
                double share = (t - WIDE_OPEN) / (WIDE_OPEN_END - WIDE_OPEN);
                speed = 80 + 40 * share;
                rpm = 3000 + 2800 * share;
                throttle = 88;
            } else {
                double share = (t - WIDE_OPEN_END) / (END - WIDE_OPEN_END);
                speed = 120 * (1 - share);
                rpm = 5500 - 4700 * share;
            }
            double fill = throttle > 80 ? 0.85 : rpm < 1000 ? 0.24 : 0.3 + (throttle - 14) / 90;
            double flow = rpm < 50 ? 0 : fill * 2.0 * rpm / 120 * 1.184 * (1 + 0.02 * noise);
            double coolant = Math.min(88, 20 + 58 * t / 175);
            rows.add(new Row(t, rpm, speed, flow, throttle, coolant, rpm < 50 ? 12.4 : rpm < 450 ? 10.3 : 14.1));
        }
        return rows;
    }

    static String csv(double step) {
        StringBuilder csv = new StringBuilder(
                "Time (s),Engine RPM (rpm),Vehicle speed (km/h),MAF (g/s),Throttle position (%),Coolant temp (°C),Control module voltage (V)\n");
        for (Row row : rows(step)) {
            csv.append(String.format(
                    Locale.ROOT,
                    "%.3f,%.0f,%.0f,%.2f,%.1f,%.0f,%.2f%n",
                    row.t(),
                    row.rpm(),
                    row.speed(),
                    row.flow(),
                    row.throttle(),
                    row.coolant(),
                    row.volts()));
        }
        return csv.toString();
    }

    static LogReading read(String csv, LogOptions options) {
        return read(csv, options, StandardCharsets.UTF_8);
    }

    static LogReading read(String csv) {
        return read(csv, LogOptions.plain());
    }

    static LogReading read(String csv, LogOptions options, Charset charset) {
        try {
            return LogFile.read(new ByteArrayInputStream(csv.getBytes(charset)), options);
        } catch (java.io.IOException impossible) {
            throw new java.io.UncheckedIOException(impossible);
        }
    }

    private Drive() {}
}
