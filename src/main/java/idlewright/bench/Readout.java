package idlewright.bench;

import idlewright.bench.MeasurementReads.Row;
import idlewright.bench.MeasurementReads.Sheet;
import idlewright.bench.Yardsticks.Held;
import idlewright.bench.model.KeptReading;
import idlewright.bench.rules.KnownGood;
import idlewright.bench.rules.Limit;
import idlewright.bench.rules.Outcome;
import idlewright.bench.rules.OutcomeGroup;
import idlewright.bench.rules.Point;
import idlewright.bench.rules.PointResult;
import idlewright.bench.rules.Procedure;
import idlewright.bench.rules.Readings;
import idlewright.bench.rules.SeriesMark;
import idlewright.bench.rules.TestResult;
import idlewright.frame.Times;
import idlewright.frame.rules.BandPlot;
import idlewright.intake.VehicleView;
import idlewright.reference.codes.CodeBook;
import idlewright.reference.codes.TroubleCode;
import idlewright.reference.units.Typed;
import idlewright.reference.units.Unit;
import java.math.BigDecimal;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Tells what kept readings mean: judged anew from the rows, with the limits that stood when the test ended. */
@Component
class Readout {

    /** One test with what it showed; the result is null where the catalogue no longer has the procedure. */
    record Told(Row row, List<KeptReading> kept, @Nullable TestResult result, MeasurementView view) {

        /** When the last of it was read. */
        Instant taken() {
            return kept.stream().map(KeptReading::at).max(Instant::compareTo).orElse(row.startedAt());
        }
    }

    private final Clock clock;
    private final Times times;

    Readout(Clock clock, Times times) {
        this.clock = clock;
        this.times = times;
    }

    /** Every test of a sheet. */
    List<Told> tell(Sheet sheet) {
        return sheet.tests().stream().map(test -> tell(sheet, test)).toList();
    }

    Told tell(Sheet sheet, Row test) {
        return tell(sheet, test, sheet.kept(test));
    }

    /** As {@link #tell(Sheet, Row)}, with a reading that is not kept yet. */
    Told tellWith(Sheet sheet, Row test, KeptReading draft) {
        var kept = new ArrayList<>(sheet.kept(test));
        kept.removeIf(each -> draft.replaces() != null && each.id() == draft.replaces());
        kept.add(draft);
        return tell(sheet, test, kept);
    }

    private Told tell(Sheet sheet, Row row, List<KeptReading> kept) {
        VehicleView vehicle = sheet.vehicle();
        Procedure procedure = sheet.procedure(row).orElse(null);
        if (procedure == null) {
            return new Told(row, kept, null, view(row, null, kept, List.of(), List.of(), List.of()));
        }
        Instant moment = row.finishedAt() == null
                ? clock.instant()
                : kept.stream()
                        .map(KeptReading::at)
                        .filter(row.finishedAt()::isBefore)
                        .max(Instant::compareTo)
                        .orElse(row.finishedAt());
        Held held = sheet.yardstick().at(procedure, row.id(), kept, row.conditions(), moment);
        TestResult result = procedure.read(readings(procedure, kept, row), Cars.facts(vehicle), held.limits());
        List<ReadingView> views = new ArrayList<>();
        var told = new HashSet<Long>();
        for (PointResult point : result.points()) {
            Optional<KeptReading> of = kept.stream()
                    .filter(each ->
                            each.counts() && each.point().equals(point.point().key()) && each.spot() == point.place())
                    .findFirst();
            of.ifPresent(each -> told.add(each.id()));
            ReadingView seen =
                    view(point, of.orElse(null), held.good().get(point.point().key()));
            views.add(row.procedure().equals("load") ? ToolLoads.beside(seen, row, sheet) : seen);
        }
        // What the procedure no longer asks for still stands as it stood.
        kept.stream()
                .filter(each -> each.counts() && !told.contains(each.id()))
                .forEach(each -> views.add(asItStood(each, each.point(), null)));
        return new Told(
                row, kept, result, view(row, procedure, kept, views, news(procedure, result), result.missing()));
    }

    /** What is out of the usual; where nothing is, that it is usual, unless that were a long list. */
    private static List<String> news(Procedure procedure, TestResult result) {
        var news = new ArrayList<String>();
        var usual = new ArrayList<String>();
        for (OutcomeGroup group : procedure.groups()) {
            double most =
                    group.outcomes().stream().mapToDouble(Outcome::usual).max().orElse(0);
            group.outcomes().stream()
                    .filter(result.outcomes()::contains)
                    .forEach(outcome -> (outcome.usual() < most ? news : usual).add(outcome.told(result)));
        }
        return news.isEmpty() && usual.size() <= 3 ? usual : news;
    }

    private static Readings readings(Procedure procedure, List<KeptReading> kept, Row row) {
        Readings readings = Readings.none();
        for (KeptReading each : kept) {
            Point point = procedure.point(each.point()).orElse(null);
            if (!each.counts() || point == null || point.isDerived() || point.kind() != each.kind()) {
                continue;
            }
            readings = switch (each.kind()) {
                case NUMBER -> {
                    Unit unit = each.unit();
                    yield unit == null
                                    || each.value() == null
                                    || unit.dimension() != point.unit().dimension()
                            ? readings
                            : readings.number(
                                    each.point(),
                                    each.spot(),
                                    each.value().doubleValue(),
                                    unit,
                                    each.accuracy().notFinerThan(row.lastDigit(unit)));
                }
                case CHOICE ->
                    point.choice(each.seen().get(0)).isPresent()
                            ? readings.choice(
                                    each.point(), each.spot(), each.seen().get(0))
                            : readings;
                case CODES -> readings.codes(each.point(), new HashSet<>(each.seen()));
                case SERIES ->
                    readings.series(
                            each.point(),
                            each.seen().stream().map(SeriesMark::valueOf).collect(Collectors.toSet()));
            };
        }
        return readings;
    }

    private MeasurementView view(
            Row row,
            @Nullable Procedure procedure,
            List<KeptReading> kept,
            List<ReadingView> readings,
            List<String> outcomes,
            List<String> missing) {
        List<ReadingView> struck = kept.stream()
                .filter(each -> !each.counts())
                .map(each -> asItStood(
                        each,
                        procedure == null
                                ? each.point()
                                : procedure
                                        .point(each.point())
                                        .map(point -> point.labelAt(each.spot()))
                                        .orElse(each.point()),
                        kept.stream()
                                .filter(later -> Long.valueOf(each.id()).equals(later.replaces()))
                                .findFirst()
                                .orElse(null)))
                .toList();
        return new MeasurementView(
                row.id(),
                row.ticket(),
                row.places(),
                row.procedure(),
                row.procedureVersion(),
                procedure == null ? row.procedure() : procedure.name(),
                row.after(),
                row.technician(),
                row.startedAt(),
                row.finishedAt(),
                row.conditions(),
                row.probes(),
                row.instrument(),
                remark(row, procedure),
                readings,
                struck,
                outcomes,
                missing);
    }

    private String remark(Row row, @Nullable Procedure procedure) {
        var remarks = new ArrayList<String>();
        LocalDate due = row.calibrationDue();
        if (due != null && due.isBefore(LocalDate.ofInstant(row.startedAt(), times.zone()))) {
            remarks.add("The calibration of this instrument was due on " + times.day(due) + ".");
        }
        if (procedure == null) {
            remarks.add("The catalogue no longer has this procedure: its readings stand as they were judged.");
        } else if (procedure.version() != row.procedureVersion()) {
            remarks.add("The procedure has changed since: this is how it is read today.");
        }
        return String.join(" ", remarks);
    }

    private static ReadingView view(PointResult result, @Nullable KeptReading kept, double @Nullable [] good) {
        Point point = result.point();
        Limit limit = result.judged().limit();
        BigDecimal value = kept != null && kept.value() != null ? kept.value() : result.figure();
        Unit unit = result.unit();
        String figure = value == null ? null : value.toPlainString();
        String shown = figure == null || unit == null
                ? kept != null
                                && kept.kind() == Point.Kind.CODES
                                && !kept.seen().isEmpty()
                        ? String.join(", ", kept.seen())
                        : result.shown()
                : (figure + " " + unit.symbol()).strip();
        return new ReadingView(
                kept == null ? 0 : kept.id(),
                point.key(),
                result.place(),
                result.label(),
                shown,
                value,
                unit,
                written(kept),
                result.judged().verdict(),
                result.judged().side(),
                result.doubt().isPresent() ? "" : ground(limit, unit, good),
                result.judged().reason().replaceFirst(Pattern.quote(result.shown()), Matcher.quoteReplacement(shown)),
                result.meaning(),
                note(result, kept),
                value == null || unit == null ? null : band(result, value, unit, good),
                kept == null || kept.series() == null ? null : Sweeps.curve(kept.series()),
                kept == null ? null : kept.at(),
                kept == null ? null : kept.who(),
                null);
    }

    private static boolean written(@Nullable KeptReading kept) {
        return kept != null && kept.value() != null && Typed.namesUnit(kept.typed());
    }

    private static String ground(@Nullable Limit limit, @Nullable Unit unit, double @Nullable [] good) {
        if (limit != null) {
            return (unit == null ? limit.words() : limit.wordsIn(unit)) + ": " + limit.groundWords();
        }
        return good == null || good.length >= KnownGood.ENOUGH
                ? ""
                : KnownGood.band(good).words();
    }

    private static String note(PointResult result, @Nullable KeptReading kept) {
        var notes = new ArrayList<String>();
        if (kept != null && kept.note() != null) {
            notes.add(kept.note());
        }
        if (!result.remark().isEmpty() && (kept == null || !result.remark().equals(kept.note()))) {
            notes.add(sentence(result.remark()));
        }
        if (kept != null && kept.confirmed()) {
            notes.add("Asked about when it was typed, and confirmed.");
        }
        if (kept != null && kept.kind() == Point.Kind.CODES) {
            kept.seen()
                    .forEach(code -> notes.add(code + ": "
                            + TroubleCode.find(code)
                                    .map(each -> CodeBook.explain(each).meaning())
                                    .orElse("no trouble code")
                            + "."));
        }
        if (kept != null && kept.series() != null) {
            notes.add(Sweeps.words(kept.series()));
        }
        return String.join(" ", notes);
    }

    private static String sentence(String words) {
        return Character.toUpperCase(words.charAt(0)) + words.substring(1) + (words.endsWith(".") ? "" : ".");
    }

    private static BandPlot band(PointResult result, BigDecimal value, Unit unit, double @Nullable [] good) {
        Point point = result.point();
        Limit limit = result.judged().limit();
        BandPlot.Sketch sketch = BandPlot.in(unit.symbol())
                .value(value.doubleValue(), value.toPlainString())
                .uncertainty(result.judged().uncertainty())
                .verdict(result.judged().verdict());
        if (limit != null) {
            sketch.limits(limit.in(unit).low(), limit.in(unit).high());
        } else if (point.usual() != null) {
            sketch.usual(
                    in(unit, point.unit(), point.usual().low()),
                    in(unit, point.unit(), point.usual().high()));
        }
        if (good != null) {
            double[] dots = good.clone();
            for (int i = 0; i < dots.length; i++) {
                dots[i] = unit.fromSi(point.unit().toSi(dots[i]));
            }
            sketch.good(dots);
        }
        return sketch.draw();
    }

    private static @Nullable Double in(Unit shown, Unit kept, @Nullable Double value) {
        return value == null ? null : shown == kept ? value : Double.valueOf(shown.fromSi(kept.toSi(value)));
    }

    private static ReadingView asItStood(KeptReading kept, String label, @Nullable KeptReading correction) {
        String shown = kept.value() == null
                ? kept.kind() == Point.Kind.SERIES ? "a series" : kept.typed()
                : (kept.value().toPlainString() + " "
                                + java.util.Objects.requireNonNull(kept.unit()).symbol())
                        .strip();
        return new ReadingView(
                kept.id(),
                kept.point(),
                kept.spot(),
                label,
                shown,
                kept.value(),
                kept.unit(),
                written(kept),
                kept.stood().verdict(),
                kept.stood().side(),
                kept.stood().ground() == null ? "" : kept.stood().ground(),
                kept.stood().reason(),
                "",
                kept.note() == null ? "" : kept.note(),
                null,
                null,
                kept.at(),
                kept.who(),
                correction == null ? null : correction.who() + ": " + correction.replaceReason());
    }
}
