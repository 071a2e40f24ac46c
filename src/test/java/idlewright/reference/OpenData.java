package idlewright.reference;

import static org.junit.jupiter.api.Assumptions.abort;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.function.Consumer;
import org.junit.jupiter.api.DynamicTest;

/** The open reference data that the project does not carry; a test that needs them says so when they are absent. */
public final class OpenData {

    private OpenData() {}

    public static Path file(String name) {
        Path path = path(name);
        boolean there = Files.isReadable(path);
        if (!there) {
            System.out.println(absent(path));
        }
        assumeTrue(there, () -> absent(path));
        return path;
    }

    /**
     * One test for each row of a file below its header. Without the file there is one skipped test that says why: a
     * factory that gives up by itself would leave no trace in the report.
     */
    public static List<DynamicTest> eachRow(String name, Consumer<List<String>> check) {
        Path path = path(name);
        if (!Files.isReadable(path)) {
            String reason = absent(path);
            System.out.println(reason);
            return List.of(DynamicTest.dynamicTest(reason, () -> abort(reason)));
        }
        return rows(name).stream()
                .map(row -> DynamicTest.dynamicTest(String.join(",", row), () -> check.accept(row)))
                .toList();
    }

    /** The rows of a file below the header, quotes unwrapped. */
    public static List<List<String>> rows(String name) {
        return table(name).stream().map(List::of).toList();
    }

    /** The same as arrays, for columns of numbers. */
    public static List<String[]> table(String name) {
        try (var lines = Files.lines(file(name))) {
            return lines.skip(1)
                    .filter(line -> !line.isBlank())
                    .map(OpenData::cells)
                    .toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** One column of numbers. */
    public static double[] column(List<String[]> rows, int place) {
        return rows.stream().mapToDouble(row -> Double.parseDouble(row[place])).toArray();
    }

    private static Path path(String name) {
        return Path.of(System.getProperty("open.data", "../shared/data")).resolve(name);
    }

    private static String absent(Path path) {
        return "Skipped: the open data file " + path.getFileName() + " is not in "
                + path.toAbsolutePath().normalize().getParent()
                + "; name its folder with -Dopen.data=..., see docs for the source.";
    }

    private static String[] cells(String line) {
        String[] cells = line.split(",(?=(?:[^\"]*\"[^\"]*\")*[^\"]*$)", -1);
        for (int i = 0; i < cells.length; i++) {
            if (cells[i].length() > 1 && cells[i].startsWith("\"") && cells[i].endsWith("\"")) {
                cells[i] = cells[i].substring(1, cells[i].length() - 1);
            }
        }
        return cells;
    }
}
