package idlewright.reference.obd.log;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.SplittableRandom;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

class LogMutationTest {
    private static final int FILES = 50;
    private static final int LINES = 20_000;

    @Test
    @DisplayName("reads 1,000,000 mutated lines in 50 files without failing")
    void survivesAMillionMutatedLines() throws IOException {
        long lines = 0;
        for (int seed = 0; seed < FILES; seed++) {
            LogReading log =
                    LogFile.read(new Mutated(seed, LINES), LogOptions.plain().burning(Fuel.E10));
            lines += log.rows() + log.badLines();
            assertThat(log.problems()).as("seed %d", seed).hasSizeLessThan(200);
            assertThat(log.states()).hasSizeLessThanOrEqualTo(400);
            assertThat(log.preview()).allSatisfy(series -> {
                assertThat(series.values()).hasSizeLessThanOrEqualTo(2000);
                assertThat(series.seconds()).isSorted();
            });
        }
        // Repeated, swallowed and joined lines are not counted.
        assertThat(lines).isGreaterThan(FILES * LINES / 2);
    }

    @Test
    @DisplayName("keeps less than 64 MB alive while it reads a 1,000,000 row log")
    void readsAMillionRowsInBoundedMemory() throws IOException {
        long[] most = new long[1];
        long[] next = {8_000_000};
        long idle = live();

        LogReading log =
                LogFile.read(new Mutated(-1, 1_000_000), LogOptions.plain().telling(bytes -> {
                    if (bytes >= next[0]) {
                        next[0] += 16_000_000;
                        most[0] = Math.max(most[0], live() - idle);
                    }
                }));

        assertThat(log.rows()).isEqualTo(1_000_000);
        assertThat(most[0]).isPositive().isLessThan(64_000_000);
    }

    @Test
    @DisplayName("reads 1,000 short files of torn and random bytes without failing")
    void survivesTornFiles() throws IOException {
        SplittableRandom random = new SplittableRandom(17);
        byte[] whole = Drive.csv(5).getBytes(StandardCharsets.UTF_8);
        for (int i = 0; i < 1_000; i++) {
            byte[] torn = Arrays.copyOfRange(whole, 0, 20 + random.nextInt(600));
            for (int n = random.nextInt(30); n > 0; n--) {
                byte[] odd = {',', ';', '\t', '"', '\n', '\r', '.', '-', 0, (byte) 0xFE, (byte) 0xFF, '9', ':', '(', ' '
                };
                torn[random.nextInt(torn.length)] =
                        random.nextBoolean() ? odd[random.nextInt(odd.length)] : (byte) random.nextInt(256);
            }
            if (i % 10 == 0) {
                random.nextBytes(torn);
            }
            assertThat(LogFile.read(new ByteArrayInputStream(torn), LogOptions.plain())
                            .badLines())
                    .isNotNegative();
        }
    }

    private static long live() {
        System.gc();
        return Runtime.getRuntime().totalMemory() - Runtime.getRuntime().freeMemory();
    }

    /** A log made line by line as it is read; a seed of -1 mutates nothing. */
    private static final class Mutated extends InputStream {
        private static final String[] HOSTILE = {
            "\"",
            "\"\"",
            ",",
            ";",
            "\u0000",
            "\n",
            "\r",
            "NaN",
            "1e400",
            "-",
            "NO DATA",
            "\ufeff",
            "99999999999999999999",
            "-1e-400",
            "0x7f",
            "25:61:61",
            "2026-13-45T99:99:99Z",
            ":",
            ".",
            "%s",
            "\u00e9",
            "\ud83d",
            "\t\t\t\t",
            "'"
        };
        private final SplittableRandom random;
        private final boolean mutate;
        private final boolean longForm;
        private final int lines;
        private byte[] block;
        private int at;
        private int line;

        Mutated(int seed, int lines) {
            this.random = new SplittableRandom(seed);
            this.mutate = seed >= 0;
            this.longForm = seed % 3 == 1;
            this.lines = lines;
            String header = longForm
                    ? "seconds,pid,value,units\n"
                    : "Time (s),Engine RPM (rpm),Vehicle speed (km/h),MAF (g/s),Throttle (%),Coolant (°C),STFT B1 (%)\n";
            this.block = header.getBytes(StandardCharsets.UTF_8);
        }

        @Override
        public int read() {
            byte[] one = new byte[1];
            return read(one, 0, 1) < 0 ? -1 : one[0] & 0xFF;
        }

        @Override
        public int read(byte[] into, int from, int length) {
            if (at == block.length) {
                if (line == lines) {
                    return -1;
                }
                StringBuilder text = new StringBuilder();
                for (int i = 0; i < 100 && line < lines; i++) {
                    next(text);
                }
                block = text.toString().getBytes(StandardCharsets.UTF_8);
                at = 0;
                if (mutate && random.nextInt(20) == 0) {
                    block[random.nextInt(block.length)] = (byte) random.nextInt(256);
                }
            }
            int got = Math.min(length, block.length - at);
            System.arraycopy(block, at, into, from, got);
            at += got;
            return got;
        }

        private void next(StringBuilder text) {
            int start = text.length();
            int minute = line / 600 % 8;
            int rpm = minute < 3 ? 745 + random.nextInt(12) : 1500 + 200 * minute + random.nextInt(20);
            if (longForm) {
                String[] names = {"Engine RPM,", "Vehicle speed,", "MAF air flow rate,"};
                String[] values = {rpm + ",rpm", (minute < 3 ? 0 : 10 * minute) + ",km/h", rpm / 200 + ".5,g/s"};
                text.append(line / 30).append('.').append(line % 30).append(',');
                text.append(names[line % 3]).append(values[line % 3]).append('\n');
                finish(text, start);
                return;
            }
            text.append(line / 10)
                    .append('.')
                    .append(line % 10)
                    .append(',')
                    .append(rpm)
                    .append(',');
            text.append(minute < 3 ? 0 : 10 * minute)
                    .append(',')
                    .append(rpm / 200)
                    .append('.')
                    .append(random.nextInt(10));
            text.append(',')
                    .append(14 + 3 * minute)
                    .append(",88,")
                    .append(random.nextInt(9) - 4)
                    .append('\n');
            finish(text, start);
        }

        private void finish(StringBuilder text, int start) {
            line++;
            if (mutate) {
                for (int n = random.nextInt(4); n > 0; n--) {
                    mutate(text, start);
                }
            }
        }

        private void mutate(StringBuilder text, int start) {
            int size = text.length() - start;
            int place = start + (size == 0 ? 0 : random.nextInt(size));
            switch (random.nextInt(6)) {
                case 0 -> text.insert(place, HOSTILE[random.nextInt(HOSTILE.length)]);
                case 1 -> text.setLength(place);
                case 2 -> text.insert(place, (char) random.nextInt(0x300));
                case 3 -> {
                    if (place < text.length()) {
                        text.deleteCharAt(place);
                    }
                }
                case 4 -> text.append(text, start, text.length());
                default -> {
                    if (place < text.length()) {
                        text.setCharAt(place, (char) ('0' + random.nextInt(10)));
                    }
                }
            }
        }
    }
}
