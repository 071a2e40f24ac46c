package idlewright.frame.rules;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * Shares with their intervals, one line for each group; the picture is a table, so it needs no other.
 *
 * @param title what is shown
 * @param name what the groups are
 * @param rows the groups, in the order given
 * @param ticks ticks of the common axis, in per cent of the whole
 */
public record SharePlot(String title, String name, List<Row> rows, List<LinePlot.Tick> ticks) {

    /**
     * A group: {@code part} of {@code whole}, likely between two shares.
     *
     * @param link where the cases are listed, or null
     * @param at place of the share, null when the group is empty
     */
    public record Row(
            String name,
            @Nullable String link,
            long part,
            long whole,
            @Nullable String at,
            BandPlot.@Nullable Span likely,
            String words) {}

    private record Group(String name, @Nullable String link, long part, long whole, double low, double high) {}

    /** Starts a plot of groups called {@code name}, such as "Part". */
    public static Sketch titled(String title, String name) {
        return new Sketch(title, name);
    }

    /** Gathers the groups. */
    public static final class Sketch {
        private final String title;
        private final String name;
        private final List<Group> groups = new ArrayList<>();

        private Sketch(String title, String name) {
            this.title = title;
            this.name = name;
        }

        /** A group with its interval, shares between 0 and 1. */
        public Sketch group(String name, @Nullable String link, long part, long whole, double low, double high) {
            if (part < 0 || part > whole || low > high) {
                throw new IllegalArgumentException(name + ": " + part + " of " + whole + ", " + low + " to " + high);
            }
            groups.add(new Group(name, link, part, whole, low, high));
            return this;
        }

        /** The plot; its axis starts at zero and ends at a round share above the highest interval. */
        public SharePlot draw() {
            double top = groups.stream()
                    .mapToDouble(g -> Math.max(g.high, g.whole == 0 ? 0 : (double) g.part / g.whole))
                    .max()
                    .orElse(1);
            Axis rough = Axis.covering(0, Math.max(top, 0.01) * 100, 5);
            Axis axis = rough.to() > 100 ? new Axis(0, 100, rough.step()) : rough;
            return new SharePlot(
                    title,
                    name,
                    groups.stream().map(g -> row(g, axis)).toList(),
                    axis.ticks().stream()
                            .map(t -> new LinePlot.Tick(Axis.percent(axis.place(t)), axis.words(t) + " %"))
                            .toList());
        }

        private static Row row(Group g, Axis axis) {
            if (g.whole == 0) {
                return new Row(g.name, g.link, 0, 0, null, null, "no cases yet");
            }
            double share = 100.0 * g.part / g.whole;
            double a = axis.place(g.low * 100);
            double b = axis.place(g.high * 100);
            return new Row(
                    g.name,
                    g.link,
                    g.part,
                    g.whole,
                    Axis.percent(axis.place(share)),
                    new BandPlot.Span(Axis.percent(a), Axis.percent(b), Axis.percent(b - a)),
                    percent(share) + " %, likely " + percent(g.low * 100) + " to " + percent(g.high * 100) + " %");
        }

        private static String percent(double value) {
            return String.format(Locale.ROOT, value > 0 && value < 1 ? "%.1f" : "%.0f", value);
        }
    }
}
