package idlewright.billing.rules;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.function.BiPredicate;
import org.jspecify.annotations.Nullable;

/** What a newer estimate says otherwise than the former: a line more, a line less, or one with another amount. */
public record Change(@Nullable Line before, @Nullable Line after) {

    /** The changes in the order of the newer lines, then what was left out; none when both say the same. */
    public static List<Change> between(List<Line> before, List<Line> after) {
        var left = new ArrayList<Line>(before);
        var fresh = new ArrayList<Line>(after);
        fresh.removeIf(line -> take(left, line, Change::same) != null);
        var changes = new ArrayList<Change>();
        for (Line line : fresh) {
            changes.add(new Change(take(left, line, Change::alike), line));
        }
        left.forEach(line -> changes.add(new Change(line, null)));
        return changes;
    }

    public int place() {
        return Objects.requireNonNull(after == null ? before : after).place();
    }

    public String words() {
        if (after == null) {
            return "Left out: " + said(Objects.requireNonNull(before));
        }
        if (before == null) {
            return "Added: " + said(after);
        }
        return "Changed: %s, was %s, %s"
                .formatted(said(after), before.quantityText(), before.net().text());
    }

    private static String said(Line line) {
        return "%s: %s, %s, %s"
                .formatted(
                        line.kind().words(),
                        line.what(),
                        line.quantityText(),
                        line.net().text());
    }

    private static @Nullable Line take(List<Line> from, Line wanted, BiPredicate<Line, Line> fits) {
        for (Line line : from) {
            if (fits.test(line, wanted)) {
                from.remove(line);
                return line;
            }
        }
        return null;
    }

    private static boolean alike(Line one, Line other) {
        return one.place() == other.place()
                && one.kind() == other.kind()
                && one.what().equals(other.what());
    }

    private static boolean same(Line one, Line other) {
        return alike(one, other)
                && one.quantity().compareTo(other.quantity()) == 0
                && one.each().equals(other.each())
                && Objects.equals(one.partNumber(), other.partNumber());
    }
}
