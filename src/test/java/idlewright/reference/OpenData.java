package idlewright.reference;

import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Collectors;

/** The open reference data that the project does not carry; a test that needs them says so when they are absent. */
public final class OpenData {

    private OpenData() {}

    /** The rows of a file below the header, quotes unwrapped. */
    public static List<List<String>> rows(String file) {
        Path path = Path.of(System.getProperty("open.data", "../shared/data")).resolve(file);
        assumeTrue(
                Files.isReadable(path),
                () -> "The open data file " + file + " is not in " + path.getParent()
                        + ": name its folder with -Dopen.data=..., see docs for the source.");
        try (var lines = Files.lines(path)) {
            return lines.skip(1)
                    .filter(line -> !line.isBlank())
                    .map(OpenData::cells)
                    .collect(Collectors.toList());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static List<String> cells(String line) {
        return List.of(line.split(",(?=(?:[^\"]*\"[^\"]*\")*[^\"]*$)", -1)).stream()
                .map(cell -> cell.startsWith("\"") && cell.endsWith("\"") ? cell.substring(1, cell.length() - 1) : cell)
                .toList();
    }
}
