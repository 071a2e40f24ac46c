package idlewright.reference;

import static org.junit.jupiter.api.Assumptions.abort;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.function.Consumer;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;

/** The open reference data that the project does not carry; a test that needs them says so when they are absent. */
public final class OpenData {

    private OpenData() {}

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
                    .toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static List<String> cells(String line) {
        return Stream.of(line.split(",(?=(?:[^\"]*\"[^\"]*\")*[^\"]*$)", -1))
                .map(cell -> cell.startsWith("\"") && cell.endsWith("\"") ? cell.substring(1, cell.length() - 1) : cell)
                .toList();
    }
}
