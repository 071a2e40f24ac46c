package idlewright.reference.obd.log;

import idlewright.reference.units.Dimension;
import idlewright.reference.units.Unit;
import java.io.IOException;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * How a log is written, told from its first lines: delimiter, decimal mark, where header, units row and data begin, wide
 * form (a column per quantity) or long form (a row per value), and the time column.
 *
 * @param headerLine line number of the header, 0 when there is none
 * @param firstDataLine line number of the first data row
 * @param timeColumn index, or -1
 * @param timeScale seconds in one unit of a plain number in the time column
 * @param longForm null in wide form
 */
record Layout(
        char delimiter,
        char decimal,
        long headerLine,
        long firstDataLine,
        List<String> headers,
        List<String> units,
        int timeColumn,
        double timeScale,
        boolean timeUnitGuessed,
        @Nullable LongForm longForm) {

    /** Column indexes of a log with one value per row; units is -1 when there is no such column. */
    record LongForm(int name, int value, int units) {}

    private record Sampled(long number, List<String> cells) {}

    private static final int SAMPLE_LINES = 400;
    private static final Set<String> NAME_WORDS =
            Set.of("pid", "name", "parameter", "signal", "sensor", "item", "quantity", "channel", "measurement", "key");
    private static final Set<String> VALUE_WORDS = Set.of("value", "reading", "val", "wert", "valeur", "valor");
    private static final Set<String> UNIT_WORDS = Set.of("unit", "units", "uom", "einheit", "unite", "unidad");

    /** Null when the text is no table. */
    static @Nullable Layout of(String head, Map<String, LogQuantity> overrides) {
        char delimiter = delimiter(head);
        List<Sampled> sample = sample(head, delimiter);
        char decimal = decimal(sample);
        int usual = usualCount(sample);
        int data = firstData(sample, usual, decimal);
        if (data < 0) {
            return null;
        }
        int headerAt = data - 1;
        List<String> units = List.of();
        if (headerAt >= 1
                && isUnitsRow(sample.get(headerAt).cells())
                && isHeader(sample.get(headerAt - 1).cells(), usual, decimal)) {
            units = sample.get(headerAt).cells();
            headerAt--;
        }
        boolean headed = headerAt >= 0 && isHeader(sample.get(headerAt).cells(), usual, decimal);
        List<String> headers = headed
                ? sample.get(headerAt).cells()
                : numbered(sample.get(data).cells().size());
        List<List<String>> rows = new ArrayList<>();
        for (Sampled line : sample.subList(data, sample.size())) {
            rows.add(line.cells());
        }
        LongForm longForm = longForm(headers, rows, decimal);
        int time = timeColumn(headers, units, rows, decimal, overrides);
        double scale = 1;
        boolean guessed = false;
        if (time >= 0) {
            Headers.Match match = Headers.match(headers.get(time), cell(units, time));
            Unit unit = match.unit();
            if (unit != null && unit.dimension() == Dimension.TIME) {
                scale = unit.toSi(1.0);
            } else {
                scale = guessedScale(rows, time, decimal);
                guessed = scale != 1;
            }
        }
        return new Layout(
                delimiter,
                decimal,
                headed ? sample.get(headerAt).number() : 0,
                sample.get(data).number(),
                headers,
                units,
                time,
                scale,
                guessed,
                longForm);
    }

    private static char delimiter(String head) {
        char best = ',';
        double bestScore = 0;
        for (char candidate : new char[] {'\t', ';', '|', ','}) {
            List<Sampled> sample = sample(head, candidate);
            int usual = usualCount(sample);
            if (usual < 2) {
                continue;
            }
            double alike = 0;
            for (Sampled line : sample) {
                alike += line.cells().size() == usual ? 1 : 0;
            }
            // Decimal commas also split evenly, so a comma has to be clearly better.
            double score = alike / sample.size() * (candidate == ',' ? 0.7 : 1);
            if (score > bestScore + 1e-9) {
                best = candidate;
                bestScore = score;
            }
        }
        return best;
    }

    private static List<Sampled> sample(String head, char delimiter) {
        Lines lines = new Lines(new StringReader(head), Math.min(Lines.LONGEST, head.length()));
        Fields fields = new Fields(delimiter);
        List<Sampled> sample = new ArrayList<>();
        try {
            while (sample.size() < SAMPLE_LINES && lines.advance()) {
                if (lines.tooLong) {
                    continue;
                }
                fields.split(lines.text, lines.from, lines.to);
                List<String> cells = new ArrayList<>(fields.count);
                boolean blank = true;
                for (int i = 0; i < fields.count; i++) {
                    String cell = fields.text(lines.text, i);
                    cells.add(cell);
                    blank &= cell.isEmpty();
                }
                if (!blank && !fields.tooMany) {
                    sample.add(new Sampled(lines.number, List.copyOf(cells)));
                }
            }
        } catch (IOException impossible) {
            throw new UncheckedIOException(impossible);
        }
        return sample;
    }

    /** The most frequent number of fields; preamble lines are few. */
    private static int usualCount(List<Sampled> sample) {
        Map<Integer, Integer> counts = new HashMap<>();
        for (Sampled line : sample) {
            counts.merge(line.cells().size(), 1, Integer::sum);
        }
        return counts.entrySet().stream()
                .max(Map.Entry.<Integer, Integer>comparingByValue().thenComparing(Map.Entry.comparingByKey()))
                .map(Map.Entry::getKey)
                .orElse(0);
    }

    private static char decimal(List<Sampled> sample) {
        int commas = 0;
        int points = 0;
        for (Sampled line : sample) {
            for (String cell : line.cells()) {
                if (cell.length() <= 24 && cell.matches("[-+]?\\d+,\\d+")) {
                    commas++;
                } else if (cell.length() <= 24 && cell.matches("[-+]?\\d+\\.\\d+")) {
                    points++;
                }
            }
        }
        return commas > points ? ',' : '.';
    }

    private static int firstData(List<Sampled> sample, int usual, char decimal) {
        for (int i = 0; i < sample.size(); i++) {
            if (isData(sample.get(i).cells(), usual, decimal) && goesOn(sample, i, usual, decimal)) {
                return i;
            }
        }
        return -1;
    }

    /** Mostly data in the next lines, broken ones among them, and no header still to come. */
    private static boolean goesOn(List<Sampled> sample, int from, int usual, char decimal) {
        int to = Math.min(from + 8, sample.size());
        int data = 0;
        for (int i = from; i < to; i++) {
            List<String> cells = sample.get(i).cells();
            data += isData(cells, usual, decimal) ? 1 : 0;
            boolean allText = isHeader(cells, usual, decimal)
                    && cells.stream().noneMatch(cell -> kind(cell, decimal) == Cells.NUMBER);
            if (allText && i + 1 < sample.size() && isData(sample.get(i + 1).cells(), usual, decimal)) {
                return false;
            }
        }
        return data * 2 >= to - from;
    }

    private static boolean isData(List<String> cells, int usual, char decimal) {
        if (cells.size() < Math.max(2, usual * 0.6)) {
            return false;
        }
        int numbers = 0;
        int nothings = 0;
        for (String cell : cells) {
            byte kind = kind(cell, decimal);
            numbers += kind == Cells.NUMBER ? 1 : 0;
            nothings += kind == Cells.NOTHING ? 1 : 0;
        }
        return numbers >= 1 && numbers + nothings >= cells.size() * 0.5;
    }

    private static boolean isHeader(List<String> cells, int usual, char decimal) {
        int texts = 0;
        int numbers = 0;
        for (String cell : cells) {
            byte kind = kind(cell, decimal);
            texts += kind == Cells.TEXT ? 1 : 0;
            numbers += kind == Cells.NUMBER ? 1 : 0;
        }
        return cells.size() >= Math.max(2, usual * 0.6) && texts >= 1 && texts >= numbers;
    }

    private static boolean isUnitsRow(List<String> cells) {
        int units = 0;
        int filled = 0;
        for (String cell : cells) {
            if (cell.isEmpty()) {
                continue;
            }
            filled++;
            units += Unit.of(bare(cell)).isPresent() || cell.length() <= 2 ? 1 : 0;
        }
        return filled > 0 && units >= Math.max(1, filled * 0.6);
    }

    private static byte kind(String cell, char decimal) {
        char[] text = cell.toCharArray();
        Cells cells = new Cells(decimal);
        cells.read(text, 0, text.length);
        return cells.outcome == Cells.TEXT && text.length <= 40 && !Double.isNaN(Clock.ofClock(text, 0, text.length))
                ? Cells.NUMBER
                : cells.outcome;
    }

    private static List<String> numbered(int columns) {
        List<String> names = new ArrayList<>(columns);
        for (int i = 1; i <= columns; i++) {
            names.add("column " + i);
        }
        return names;
    }

    /** Name and value columns, named so in the header, with text and numbers in them. */
    private static @Nullable LongForm longForm(List<String> headers, List<List<String>> rows, char decimal) {
        if (headers.size() > 8) {
            return null;
        }
        int name = named(headers, NAME_WORDS);
        int value = named(headers, VALUE_WORDS);
        if (name < 0 || value < 0 || name == value) {
            return null;
        }
        int texts = 0;
        int numbers = 0;
        for (List<String> row : rows) {
            texts += kind(cell(row, name), decimal) == Cells.TEXT
                            || Headers.match(cell(row, name), "").confidence() > 0
                    ? 1
                    : 0;
            numbers += kind(cell(row, value), decimal) == Cells.TEXT ? 0 : 1;
        }
        boolean fits = texts > rows.size() * 0.7 && numbers > rows.size() * 0.5;
        return fits ? new LongForm(name, value, named(headers, UNIT_WORDS)) : null;
    }

    private static int named(List<String> headers, Set<String> wanted) {
        for (int i = 0; i < headers.size(); i++) {
            if (!Collections.disjoint(Headers.words(headers.get(i)), wanted)) {
                return i;
            }
        }
        return -1;
    }

    private static int timeColumn(
            List<String> headers,
            List<String> units,
            List<List<String>> rows,
            char decimal,
            Map<String, LogQuantity> overrides) {
        int best = -1;
        double bestScore = 0;
        for (int i = 0; i < headers.size(); i++) {
            LogQuantity said = overrides.get(headers.get(i).toLowerCase(Locale.ROOT));
            if (said == LogQuantity.TIME) {
                return i;
            }
            Headers.Match match = Headers.match(headers.get(i), cell(units, i));
            boolean mayBe = match.quantity() == LogQuantity.TIME || match.quantity() == LogQuantity.RUN_TIME;
            if (said != null || !mayBe) {
                continue;
            }
            double score = match.confidence() * (match.quantity() == LogQuantity.TIME ? 1 : 0.5);
            // A column that does not move (a date, a zero) tells no time.
            double[] times = times(rows, i, decimal);
            if (times.length == 0 || times.length > 1 && times[times.length - 1] == times[0]) {
                score *= 0.2;
            }
            if (score > bestScore) {
                best = i;
                bestScore = score;
            }
        }
        if (best < 0
                && !headers.isEmpty()
                && !overrides.containsKey(headers.get(0).toLowerCase(Locale.ROOT))
                && Headers.match(headers.get(0), cell(units, 0)).confidence() < Headers.SURE_ENOUGH
                && rises(times(rows, 0, decimal))) {
            best = 0;
        }
        return best;
    }

    private static boolean rises(double[] times) {
        if (times.length < 3 || times[times.length - 1] == times[0]) {
            return false;
        }
        for (int i = 1; i < times.length; i++) {
            if (times[i] < times[i - 1]) {
                return false;
            }
        }
        return true;
    }

    private static double[] times(List<List<String>> rows, int column, char decimal) {
        Clock clock = new Clock(decimal, 1);
        double[] times = new double[rows.size()];
        int n = 0;
        for (List<String> row : rows) {
            char[] text = cell(row, column).toCharArray();
            double time = clock.read(text, 0, text.length);
            if (!Double.isNaN(time)) {
                times[n++] = time;
            }
        }
        return Arrays.copyOf(times, n);
    }

    /** Epoch or steps of 50 and more in whole numbers are milliseconds: no tool waits a minute for each row. */
    private static double guessedScale(List<List<String>> rows, int column, char decimal) {
        double[] times = times(rows, column, decimal);
        if (times.length < 2) {
            return 1;
        }
        boolean clock = cell(rows.get(0), column).indexOf(':') >= 0;
        if (clock) {
            return 1;
        }
        if (times[0] > 1e17) {
            return 1e-9;
        }
        if (times[0] > 1e14) {
            return 1e-6;
        }
        if (times[0] > 1e11) {
            return 1e-3;
        }
        boolean whole = true;
        double[] steps = new double[times.length - 1];
        int n = 0;
        for (int i = 1; i < times.length; i++) {
            whole &= times[i] == Math.rint(times[i]);
            if (times[i] > times[i - 1]) {
                steps[n++] = times[i] - times[i - 1];
            }
        }
        if (n == 0) {
            return 1;
        }
        Arrays.sort(steps, 0, n);
        return whole && steps[n / 2] >= 35 ? 1e-3 : 1;
    }

    static String cell(List<String> cells, int column) {
        return column >= 0 && column < cells.size() ? bare(cells.get(column)) : "";
    }

    /** "(rpm)" and "[rpm]" in a units row mean rpm. */
    private static String bare(String cell) {
        return cell.length() > 2 && "([{".indexOf(cell.charAt(0)) >= 0
                ? cell.substring(1, cell.length() - 1).strip()
                : cell;
    }
}
