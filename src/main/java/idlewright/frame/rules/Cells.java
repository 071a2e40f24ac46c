package idlewright.frame.rules;

import de.siegmar.fastcsv.writer.CsvWriter;
import de.siegmar.fastcsv.writer.LineDelimiter;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/** Cells of a table that others open in a spreadsheet. */
public final class Cells {

    private static final Pattern NUMBER = Pattern.compile("[+-]?\\d+(\\.\\d+)?");

    private Cells() {}

    /** The text so that no spreadsheet calculates it; a plain number, also a negative one, stays a number. */
    public static String safe(@Nullable String text) {
        if (text == null || text.isEmpty() || NUMBER.matcher(text).matches()) {
            return text == null ? "" : text;
        }
        return "=+-@\t\r\n".indexOf(text.charAt(0)) >= 0 ? "'" + text : text;
    }

    /** A table as RFC 4180 writes it, UTF-8, every cell safe. */
    public static byte[] csv(List<? extends List<@Nullable String>> rows) {
        var out = new StringWriter();
        try (var csv = CsvWriter.builder().lineDelimiter(LineDelimiter.CRLF).build(out)) {
            rows.forEach(row -> csv.writeRecord(row.stream().map(Cells::safe).toList()));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return out.toString().getBytes(StandardCharsets.UTF_8);
    }
}
