package idlewright.bench;

import idlewright.bench.MeasurementReads.Row;
import idlewright.bench.Readout.Told;
import idlewright.bench.rules.Point;
import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.reference.units.Unit;
import idlewright.reference.verdict.Verdict;
import java.math.BigDecimal;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The front door of the shop's own library: readings of vehicles that were proved healthy, by engine family. */
@Component
@Transactional
public class KnownGoods {

    /**
     * One known-good reading.
     *
     * @param test number of the test it was read in
     */
    public record Good(
            long id,
            long test,
            String engineFamily,
            String procedure,
            String point,
            int spot,
            double value,
            Unit unit,
            double si,
            TicketNumber ticket,
            int place,
            long vehicleId,
            Instant at,
            String who,
            @Nullable String struckBecause,
            @Nullable String struckBy,
            @Nullable Instant struckAt) {

        public boolean counts() {
            return struckBecause == null;
        }
    }

    private final MeasurementReads reads;
    private final Readout readout;
    private final Tickets tickets;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    KnownGoods(
            MeasurementReads reads,
            Readout readout,
            Tickets tickets,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock) {
        this.reads = reads;
        this.readout = readout;
        this.tickets = tickets;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Takes the readings after the repair of a proved thread into the library; a second time brings nothing in twice. */
    public void bringIn(SymptomRef proved) {
        TicketView ticket = tickets.get(proved.ticket());
        String family = ticket.vehicle().engineFamily();
        if (family == null) {
            return;
        }
        int brought = 0;
        for (Told told : readout.tell(reads.sheet(ticket))) {
            if (told.row().after() && told.row().bearsOn(proved)) {
                brought += bringIn(told, ticket, proved.place());
            }
        }
        if (brought > 0) {
            journal.note(
                    "known good",
                    proved.ticket().value(),
                    brought + (brought == 1 ? " reading is" : " readings are") + " known good for engine family "
                            + family + " now.",
                    Map.of("place", proved.place(), "readings", brought, "family", family));
        }
    }

    private int bringIn(Told told, TicketView ticket, int place) {
        int brought = 0;
        for (ReadingView reading : told.view().readings()) {
            BigDecimal value = reading.value();
            Unit unit = reading.unit();
            boolean assumed = reading.derived() && reading.note().contains("Assumed, not read");
            boolean comparable = told.result() != null
                    && told.result()
                            .procedure()
                            .point(reading.point())
                            .filter(Point::comparable)
                            .isPresent();
            if (value == null || unit == null || reading.verdict() == Verdict.OUTSIDE || assumed || !comparable) {
                continue;
            }
            brought += jdbc.sql("""
                    insert into known_good (reading_id, measurement_id, engine_family, vehicle_id, procedure_key, point, spot,
                        value, unit, si, ticket_number, place, at, who)
                    select :reading, :measurement, :family, :vehicle, :procedure, :point, :spot, :value, :unit, :si, :ticket, :place, :at, :who
                    where not exists (select from known_good k left join known_good_strike s on s.known_good_id = k.id
                        where k.measurement_id = :measurement and k.point = :point and k.spot = :spot and s.known_good_id is null)""")
                    .param("reading", reading.derived() ? null : reading.id())
                    .param("measurement", told.row().id())
                    .param("family", ticket.vehicle().engineFamily())
                    .param("vehicle", ticket.vehicle().id())
                    .param("procedure", told.row().procedure())
                    .param("point", reading.point())
                    .param("spot", reading.spot())
                    .param("value", value.doubleValue())
                    .param("unit", unit.symbol())
                    .param("si", unit.toSi(value).doubleValue())
                    .param("ticket", ticket.number().value())
                    .param("place", place)
                    .param("at", Timestamp.from(clock.instant()))
                    .param("who", people.me().name())
                    .update();
        }
        return brought;
    }

    /** After a correction the library follows: what rested on the old reading is struck, the new takes its place. */
    void follow(Row row, Told now, String reason) {
        var rested = jdbc.sql("""
                select k.id, k.point, k.spot, k.si, k.place from known_good k left join known_good_strike s on s.known_good_id = k.id
                where k.measurement_id = ? and s.known_good_id is null""")
                .param(row.id())
                .query((r, n) -> new Object[] {r.getLong(1), r.getString(2), r.getInt(3), r.getDouble(4), r.getInt(5)})
                .list();
        if (rested.isEmpty()) {
            return;
        }
        for (Object[] good : rested) {
            Optional<ReadingView> same = now.view().readings().stream()
                    .filter(reading -> reading.point().equals(good[1]) && reading.spot() == (int) good[2])
                    .filter(reading -> reading.value() != null && reading.unit() != null)
                    .findFirst();
            boolean stands = same.isPresent()
                    && Math.abs(java.util.Objects.requireNonNull(same.get().unit())
                                            .toSi(java.util.Objects.requireNonNull(
                                                    same.get().value()))
                                            .doubleValue()
                                    - (double) good[3])
                            <= 1e-9 * Math.max(1, Math.abs((double) good[3]));
            if (!stands) {
                strikeOut((long) good[0], "The reading was corrected: " + reason);
            }
        }
        bringIn(now, tickets.get(row.ticket()), (int) rested.get(0)[4]);
    }

    /** Takes one out, with the reason; it stays in sight. */
    public void strike(long id, @Nullable String reason) {
        Good good = get(id);
        if (reason == null || reason.isBlank() || reason.length() > 400) {
            throw Refused.at("reason", "Say in a sentence why this reading is no reference.");
        }
        if (!good.counts()) {
            throw Refused.because("This reading was struck out already: " + good.struckBecause());
        }
        strikeOut(id, reason);
        journal.note(
                "known good struck",
                good.ticket().value(),
                "A known-good reading of engine family " + good.engineFamily() + " was struck out.",
                Map.of("known good", id));
    }

    /** The complaint came back: what was read after that repair is struck, for the car was not healthy after all. */
    public void leave(SymptomRef returned) {
        List<Long> rested = jdbc.sql("""
                select k.id from known_good k
                join measurement_symptom m on m.measurement_id = k.measurement_id
                where m.ticket_number = ? and m.place = ?
                and not exists (select from known_good_strike s where s.known_good_id = k.id) order by k.id""")
                .param(returned.ticket().value())
                .param(returned.place())
                .query(Long.class)
                .list();
        rested.forEach(id -> strikeOut(id, "The complaint came back."));
        if (!rested.isEmpty()) {
            journal.note(
                    "known good struck",
                    returned.ticket().value(),
                    rested.size() + (rested.size() == 1 ? " known-good reading was" : " known-good readings were")
                            + " struck out, because the complaint came back.",
                    Map.of("place", returned.place(), "known good", rested));
        }
    }

    private void strikeOut(long id, String reason) {
        jdbc.sql(
                        "insert into known_good_strike (known_good_id, reason, at, who) values (?, ?, ?, ?) on conflict do nothing")
                .param(id)
                .param(reason.length() > 400 ? reason.substring(0, 400) : reason)
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .update();
    }

    @OnlyReads
    public List<String> families() {
        return jdbc.sql("select distinct engine_family from known_good order by 1")
                .query(String.class)
                .list();
    }

    /** All of an engine family, also those struck out, oldest first. */
    @OnlyReads
    public List<Good> of(String engineFamily) {
        return jdbc.sql(SELECT + " where k.engine_family = ? order by k.procedure_key, k.point, k.spot, k.id")
                .param(engineFamily)
                .query((r, n) -> good(r))
                .list();
    }

    @OnlyReads
    public Good get(long id) {
        return jdbc.sql(SELECT + " where k.id = ?")
                .param(id)
                .query((r, n) -> good(r))
                .optional()
                .orElseThrow(() -> NotFound.of("known-good reading " + id));
    }

    private static final String SELECT = """
            select k.*, s.reason struck, s.who struck_by, s.at struck_at
            from known_good k left join known_good_strike s on s.known_good_id = k.id""";

    private static Good good(java.sql.ResultSet r) throws java.sql.SQLException {
        Timestamp struck = r.getTimestamp("struck_at");
        return new Good(
                r.getLong("id"),
                r.getLong("measurement_id"),
                r.getString("engine_family"),
                r.getString("procedure_key"),
                r.getString("point"),
                r.getInt("spot"),
                r.getDouble("value"),
                Unit.of(r.getString("unit")).orElseThrow(),
                r.getDouble("si"),
                new TicketNumber(r.getInt("ticket_number")),
                r.getInt("place"),
                r.getLong("vehicle_id"),
                r.getTimestamp("at").toInstant(),
                r.getString("who"),
                r.getString("struck"),
                r.getString("struck_by"),
                struck == null ? null : struck.toInstant());
    }
}
