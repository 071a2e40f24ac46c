package idlewright.bench;

import idlewright.bench.Bench.Read;
import idlewright.bench.rules.FromLog;
import idlewright.bench.rules.FromLog.Offer;
import idlewright.bench.rules.Point;
import idlewright.bench.rules.Procedure;
import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Together;
import idlewright.frame.rules.LinePlot;
import idlewright.intake.Tickets;
import idlewright.intake.VehicleView;
import idlewright.journal.Exhibit;
import idlewright.journal.Exhibits;
import idlewright.journal.Journal;
import idlewright.journal.rules.Seal;
import idlewright.people.People;
import idlewright.reference.obd.log.Fuel;
import idlewright.reference.obd.log.LogFile;
import idlewright.reference.obd.log.LogOptions;
import idlewright.reference.obd.log.LogQuantity;
import idlewright.reference.obd.log.LogReading;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.sql.Timestamp;
import java.time.Clock;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The front door for scan-tool logs of a test: kept whatever they hold, read anew each time, turned into readings. */
@Component
@Transactional
public class Logs {

    /** A steady state in words, with what was read in it. */
    public record Steady(String span, @Nullable String note, List<String> readings) {}

    /** A pull that may become the sweep; the verdict in words. */
    public record Pull(int place, String span, String verdict, LinePlot plot) {}

    /**
     * One log, read.
     *
     * @param memory whether somebody said before what columns of logs like this one are
     * @param steady in the order of the log
     * @param offers what may become a reading: by point and bank, the state to its words
     * @param pulls empty unless the test asks for a sweep
     * @param derived distance, fuel and consumption, as far as they can be told
     */
    public record LogView(
            MeasurementView test,
            Exhibit file,
            LogReading reading,
            boolean memory,
            List<LinePlot> plots,
            List<Steady> steady,
            List<Asked> offers,
            List<Pull> pulls,
            @Nullable String sweepLabel,
            List<String> derived) {

        /** Readings of this test that the log can give and that are not taken yet. */
        public boolean offersAnything() {
            return offers.stream().anyMatch(asked -> asked.taken() == null);
        }
    }

    /** A point of the procedure with the states that can answer it; {@code taken} is what stands there already. */
    public record Asked(
            String key,
            String label,
            Map<String, String> states,
            @Nullable String taken) {}

    private final Together together;
    private final Bench bench;
    private final Exhibits exhibits;
    private final Tickets tickets;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    Logs(
            Together together,
            Bench bench,
            Exhibits exhibits,
            Tickets tickets,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock) {
        this.together = together;
        this.bench = bench;
        this.exhibits = exhibits;
        this.tickets = tickets;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Keeps a log of a test as an exhibit, whatever it holds; what it says comes when it is read. */
    public Exhibit keep(long measurementId, InputStream bytes, String fileName) {
        MeasurementView test = bench.get(measurementId);
        Integer place = test.places().size() == 1 ? test.places().get(0) : null;
        Exhibit kept =
                exhibits.keepLog(bytes, fileName, test.ticket().value(), place, "Log of " + test.procedureName());
        jdbc.sql("insert into measurement_log (exhibit_id, measurement_id, at, who) values (?, ?, ?, ?)")
                .param(kept.id())
                .param(measurementId)
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .update();
        return kept;
    }

    /** The logs of a test, oldest first. */
    @OnlyReads
    public List<Exhibit> of(long measurementId) {
        return together
                .read(
                        Map.of("test", measurementId),
                        "select l.* from log_kept l where l.measurement_id = :test order by l.id")
                .get(0)
                .stream()
                .map(Exhibit::of)
                .toList();
    }

    /** Reads a log with all that is known of its columns and its car. */
    @OnlyReads
    public LogView read(long measurementId, long exhibitId) {
        MeasurementView test = bench.get(measurementId);
        Exhibit file = file(measurementId, exhibitId);
        LogReading plain = parse(file, options(test, Map.of()));
        Map<String, LogQuantity> said = remembered(plain);
        LogReading log = said.isEmpty() ? plain : parse(file, options(test, said));
        Procedure procedure = bench.procedure(test);
        return new LogView(
                test,
                file,
                log,
                !said.isEmpty(),
                LogPictures.of(log),
                log.states().stream().map(LogPictures::steady).toList(),
                asked(test, FromLog.offers(procedure, log)),
                FromLog.sweepPoint(procedure).isPresent() ? LogPictures.pulls(log) : List.of(),
                FromLog.sweepPoint(procedure).map(Point::label).orElse(null),
                LogPictures.derived(log));
    }

    /**
     * Remembers what the columns are, for this log and every later one with the same headers.
     *
     * @param quantities header to what it is; a header that is what the program takes it for anyway is forgotten
     */
    public void remember(long measurementId, long exhibitId, Map<String, LogQuantity> quantities) {
        LogReading plain = parse(file(measurementId, exhibitId), options(bench.get(measurementId), Map.of()));
        String set = headerSet(plain);
        jdbc.sql("delete from log_header_memory where headers = ?").param(set).update();
        var said = new LinkedHashMap<String, String>();
        for (LogReading.Column column : plain.columns()) {
            LogQuantity quantity = quantities.get(column.header());
            if (quantity == null || quantity == column.quantity() && column.used()) {
                continue;
            }
            jdbc.sql("""
                            insert into log_header_memory (headers, header, quantity, at, who) values (?, ?, ?, ?, ?)
                            on conflict do nothing""")
                    .param(set)
                    .param(column.header())
                    .param(quantity.name())
                    .param(Timestamp.from(clock.instant()))
                    .param(people.me().name())
                    .update();
            said.put(column.header(), quantity.words());
        }
        journal.note(
                "log columns",
                bench.get(measurementId).ticket().value(),
                said.isEmpty()
                        ? "The columns of a log are taken as recognised."
                        : "The columns of a log were said by hand: "
                                + said.size()
                                + (said.size() == 1 ? " column." : " columns."),
                Map.of("exhibit", exhibitId, "columns", said));
    }

    /**
     * Turns steady states into readings of the test.
     *
     * @param chosen point and bank ("short-idle.1") to the place of the state in the log
     * @return how many were kept
     * @throws Refused where the log cannot be a car, with the reasons
     */
    public int take(long measurementId, long exhibitId, Map<String, Integer> chosen) {
        LogView view = plausible(measurementId, exhibitId);
        Procedure procedure = bench.procedure(view.test());
        int kept = 0;
        for (Offer offer : FromLog.offers(procedure, view.reading())) {
            boolean wanted = Integer.valueOf(offer.place()).equals(chosen.get(offer.key()));
            if (!wanted
                    || view.test().reading(offer.point().key(), offer.spot()).isPresent()) {
                continue;
            }
            long id = bench.keep(
                    measurementId,
                    new Read(
                            offer.point().key(),
                            offer.spot(),
                            offer.typed(),
                            offer.reading().unit().symbol(),
                            true,
                            offer.note()));
            jdbc.sql("""
                            insert into reading_from_log (reading_id, exhibit_id, state, from_s, to_s, spread, n)
                            values (?, ?, ?, ?, ?, ?, ?)""")
                    .param(id)
                    .param(exhibitId)
                    .param(offer.state().kind().name())
                    .param(offer.state().from())
                    .param(offer.state().to())
                    .param(offer.reading().spread())
                    .param(offer.reading().n())
                    .update();
            kept++;
        }
        if (kept == 0) {
            throw Refused.because("Choose at least one value that is not taken yet.");
        }
        return kept;
    }

    /** Keeps a pull as the sweep the test asks for. */
    public long takeSweep(long measurementId, long exhibitId, int place) {
        LogView view = plausible(measurementId, exhibitId);
        List<LogReading.Ramp> ramps = view.reading().ramps();
        Point point = FromLog.sweepPoint(bench.procedure(view.test()))
                .orElseThrow(() -> Refused.because("This test asks for no sweep."));
        if (place < 0 || place >= ramps.size()) {
            throw Refused.because("This log has no such pull; look at it again.");
        }
        return bench.keepSeries(measurementId, point.key(), FromLog.series(ramps.get(place)), exhibitId);
    }

    private LogView plausible(long measurementId, long exhibitId) {
        LogView view = read(measurementId, exhibitId);
        if (!view.reading().plausible()) {
            throw Refused.because("No reading is taken from this log: "
                    + view.reading().problems().get(0));
        }
        return view;
    }

    private static List<Asked> asked(MeasurementView test, List<Offer> offers) {
        Map<String, List<Offer>> byPoint =
                offers.stream().collect(Collectors.groupingBy(Offer::key, LinkedHashMap::new, Collectors.toList()));
        return byPoint.values().stream()
                .map(each -> {
                    Offer first = each.get(0);
                    var states = new LinkedHashMap<String, String>();
                    each.forEach(offer -> states.put(String.valueOf(offer.place()), offer.words()));
                    return new Asked(
                            first.key(),
                            first.point().labelAt(first.spot()),
                            states,
                            test.reading(first.point().key(), first.spot())
                                    .map(ReadingView::shown)
                                    .orElse(null));
                })
                .toList();
    }

    private Exhibit file(long measurementId, long exhibitId) {
        boolean belongs = jdbc.sql("select count(*) from measurement_log where exhibit_id = ? and measurement_id = ?")
                        .param(exhibitId)
                        .param(measurementId)
                        .query(Integer.class)
                        .single()
                == 1;
        if (!belongs) {
            throw NotFound.of("log " + exhibitId + " of this test");
        }
        return exhibits.get(exhibitId);
    }

    private LogReading parse(Exhibit file, LogOptions options) {
        try (InputStream bytes = exhibits.open(file.id())) {
            return LogFile.read(bytes, options);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private LogOptions options(MeasurementView test, Map<String, LogQuantity> said) {
        VehicleView vehicle = tickets.vehicle(test.ticket());
        LogOptions options = LogOptions.plain().withOverrides(said);
        Fuel fuel = switch (vehicle.fuel()) {
            case "PETROL" -> Fuel.PETROL;
            case "E10" -> Fuel.E10;
            case "E85" -> Fuel.E85;
            case "DIESEL" -> Fuel.DIESEL;
            default -> null;
        };
        if (fuel != null) {
            options = options.burning(fuel);
        }
        double litres =
                vehicle.displacementL() == null ? 0 : vehicle.displacementL().doubleValue();
        return litres >= 0.1 && litres <= 30 ? options.withDisplacement(litres) : options;
    }

    private Map<String, LogQuantity> remembered(LogReading plain) {
        var said = new HashMap<String, LogQuantity>();
        jdbc.sql("select header, quantity from log_header_memory where headers = ?")
                .param(headerSet(plain))
                .query((r, n) -> said.put(r.getString(1), LogQuantity.valueOf(r.getString(2))))
                .list();
        return said;
    }

    private static String headerSet(LogReading log) {
        String all = log.columns().stream()
                .map(column -> column.header().strip().toLowerCase(Locale.ROOT))
                .sorted()
                .collect(Collectors.joining("\n"));
        return Seal.sha256(all.getBytes(StandardCharsets.UTF_8));
    }
}
