package idlewright.bench.rules;

import idlewright.reference.units.Typed;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/**
 * A recorded series: a signal over time, engine speed or pedal, in the order it was recorded.
 *
 * @param across what the x values are: "time", "engine speed"
 * @param acrossUnit unit of x
 * @param up what the y values are
 * @param upUnit unit of y, may be empty
 */
public record Series(String across, String acrossUnit, String up, String upUnit, double[] x, double[] y) {
    /** More than a scope or a spreadsheet gives for one sweep. */
    public static final int MOST_POINTS = 20_000;

    public Series {
        if (x.length != y.length) throw new Refusal("Each point of a series needs two values.");
        x = x.clone();
        y = y.clone();
    }

    @Override
    public double[] x() {
        return x.clone();
    }

    @Override
    public double[] y() {
        return y.clone();
    }

    public int size() {
        return x.length;
    }

    /**
     * Two columns as copied from a spreadsheet: parted by tab, semicolon, or by comma where the decimals have a point; a
     * first line of words is taken for the heading. Further columns are left out.
     *
     * @throws Refusal naming the first line that cannot be understood
     */
    public static Series pasted(String text, String across, String acrossUnit, String up, String upUnit) {
        var xs = new ArrayList<Double>();
        var ys = new ArrayList<Double>();
        String[] lines = text.split("\\R");
        for (int i = 0; i < lines.length; i++) {
            String line = lines[i].strip();
            if (line.isEmpty()) continue;
            List<String> cells = cells(line);
            try {
                if (cells.size() < 2) throw new IllegalArgumentException();
                double x = Typed.number(cells.get(0)).doubleValue();
                double y = Typed.number(cells.get(1)).doubleValue();
                xs.add(x);
                ys.add(y);
            } catch (IllegalArgumentException notTwoNumbers) {
                if (xs.isEmpty() && line.codePoints().anyMatch(Character::isLetter)) continue;
                throw new Refusal("Line " + (i + 1) + ", \u201c" + (line.length() > 40 ? line.substring(0, 40) : line)
                        + "\u201d, is not two numbers: paste two columns, like 0.5 and 1.32.");
            }
            if (xs.size() > MOST_POINTS) {
                throw new Refusal(
                        String.format(Locale.ROOT, "That is more than %,d points: paste one sweep.", MOST_POINTS));
            }
        }
        if (xs.size() < 2) throw new Refusal("Paste two columns of numbers: where it was read, and what was read.");
        return new Series(across, acrossUnit, up, upUnit, plain(xs), plain(ys));
    }

    private static List<String> cells(String line) {
        String parted = line.indexOf('\t') >= 0
                ? "\t+"
                : line.indexOf(';') >= 0
                        ? ";"
                        : line.matches(".*[,;]\\s+.*") || line.indexOf('.') >= 0 ? ",\\s*|\\s+" : "\\s+";
        List<String> cells = Arrays.stream(line.split(parted))
                .map(String::strip)
                .filter(cell -> !cell.isEmpty())
                .toList();
        // "1,2" of whole numbers: the only comma parts two columns.
        return cells.size() == 1 && line.indexOf(',') == line.lastIndexOf(',') && line.indexOf(',') > 0
                ? Arrays.asList(line.split(","))
                : cells;
    }

    private static double[] plain(List<Double> values) {
        return values.stream().mapToDouble(Double::doubleValue).toArray();
    }
}
