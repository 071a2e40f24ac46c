package idlewright.bench;

import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.KeyState;
import idlewright.bench.rules.Motion;
import idlewright.frame.NotFound;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Reads measurements as records, one query however many there are. */
@Component
class MeasurementReads {

    /** One measurement without its readings. */
    record Row(
            long id,
            TicketNumber ticket,
            List<Integer> places,
            String procedure,
            int procedureVersion,
            boolean after,
            String technician,
            @Nullable Long instrumentId,
            @Nullable String instrument,
            @Nullable LocalDate calibrationDue,
            Conditions conditions,
            @Nullable String probes,
            Instant startedAt,
            @Nullable Instant finishedAt) {

        boolean bearsOn(SymptomRef ref) {
            return ticket.equals(ref.ticket()) && places.contains(ref.place());
        }
    }

    private static final String SELECT = """
            select m.*, i.name instrument, i.calibration_due,
                   (select array_agg(s.place order by s.place) from measurement_symptom s where s.measurement_id = m.id) places
            from measurement m left join instrument i on i.id = m.instrument_id""";

    private final JdbcClient jdbc;

    MeasurementReads(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    Row get(long id) {
        return jdbc.sql(SELECT + " where m.id = ?")
                .param(id)
                .query((r, n) -> row(r))
                .optional()
                .orElseThrow(() -> NotFound.of("test " + id));
    }

    /** The tests of a ticket, in the order they were begun. */
    List<Row> of(TicketNumber ticket) {
        return jdbc.sql(SELECT + " where m.ticket_number = ? order by m.id")
                .param(ticket.value())
                .query((r, n) -> row(r))
                .list();
    }

    private static Row row(ResultSet r) throws SQLException {
        String motion = r.getString("motion");
        return new Row(
                r.getLong("id"),
                new TicketNumber(r.getInt("ticket_number")),
                Arrays.asList((Integer[]) r.getArray("places").getArray()),
                r.getString("procedure_key"),
                r.getInt("procedure_version"),
                r.getBoolean("after_repair"),
                r.getString("technician"),
                (Long) r.getObject("instrument_id"),
                r.getString("instrument"),
                r.getObject("calibration_due", LocalDate.class),
                new Conditions(
                        KeyState.valueOf(r.getString("state")),
                        number(r, "rpm"),
                        number(r, "coolant_c"),
                        number(r, "intake_c"),
                        r.getString("gear"),
                        motion == null ? null : Motion.valueOf(motion),
                        r.getString("load"),
                        number(r, "barometer_kpa")),
                r.getString("probes"),
                r.getTimestamp("started_at").toInstant(),
                r.getTimestamp("finished_at") == null
                        ? null
                        : r.getTimestamp("finished_at").toInstant());
    }

    private static @Nullable Double number(ResultSet r, String column) throws SQLException {
        var number = r.getBigDecimal(column);
        return number == null ? null : number.doubleValue();
    }
}
