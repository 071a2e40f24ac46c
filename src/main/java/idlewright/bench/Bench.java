package idlewright.bench;

import idlewright.bench.MeasurementReads.Row;
import idlewright.bench.MeasurementReads.Sheet;
import idlewright.bench.Readout.Told;
import idlewright.bench.model.KeptReading;
import idlewright.bench.model.Measurement;
import idlewright.bench.model.MeasurementRows;
import idlewright.bench.model.ReadingRows;
import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.NextTest;
import idlewright.bench.rules.Procedure;
import idlewright.bench.rules.Ranking;
import idlewright.bench.rules.Series;
import idlewright.bench.rules.TestResult;
import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Stale;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.journal.Journal;
import idlewright.people.People;
import java.time.Clock;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The front door of the workbench: tests are started, readings kept and corrected; causes ranked, the next test named. */
@Component
@Transactional
public class Bench {

    /**
     * One reading as it comes in.
     *
     * @param spot bank or cylinder from 1, 0 where the point is read once
     * @param typed a number, the key of a choice, trouble codes ("none" for none), or two pasted columns
     * @param unit symbol of the unit; null for the one the point is mostly read in
     * @param confirmed asked whether it is really so far from the usual, the technician said yes
     */
    public record Read(
            String point,
            int spot,
            @Nullable String typed,
            @Nullable String unit,
            boolean confirmed,
            @Nullable String note) {
        public Read(String point, String typed, @Nullable String unit) {
            this(point, 0, typed, unit, false, null);
        }
    }

    private final MeasurementRows rows;
    private final MeasurementReads reads;
    private final ReadingRows readings;
    private final Readout readout;
    private final Typist typist;
    private final Starting starting;
    private final Suspects suspects;
    private final KnownGoods knownGoods;
    private final Procedures procedures;
    private final Tickets tickets;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    Bench(
            MeasurementRows rows,
            MeasurementReads reads,
            ReadingRows readings,
            Readout readout,
            Typist typist,
            Starting starting,
            Suspects suspects,
            KnownGoods knownGoods,
            Procedures procedures,
            Tickets tickets,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock) {
        this.rows = rows;
        this.reads = reads;
        this.readings = readings;
        this.readout = readout;
        this.typist = typist;
        this.starting = starting;
        this.suspects = suspects;
        this.knownGoods = knownGoods;
        this.procedures = procedures;
        this.tickets = tickets;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Begins a test that bears on some threads of a ticket. */
    public long start(
            TicketNumber ticket,
            String procedureKey,
            boolean after,
            List<Integer> places,
            Conditions conditions,
            @Nullable Long instrumentId) {
        return start(ticket, procedureKey, after, places, conditions, instrumentId, null);
    }

    /** As above, with where the probes were put. */
    public long start(
            TicketNumber number,
            String procedureKey,
            boolean after,
            List<Integer> places,
            Conditions conditions,
            @Nullable Long instrumentId,
            @Nullable String probes) {
        TicketView ticket = tickets.get(number);
        Procedure procedure = procedure(procedureKey);
        starting.check(ticket, procedure, after, places, conditions, instrumentId);
        var measurement = new Measurement(number.value(), procedure.key(), procedure.version(), after, instrumentId);
        var me = people.me();
        measurement.start(me.id(), me.name(), clock.instant(), conditions, probes);
        rows.saveAndFlush(measurement);
        for (int place : places) {
            jdbc.sql("insert into measurement_symptom (measurement_id, ticket_number, place) values (?, ?, ?)")
                    .param(measurement.id())
                    .param(number.value())
                    .param(place)
                    .update();
        }
        journal.note(
                "test started",
                number.value(),
                procedure.name() + (after ? ", after the repair, started." : " started."),
                Map.of("measurement", measurement.id(), "procedure", procedure.key(), "version", procedure.version()));
        return measurement.id();
    }

    /** Keeps a number, a choice, codes or pasted columns. */
    public long keep(long measurementId, String point, String typed, @Nullable String unit) {
        return keep(measurementId, new Read(point, typed, unit));
    }

    /** Keeps one reading and judges it; impossible ones are refused, unlikely ones are asked about once (field "confirmed"). */
    public long keep(long measurementId, Read read) {
        Row row = reads.get(measurementId);
        return add(row, typist.take(row, read, people.me().name(), clock.instant()), read.confirmed());
    }

    /** Keeps a recorded series, such as one cut out of a log file, with the exhibit it came from. */
    public long keepSeries(long measurementId, String point, Series series, @Nullable Long exhibitId) {
        Row row = reads.get(measurementId);
        return add(row, typist.take(row, point, series, exhibitId, people.me().name(), clock.instant()), true);
    }

    private long add(Row row, KeptReading typed, boolean confirmed) {
        if (row.finishedAt() != null) {
            throw Refused.because("This test is finished. Correct a reading of it, or start the test again.");
        }
        KeptReading draft = doubted(row, typed, confirmed);
        Told told = readout.tellWith(sheet(row), row, draft);
        String label = label(told, draft);
        var kept = readings.add(draft, judged(told, draft), people.me().id());
        if (kept.isEmpty()) {
            KeptReading first = readings.of(List.of(row.id())).stream()
                    .filter(each -> each.counts() && each.point().equals(draft.point()) && each.spot() == draft.spot())
                    .findFirst()
                    .orElseThrow();
            // The same person read the same once more, as after a dropped line: that is no clash.
            if (first.who().equals(draft.who()) && shown(first).equals(shown(draft))) {
                return first.id();
            }
            throw stale(label, draft, first, row.id());
        }
        long id = kept.get();
        journal.note("reading kept", row.ticket().value(), label + ": " + shown(draft) + ".", facts(row, draft, id));
        return id;
    }

    /** What cannot be beside another reading of the test is asked about once, before it is kept. */
    private KeptReading doubted(Row row, KeptReading draft, boolean confirmed) {
        TestResult result = readout.tellWith(sheet(row), row, draft).result();
        Optional<String> doubt = result == null ? Optional.empty() : result.doubt(draft.point(), draft.spot());
        if (doubt.isEmpty()) {
            return draft;
        }
        if (!confirmed) {
            throw Refused.at("confirmed", doubt.get());
        }
        return draft.asConfirmed();
    }

    /** Puts a reading right: a new one takes its place, the old one stays, struck. */
    public long correct(
            long readingId, @Nullable String typed, @Nullable String unit, boolean confirmed, @Nullable String reason) {
        KeptReading old = reading(readingId);
        Row row = reads.get(old.measurementId());
        if (reason == null || reason.isBlank()) {
            throw Refused.at("reason", "Say what was wrong with it: misread, wrong pin, probes moved.");
        }
        var read = new Read(
                old.point(),
                old.spot(),
                typed,
                unit != null ? unit : old.unit() == null ? null : old.unit().symbol(),
                confirmed,
                null);
        KeptReading draft = doubted(
                row, typist.correction(row, old, read, reason, people.me().name(), clock.instant()), confirmed);
        Told told = readout.tellWith(sheet(row), row, draft);
        String label = label(told, draft);
        long id = readings.add(draft, judged(told, draft), people.me().id()).orElseThrow(() -> {
            KeptReading theirs = readings.of(List.of(row.id())).stream()
                    .filter(each -> Long.valueOf(readingId).equals(each.replaces()))
                    .findFirst()
                    .orElseThrow();
            return stale(label, draft, theirs, row.id());
        });
        var facts = facts(row, draft, id);
        facts.put("replaces", readingId);
        journal.note(
                "reading corrected",
                row.ticket().value(),
                "%s: %s instead of %s.".formatted(label, shown(draft), shown(old)),
                facts);
        knownGoods.follow(row, readout.tell(sheet(row), row), reason);
        return id;
    }

    /** Ends a test; the complaint seen in it is stamped on its threads. */
    public void finish(long measurementId) {
        Row row = reads.get(measurementId);
        Told told = readout.tell(sheet(row), row);
        if (told.kept().isEmpty()) {
            throw Refused.because("Nothing is read yet: keep a reading first.");
        }
        Measurement measurement = rows.findById(measurementId).orElseThrow();
        if (!measurement.finish(clock.instant(), people.me().name())) {
            return;
        }
        rows.saveAndFlush(measurement);
        journal.note(
                "test finished",
                row.ticket().value(),
                told.view().procedureName() + " finished.",
                Map.of("measurement", measurementId, "readings", told.kept().size()));
        seen(row, told.view());
    }

    private void seen(Row row, MeasurementView view) {
        if (row.after() || !row.procedure().equals("reproduce")) {
            return;
        }
        TicketView ticket = tickets.get(row.ticket());
        view.readings().stream()
                .filter(reading -> reading.point().equals("complaint"))
                .filter(reading ->
                        List.of("seen as described", "comes and goes").contains(reading.shown()))
                .findFirst()
                .ifPresent(reading -> {
                    for (int place : row.places()) {
                        var symptom = ticket.symptom(place);
                        if (!symptom.has(ThreadStamp.REPRODUCED) && !symptom.ended()) {
                            tickets.stamp(symptom.ref(), ThreadStamp.REPRODUCED, reading.shown());
                        }
                    }
                });
    }

    /** The tests of a ticket, in the order they were begun. */
    @OnlyReads
    public List<MeasurementView> of(TicketNumber number) {
        return suspects.tests(tickets.get(number)).stream().map(Told::view).toList();
    }

    @OnlyReads
    public MeasurementView get(long id) {
        Row row = reads.get(id);
        return readout.tell(sheet(row), row).view();
    }

    /** What the tests of a ticket showed, in the words of the rules: for the proof. */
    @OnlyReads
    public Map<Long, TestResult> results(TicketNumber number) {
        return suspects.tests(tickets.get(number)).stream()
                .filter(told -> told.result() != null)
                .collect(Collectors.toMap(told -> told.row().id(), Told::result));
    }

    private Sheet sheet(Row test) {
        return reads.sheet(tickets.get(test.ticket()));
    }

    /** The test a reading belongs to. */
    @OnlyReads
    public MeasurementView around(long readingId) {
        return get(reading(readingId).measurementId());
    }

    /** The causes of a symptom, likeliest first: by its kind, the customer's answers, every test before the repair, and what was proved here. */
    @OnlyReads
    public Ranking causes(SymptomRef ref) {
        return suspects.rank(tickets.get(ref.ticket()), ref);
    }

    /** The tests that tell most now, and those that wait for something. */
    @OnlyReads
    public NextTest.Plan next(SymptomRef ref) {
        return suspects.plan(tickets.get(ref.ticket()), ref);
    }

    public Procedure procedure(String key) {
        return procedures.find(key).orElseThrow(() -> NotFound.of("procedure " + key));
    }

    /** The procedure as it was when the test was begun: a later edition must not change the questions of an open test. */
    @OnlyReads
    public Procedure procedure(MeasurementView test) {
        return procedures
                .find(test.procedure(), test.edition())
                .orElseThrow(() -> NotFound.of("procedure " + test.procedure()));
    }

    private KeptReading reading(long id) {
        return readings.find(id).orElseThrow(() -> NotFound.of("reading " + id));
    }

    private static idlewright.bench.rules.Judged judged(Told told, KeptReading draft) {
        return Objects.requireNonNull(told.result()).at(draft.point()).stream()
                .filter(point -> point.place() == draft.spot())
                .findFirst()
                .orElseThrow(() -> Refused.at("typed", "This reading does not fit the procedure."))
                .judged();
    }

    private static String label(Told told, KeptReading draft) {
        return told.view().readings().stream()
                .filter(reading -> reading.point().equals(draft.point()) && reading.spot() == draft.spot())
                .findFirst()
                .map(ReadingView::label)
                .orElse(draft.point());
    }

    private static Stale stale(String label, KeptReading yours, KeptReading theirs, long measurement) {
        return new Stale(
                label,
                List.of(new Stale.Clash("value", shown(yours), shown(theirs))),
                theirs.who(),
                theirs.at(),
                "/measurements/" + measurement);
    }

    private static String shown(KeptReading reading) {
        return switch (reading.kind()) {
            case NUMBER ->
                (Objects.requireNonNull(reading.value()).toPlainString() + " "
                                + Objects.requireNonNull(reading.unit()).symbol())
                        .strip();
            case SERIES -> Objects.requireNonNull(reading.series()).size() + " points";
            case CODES -> reading.seen().isEmpty() ? "no codes" : String.join(", ", reading.seen());
            case CHOICE -> reading.typed();
        };
    }

    private static Map<String, Object> facts(Row row, KeptReading draft, long id) {
        var facts = new LinkedHashMap<String, Object>();
        facts.put("measurement", row.id());
        facts.put("reading", id);
        facts.put("point", draft.point());
        facts.put("value", shown(draft));
        if (draft.spot() > 0) facts.put("spot", draft.spot());
        return facts;
    }
}
