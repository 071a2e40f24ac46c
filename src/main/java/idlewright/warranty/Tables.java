package idlewright.warranty;

import de.siegmar.fastcsv.writer.CsvWriter;
import de.siegmar.fastcsv.writer.LineDelimiter;
import idlewright.frame.rules.Cells;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;

/** Tables for spreadsheets: comma separated, UTF-8, no cell that calculates. */
final class Tables {

    private Tables() {}

    static byte[] csv(List<List<String>> rows) {
        var out = new StringWriter();
        try (var csv = CsvWriter.builder().lineDelimiter(LineDelimiter.CRLF).build(out)) {
            rows.forEach(row -> csv.writeRecord(row.stream().map(Cells::safe).toList()));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return out.toString().getBytes(StandardCharsets.UTF_8);
    }
}
