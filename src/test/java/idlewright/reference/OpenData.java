package idlewright.reference;

import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/** The open reference data that the project does not carry; a test that needs them says so when they are absent. */
public final class OpenData {

    private OpenData() {}

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
                    .toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

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
    }
}
