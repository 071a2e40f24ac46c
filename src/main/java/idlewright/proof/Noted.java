package idlewright.proof;

import idlewright.bench.MeasurementView;
import idlewright.bench.ReadingView;
import idlewright.proof.ProofView.Told;
import idlewright.proof.ProofView.Word;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.function.Predicate;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/** What the vehicle says of itself, codes and monitors, before the repair and after it, whatever was found. */
final class Noted {
    private static final Pattern CODE = Pattern.compile("[PCBU][0-9A-F]{4}");

    private static final List<String> KINDS = List.of("stored", "pending", "permanent");

    static final String MONITORS = "monitors";
    static final String NOT_READY = "not-ready";

    private Noted() {}

    /** One row for each point; those nobody has read on either side only where a repair is not proved without them. */
    static List<Told> rows(List<MeasurementView> tests, Instant mendedAt) {
        var rows = new ArrayList<Told>();
        row("stored", "Stored codes", tests, mendedAt, true, rows);
        row("pending", "Pending codes", tests, mendedAt, false, rows);
        row("permanent", "Permanent codes", tests, mendedAt, false, rows);
        row(MONITORS, "Monitors", tests, mendedAt, true, rows);
        row(NOT_READY, "Monitors not ready", tests, mendedAt, true, rows);
        return rows;
    }

    private static void row(
            String point,
            String label,
            List<MeasurementView> tests,
            Instant mendedAt,
            boolean always,
            List<Told> rows) {
        Word before = latest(point, tests, test -> !test.after());
        Word after =
                latest(point, tests, test -> test.after() && !test.startedAt().isBefore(mendedAt));
        if (always || before != null || after != null) rows.add(new Told(point, label, before, after));
    }

    private static @Nullable Word latest(String point, List<MeasurementView> tests, Predicate<MeasurementView> side) {
        return tests.stream()
                .filter(side)
                .filter(test ->
                        test.procedure().equals("codes") || test.procedure().equals("relearn"))
                .sorted(Comparator.comparing(MeasurementView::startedAt).reversed())
                .flatMap(test -> test.readings().stream()
                        .filter(reading -> reading.point().equals(point))
                        .map(reading -> new Word(test.id(), test.startedAt(), reading.shown())))
                .findFirst()
                .orElse(null);
    }

    /** The codes any test before the repair has read, each with how it stood: "P0171 stored and permanent, P0300 pending". */
    static String codes(List<MeasurementView> tests) {
        var kinds = new LinkedHashMap<String, List<String>>();
        KINDS.forEach(kind -> tests.stream()
                .filter(test -> !test.after() && test.procedure().equals("codes"))
                .flatMap(test -> test.readings().stream())
                .filter(reading -> reading.point().equals(kind))
                .map(ReadingView::shown)
                .flatMap(shown -> CODE.matcher(shown).results())
                .map(MatchResult::group)
                .distinct()
                .forEach(code ->
                        kinds.computeIfAbsent(code, each -> new ArrayList<>()).add(kind)));
        return kinds.entrySet().stream()
                .map(each -> each.getKey() + " " + String.join(" and ", each.getValue()))
                .collect(Collectors.joining(", "));
    }
}
