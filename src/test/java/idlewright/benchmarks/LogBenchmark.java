package idlewright.benchmarks;

import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import idlewright.reference.obd.log.Fuel;
import idlewright.reference.obd.log.LogFile;
import idlewright.reference.obd.log.LogOptions;
import idlewright.reference.obd.log.LogReading;
import java.io.BufferedWriter;
import java.io.IOException;
import java.io.InputStream;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Locale;
import java.util.SplittableRandom;

/**
 * Speed and memory of the log reader beside FastCSV with parsing of the same numbers, on one file in one run. Not a
 * test: run it by hand, for memory with -Xmx128m -XX:+UseSerialGC.
 */
public final class LogBenchmark {
    private static final int ROWS = 1_000_000;
    private static final int COLUMNS = 10;

    public static void main(String[] args) throws IOException {
        Path file = Files.createTempFile("log-benchmark", ".csv");
        try {
            write(file);
            double megabytes = Files.size(file) / 1e6;
            System.out.printf(Locale.ROOT, "%.1f MB, %,d rows, %d columns%n", megabytes, ROWS, COLUMNS);
            // Processor time of the thread beside the clock, because the machine may be busy with other work.
            ThreadMXBean threads = ManagementFactory.getThreadMXBean();
            double[] best = new double[4];
            for (int round = 1; round <= 6; round++) {
                long start = System.nanoTime();
                long cpu = threads.getCurrentThreadCpuTime();
                double sum = raw(file);
                double raw = megabytes * 1e9 / (System.nanoTime() - start);
                double rawCpu = megabytes * 1e9 / (threads.getCurrentThreadCpuTime() - cpu);
                start = System.nanoTime();
                cpu = threads.getCurrentThreadCpuTime();
                LogReading reading = read(file, LogOptions.plain().burning(Fuel.E10));
                double ours = megabytes * 1e9 / (System.nanoTime() - start);
                double oursCpu = megabytes * 1e9 / (threads.getCurrentThreadCpuTime() - cpu);
                System.out.printf(
                        Locale.ROOT,
                        "round %d, MB/s by clock (by processor): FastCSV + parseDouble %.0f (%.0f), ours %.0f (%.0f);"
                                + " checksum %.3f, %,d rows, %d states%n",
                        round,
                        raw,
                        rawCpu,
                        ours,
                        oursCpu,
                        sum,
                        reading.rows(),
                        reading.states().size());
                double[] now = {raw, rawCpu, ours, oursCpu};
                Arrays.setAll(best, i -> Math.max(best[i], now[i]));
            }
            System.out.printf(
                    Locale.ROOT,
                    "best: FastCSV %.0f (%.0f), ours %.0f (%.0f), ratio %.2f (%.2f)%n",
                    best[0],
                    best[1],
                    best[2],
                    best[3],
                    best[2] / best[0],
                    best[3] / best[1]);
            heap(file);
        } finally {
            Files.delete(file);
        }
    }

    /** Live heap during a read, measured after a forced collection at each quarter of the file. */
    private static void heap(Path file) throws IOException {
        long idle = live();
        long[] most = new long[1];
        long[] next = {Files.size(file) / 8};
        read(file, LogOptions.plain().burning(Fuel.E10).telling(bytes -> {
            if (bytes >= next[0]) {
                next[0] += 10_000_000;
                most[0] = Math.max(most[0], live());
            }
        }));
        System.out.printf(
                Locale.ROOT,
                "live heap above idle: %.1f MB; heap limit of this run: %d MB%n",
                (most[0] - idle) / 1e6,
                Runtime.getRuntime().maxMemory() >> 20);
    }

    private static long live() {
        System.gc();
        return Runtime.getRuntime().totalMemory() - Runtime.getRuntime().freeMemory();
    }

    private static LogReading read(Path file, LogOptions options) throws IOException {
        try (InputStream in = Files.newInputStream(file)) {
            return LogFile.read(in, options);
        }
    }

    private static double raw(Path file) throws IOException {
        double sum = 0;
        try (CsvReader<CsvRecord> csv = CsvReader.builder().ofCsvRecord(file)) {
            boolean header = true;
            for (CsvRecord row : csv) {
                if (header) {
                    header = false;
                    continue;
                }
                for (int i = 0; i < row.getFieldCount(); i++) {
                    sum += Double.parseDouble(row.getField(i));
                }
            }
        }
        return sum;
    }

    private static void write(Path file) throws IOException {
        SplittableRandom random = new SplittableRandom(7);
        try (BufferedWriter out = Files.newBufferedWriter(file)) {
            out.write(
                    "Time (s),Engine RPM (rpm),Vehicle speed (km/h),MAF (g/s),Calculated load (%),Throttle position (%),"
                            + "Coolant temp (degC),STFT B1 (%),LTFT B1 (%),Control module voltage (V)\n");
            StringBuilder line = new StringBuilder();
            for (int i = 0; i < ROWS; i++) {
                double minute = i / 600 % 10;
                boolean idle = minute < 3;
                double noise = random.nextDouble() - 0.5;
                double rpm = idle ? 760 + 20 * noise : 1500 + 150 * minute + 25 * noise;
                double speed = idle ? 0 : 20 + 8 * minute + noise;
                line.setLength(0);
                number(line, i * 100L, 3).append(',');
                number(line, Math.round(rpm * 4) * 25, 2).append(',');
                number(line, Math.round(speed), 0).append(',');
                number(line, Math.round((rpm / 200 + noise / 5) * 100), 2).append(',');
                number(line, Math.round((22 + 4 * minute + noise) * 1e6), 6).append(',');
                number(line, Math.round((14 + 2 * minute + noise) * 1e4), 4).append(',');
                number(line, 88 + (i / 5000) % 5, 0).append(',');
                number(line, Math.round(noise * 78125) * 10, 5).append(',');
                number(line, 234375, 5).append(',');
                number(line, 14_100 + Math.round(noise * 40), 3).append('\n');
                out.append(line);
            }
        }
    }

    private static StringBuilder number(StringBuilder line, long scaled, int decimals) {
        long size = Math.abs(scaled);
        if (scaled < 0) {
            line.append('-');
        }
        long power = 1;
        for (int i = 0; i < decimals; i++) {
            power *= 10;
        }
        line.append(size / power);
        if (decimals > 0) {
            line.append('.');
            String rest = Long.toString(size % power);
            line.append("0".repeat(decimals - rest.length())).append(rest);
        }
        return line;
    }

    private LogBenchmark() {}
}
