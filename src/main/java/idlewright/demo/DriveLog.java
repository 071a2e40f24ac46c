package idlewright.demo;

import java.nio.charset.StandardCharsets;
import java.util.Locale;
import java.util.Random;

/**
 * A log of a drive of the lead story as a scan tool would write it: idle, 2,500 rpm standing, then the road. The sensor
 * under-reads as flow grows, and the trims make up for it.
 */
final class DriveLog {

    private static final int SECONDS = 240;

    private DriveLog() {}

    static byte[] csv() {
        var chance = new Random(22);
        var csv = new StringBuilder(
                "Time (s),Engine RPM (rpm),Vehicle Speed (km/h),Coolant Temp (°C),Intake Air Temp (°C),MAF (g/s),"
                        + "Calculated Load (%),Throttle (%),Short Term Fuel Trim B1 (%),Long Term Fuel Trim B1 (%)\n");
        double longTrim = 4.1;
        for (int second = 0; second < SECONDS; second++) {
            double rpm = rpm(second) + 6 * chance.nextGaussian();
            double speed = second < 120 ? 0 : Math.min(72, (second - 120) * 1.3);
            double pull = second < 120 ? 0 : 0.55 + 0.25 * Math.sin((second - 120) / 9.0);
            double flow = second < 60
                    ? 3.08 + 0.03 * chance.nextGaussian()
                    : second < 120 ? flow2500(second) + 0.05 * chance.nextGaussian() : 0.0105 * rpm * (0.5 + pull);
            double wanted = second < 60 ? 4.2 : second < 120 ? 14.8 : 16.0;
            longTrim += (wanted - longTrim) * 0.12;
            csv.append(String.format(
                    Locale.ROOT,
                    "%d,%.0f,%.0f,%d,%d,%.2f,%.1f,%.1f,%.1f,%.1f%n",
                    second,
                    rpm,
                    speed,
                    90 + second / 120,
                    24,
                    flow,
                    second < 60 ? 20.4 : second < 120 ? 18.6 : 24 + 40 * pull,
                    second < 60 ? 3.1 : second < 120 ? 9.4 : 12 + 30 * pull,
                    0.6 + 0.4 * chance.nextGaussian(),
                    longTrim));
        }
        return csv.toString().getBytes(StandardCharsets.UTF_8);
    }

    private static double rpm(int second) {
        if (second < 60) {
            return 780;
        }
        return second < 70
                ? 780 + (second - 60) * 172
                : second < 120 ? 2500 : 1700 + 500 * Math.sin((second - 120) / 9.0);
    }

    private static double flow2500(int second) {
        return second < 70 ? 3.08 + (second - 60) * 0.652 : 9.6;
    }
}
