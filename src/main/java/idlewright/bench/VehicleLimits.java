package idlewright.bench;

import idlewright.bench.rules.Limit;
import idlewright.bench.rules.Point;
import idlewright.bench.rules.Refusal;
import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.reference.units.Unit;
import idlewright.reference.verdict.Ground;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The front door for limits the shop has from a document: they stand before every other ground. */
@Component
@Transactional
public class VehicleLimits {

    /** A published limit; for one vehicle or for a whole engine family. */
    public record VehicleLimit(
            long id,
            @Nullable Long vehicleId,
            @Nullable String engineFamily,
            String procedure,
            String point,
            Limit limit,
            Instant at,
            String who,
            @Nullable String struckBecause) {}

    private final Procedures procedures;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    VehicleLimits(Procedures procedures, People people, Journal journal, JdbcClient jdbc, Clock clock) {
        this.procedures = procedures;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Enters a limit for a vehicle or (then {@code vehicleId} is null) an engine family; low or high may be missing. */
    public long enter(
            @Nullable Long vehicleId,
            @Nullable String engineFamily,
            String procedure,
            String point,
            @Nullable Double low,
            @Nullable Double high,
            String unit,
            @Nullable String citation) {
        if ((vehicleId == null) == (engineFamily == null || engineFamily.isBlank())) {
            throw Refused.at("engineFamily", "Say for which engine family, or for which vehicle.");
        }
        Point asked = procedures
                .find(procedure)
                .flatMap(each -> each.point(point))
                .filter(each -> each.kind() == Point.Kind.NUMBER)
                .orElseThrow(() -> Refused.at("point", "Choose the reading this limit is for."));
        Unit shown = Unit.of(unit)
                .filter(each -> each.dimension() == asked.unit().dimension())
                .orElseThrow(() -> Refused.at(
                        "unit", "Choose a unit of " + asked.unit().dimension().words() + "."));
        if (citation == null || citation.isBlank() || citation.length() > 300) {
            throw Refused.at("citation", "Name document, page and edition: a limit without them is only an opinion.");
        }
        try {
            new Limit(low, high, shown, Ground.PUBLISHED, citation);
        } catch (Refusal no) {
            throw Refused.at("low", String.valueOf(no.getMessage()));
        }
        long id = jdbc.sql("""
                insert into vehicle_limit (vehicle_id, engine_family, procedure_key, point, low, high, unit, citation, at, who)
                values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) returning id""")
                .param(vehicleId)
                .param(engineFamily == null ? null : engineFamily.strip().toUpperCase(java.util.Locale.ROOT))
                .param(procedure)
                .param(point)
                .param(low)
                .param(high)
                .param(shown.symbol())
                .param(citation)
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .query(Long.class)
                .single();
        journal.note(
                "limit entered",
                null,
                "A published limit for " + asked.label() + " was entered.",
                Map.of("limit", id, "procedure", procedure, "point", point));
        return id;
    }

    public void strike(long id, @Nullable String reason) {
        VehicleLimit limit = all().stream()
                .filter(each -> each.id() == id)
                .findFirst()
                .orElseThrow(() -> NotFound.of("limit " + id));
        if (reason == null || reason.isBlank() || reason.length() > 400) {
            throw Refused.at("reason", "Say why it no longer holds.");
        }
        if (limit.struckBecause() != null) {
            throw Refused.because("This limit was struck out already: " + limit.struckBecause());
        }
        jdbc.sql("insert into vehicle_limit_strike (limit_id, reason, at, who) values (?, ?, ?, ?)")
                .param(id)
                .param(reason)
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .update();
        journal.note("limit struck", null, "A published limit was struck out.", Map.of("limit", id));
    }

    /** All, also those struck out, the newest first. */
    @OnlyReads
    public List<VehicleLimit> all() {
        return jdbc.sql("""
                select l.*, s.reason struck from vehicle_limit l left join vehicle_limit_strike s on s.limit_id = l.id
                order by l.id desc""")
                .query((r, n) -> new VehicleLimit(
                        r.getLong("id"),
                        (Long) r.getObject("vehicle_id"),
                        r.getString("engine_family"),
                        r.getString("procedure_key"),
                        r.getString("point"),
                        new Limit(
                                (Double) r.getObject("low"),
                                (Double) r.getObject("high"),
                                Unit.of(r.getString("unit")).orElseThrow(),
                                Ground.PUBLISHED,
                                r.getString("citation")),
                        r.getTimestamp("at").toInstant(),
                        r.getString("who"),
                        r.getString("struck")))
                .list();
    }
}
