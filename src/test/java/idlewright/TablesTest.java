package idlewright;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

@DisplayName("A table")
class TablesTest {

    private static final Path SOURCES = Path.of("src/main/java/idlewright");

    private record Source(String room, String file, String text) {}

    /** No Java writes them: a trigger does, for the room that reads them. */
    private static final Map<String, String> KEPT_BY_TRIGGER = Map.of("owing", "billing", "proved_tally", "bench");

    private static final List<Source> SOURCE = sources();
    private static final Set<String> TABLES = tables();
    private static final Map<String, Set<String>> WRITERS = writers();

    @Test
    void isWrittenByOneRoom() {
        assertThat(WRITERS.keySet()).isEqualTo(TABLES);
        assertThat(WRITERS)
                .allSatisfy((table, rooms) -> assertThat(rooms).as(table).hasSize(1));
    }

    @Test
    void isReadByThatRoomOnlyOthersReadAView() {
        var elsewhere = new ArrayList<String>();
        for (Source source : SOURCE) {
            matches("(?:from|join)\\s+(\\w+)", source.text())
                    .filter(TABLES::contains)
                    .filter(table -> !WRITERS.get(table).contains(source.room()))
                    .forEach(table -> elsewhere.add(source.file() + " reads " + table));
        }
        assertThat(elsewhere).isEmpty();
    }

    private static Set<String> tables() {
        try (var files = Files.list(Path.of("db-migrations"))) {
            return files.sorted()
                    .flatMap(file -> matches("create table (\\w+)", read(file)))
                    .collect(Collectors.toCollection(TreeSet::new));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static Map<String, Set<String>> writers() {
        var writers = new TreeMap<String, Set<String>>();
        KEPT_BY_TRIGGER.forEach((table, room) -> writers.put(table, new TreeSet<>(Set.of(room))));
        for (Source source : SOURCE) {
            var written = new TreeSet<String>();
            matches("(?:insert into|update|delete from)\\s+(\\w+)", source.text())
                    .forEach(written::add);
            matches("@(?:Collection)?Table\\(\\s*name = \"(\\w+)\"", source.text())
                    .forEach(written::add);
            if (source.text().contains("@Entity")) {
                matches("class (\\w+)", source.text()).limit(1).forEach(name -> written.add(snake(name)));
            }
            written.retainAll(TABLES);
            written.forEach(table ->
                    writers.computeIfAbsent(table, t -> new TreeSet<>()).add(source.room()));
        }
        return writers;
    }

    private static String snake(String name) {
        return name.replaceAll("(?<=[a-z])(?=[A-Z])", "_").toLowerCase(Locale.ROOT);
    }

    private static List<Source> sources() {
        try (var files = Files.walk(SOURCES)) {
            return files.filter(file -> file.toString().endsWith(".java")
                            && file.getParent().compareTo(SOURCES) != 0)
                    .map(file -> new Source(
                            SOURCES.relativize(file).getName(0).toString(),
                            SOURCES.relativize(file).toString(),
                            read(file).replaceAll("(?s)/\\*.*?\\*/|//[^\\n]*", "")))
                    .toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static Stream<String> matches(String pattern, String text) {
        return Pattern.compile(pattern).matcher(text).results().map(found -> found.group(1));
    }

    private static String read(Path file) {
        try {
            return Files.readString(file);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
