package idlewright.billing;

import idlewright.frame.Paper;
import idlewright.frame.rules.MovePicture;
import idlewright.intake.Knot.Figure;
import idlewright.intake.Knot.Scale;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * What a letter tells of the readings of one symptom: those that were not in order, before and after side by side, each once
 * in the whole letter. All others stay on the ticket and in the dossier.
 *
 * @param above headings under which readings stand already that bear on this symptom too
 */
public record BeforeAfter(List<Row> rows, List<String> above) {

    /** One reading on both sides; a side may not have been read. */
    public record Row(
            String label, @Nullable Figure before, @Nullable Figure after) {

        public String ground() {
            Figure held = after == null ? before : after;
            return held == null ? "" : held.ground();
        }

        /** The picture as the source of an image; null where there is no number or no limit. */
        public @Nullable String picture() {
            Scale then = before == null ? null : before.scale();
            Scale now = after == null ? null : after.scale();
            Scale either = now == null ? then : now;
            return either == null
                    ? null
                    : Paper.dataUri(
                            "image/png",
                            MovePicture.png(
                                    either.low(),
                                    either.high(),
                                    then == null ? null : then.value(),
                                    now == null ? null : now.value()));
        }

        /** The picture in words. */
        public String alt() {
            var said = new ArrayList<String>();
            if (before != null) said.add(before.shown() + " before: " + before.verdict());
            if (after != null) said.add(after.shown() + " after: " + after.verdict());
            return String.join("; ", said);
        }

        private boolean matters() {
            return before != null && !before.good() || after != null && !after.good();
        }
    }

    private record Key(String test, String label) {}

    /** By place, for a whole letter. */
    static Map<Integer, BeforeAfter> of(List<InvoiceView.Part> parts) {
        var told = new HashMap<Key, Map<Row, String>>();
        var all = new HashMap<Integer, BeforeAfter>();
        for (InvoiceView.Part part : parts) {
            var rows = new ArrayList<Row>();
            var above = new ArrayList<String>();
            side(part).forEach((key, row) -> {
                if (!row.matters()) {
                    return;
                }
                String earlier = told.computeIfAbsent(key, k -> new HashMap<>()).putIfAbsent(row, part.heading());
                if (earlier == null) {
                    rows.add(row);
                } else if (!above.contains(earlier)) {
                    above.add(earlier);
                }
            });
            all.put(part.place(), new BeforeAfter(rows, above));
        }
        return all;
    }

    /** The first reading before the repair that was not in order, else the latest; after it always the latest. */
    private static Map<Key, Row> side(InvoiceView.Part part) {
        var rows = new LinkedHashMap<Key, Row>();
        for (InvoiceView.Told told : part.story()) {
            for (Figure figure : told.figures()) {
                Key key = new Key(told.test(), figure.label());
                Row row = rows.getOrDefault(key, new Row(figure.label(), null, null));
                boolean keepsBefore =
                        figure.after() || row.before() != null && !row.before().good();
                rows.put(
                        key,
                        new Row(
                                figure.label(),
                                keepsBefore ? row.before() : figure,
                                figure.after() ? figure : row.after()));
            }
        }
        return rows;
    }
}
