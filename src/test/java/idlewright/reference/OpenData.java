package idlewright.reference;

import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/** The open reference data, which the project does not carry: a test that needs it is skipped aloud where it is absent. */
public final class OpenData {

    private OpenData() {}

    /** The rows of a file without its heading, split at the commas. */
    public static List<String[]> rows(String name) {
        Path file = Path.of(System.getProperty("open.data", "../shared/data"), name);
        boolean there = Files.isReadable(file);
        if (!there) {
            System.out.println("Open data " + file + " is absent: the test that holds against it is skipped.");
        }
        assumeTrue(there, () -> "open data " + file + " is absent");
        try (var lines = Files.lines(file)) {
            return lines.skip(1).map(line -> line.split(",", -1)).toList();
        } catch (IOException broken) {
            throw new UncheckedIOException(broken);
        }
    }

    /** One column of numbers. */
    public static double[] column(List<String[]> rows, int place) {
        return rows.stream().mapToDouble(row -> Double.parseDouble(row[place])).toArray();
    }
}
