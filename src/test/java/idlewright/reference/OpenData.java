package idlewright.reference;

import static org.junit.jupiter.api.Assumptions.abort;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
<<<<<<< HEAD
=======
import java.util.function.Consumer;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
>>>>>>> units

/** The open reference data that the project does not carry; a test that needs them says so when they are absent. */
public final class OpenData {

    private OpenData() {}

<<<<<<< HEAD
    public static Path file(String name) {
        Path path = Path.of(System.getProperty("open.data", "../shared/data")).resolve(name);
        boolean there = Files.isReadable(path);
        if (!there) {
            System.out.println("Skipped: the open data file " + name + " is not in " + path.getParent()
                    + "; name its folder with -Dopen.data=..., see docs for the source.");
        }
        assumeTrue(there, () -> "open data file " + name + " is absent");
        return path;
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
=======
    /**
     * One test for each row of a file below its header. Without the file there is one skipped test that says why: a
     * factory that gives up by itself would leave no trace in the report.
     */
    public static List<DynamicTest> eachRow(String file, Consumer<List<String>> check) {
        Path path = Path.of(System.getProperty("open.data", "../shared/data")).resolve(file);
        if (!Files.isReadable(path)) {
            String reason = "The open data file " + file + " is not in "
                    + path.toAbsolutePath().normalize().getParent() + ": name its folder with -Dopen.data=...";
            System.out.println(reason);
            return List.of(DynamicTest.dynamicTest(reason, () -> abort(reason)));
        }
        try (Stream<String> lines = Files.lines(path)) {
            return lines.skip(1)
                    .filter(line -> !line.isBlank())
                    .map(line -> DynamicTest.dynamicTest(line, () -> check.accept(cells(line))))
>>>>>>> units
                    .toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

<<<<<<< HEAD
    /** One column of numbers. */
    public static double[] column(List<String[]> rows, int place) {
        return rows.stream().mapToDouble(row -> Double.parseDouble(row[place])).toArray();
    }

    private static String[] cells(String line) {
        String[] cells = line.split(",(?=(?:[^\"]*\"[^\"]*\")*[^\"]*$)", -1);
        for (int i = 0; i < cells.length; i++) {
            if (cells[i].length() > 1 && cells[i].startsWith("\"") && cells[i].endsWith("\"")) {
                cells[i] = cells[i].substring(1, cells[i].length() - 1);
            }
        }
        return cells;
=======
    private static List<String> cells(String line) {
        return Stream.of(line.split(",(?=(?:[^\"]*\"[^\"]*\")*[^\"]*$)", -1))
                .map(cell -> cell.startsWith("\"") && cell.endsWith("\"") ? cell.substring(1, cell.length() - 1) : cell)
                .toList();
>>>>>>> units
    }
}
