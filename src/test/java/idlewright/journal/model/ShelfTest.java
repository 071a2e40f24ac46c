package idlewright.journal.model;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import idlewright.frame.Refused;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileTime;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

@DisplayName("The shelf of exhibits")
class ShelfTest {

    @TempDir
    Path home;

    @Test
    @EnabledOnOs(value = OS.LINUX, disabledReason = "only Linux has /dev/full, a disk that is always full")
    @DisplayName("on a full disk: refuses in plain words and leaves no half file")
    void refusesOnAFullDisk() throws IOException {
        var full = new Shelf(home.resolve("exhibits")) {
            @Override
            FileChannel create(Path file) throws IOException {
                super.create(file).close();
                return FileChannel.open(Path.of("/dev/full"), StandardOpenOption.WRITE);
            }
        };
        assertThatExceptionOfType(Refused.class)
                .isThrownBy(() -> full.take(new ByteArrayInputStream(new byte[100_000])))
                .withMessage(
                        "The file could not be stored: the disk is full or can't be written to. Nothing was kept. Make "
                                + "room on the disk and send it again.");
        assertThat(files()).isEmpty();
    }

    @Test
    void leavesNoHalfFileWhenTheSenderGoesAway() throws IOException {
        var shelf = new Shelf(home.resolve("exhibits"));
        var cut = new InputStream() {
            private int sent;

            @Override
            public int read() throws IOException {
                if (sent++ > 100_000) {
                    throw new IOException("connection reset");
                }
                return 'a';
            }
        };
        assertThatThrownBy(() -> shelf.take(cut)).isInstanceOf(UncheckedIOException.class);
        assertThat(files()).isEmpty();
    }

    @Test
    void throwsAwayWhatArrivedAndWasNotKept() throws IOException {
        var shelf = new Shelf(home.resolve("exhibits"));
        shelf.take(new ByteArrayInputStream(new byte[] {1, 2, 3})).close();
        assertThat(files()).isEmpty();
    }

    @Test
    void forgetsHalvesThatACrashLeftBehindADayAgo() throws IOException {
        var arriving = Files.createDirectories(home.resolve("exhibits/arriving"));
        var now = Instant.parse("2026-11-09T12:00:00Z");
        var old = Files.createFile(arriving.resolve("old.part"));
        Files.setLastModifiedTime(old, FileTime.from(now.minusSeconds(90_000)));
        var fresh = Files.createFile(arriving.resolve("fresh.part"));
        Files.setLastModifiedTime(fresh, FileTime.from(now.minusSeconds(60)));
        new Shelf(home, Clock.fixed(now, ZoneOffset.UTC));
        assertThat(files()).containsExactly(fresh);
    }

    private java.util.List<Path> files() throws IOException {
        try (Stream<Path> all = Files.walk(home)) {
            return all.filter(Files::isRegularFile).toList();
        }
    }
}
