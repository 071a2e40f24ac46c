package idlewright.bench.model;

import idlewright.bench.model.KeptReading.Stood;
import idlewright.bench.rules.Accuracy;
import idlewright.bench.rules.Judged;
import idlewright.bench.rules.Limit;
import idlewright.bench.rules.Point;
import idlewright.bench.rules.Series;
import idlewright.bench.rules.Side;
import idlewright.frame.Together;
import idlewright.frame.Tuple;
import idlewright.reference.units.Unit;
import idlewright.reference.verdict.Verdict;
import java.sql.Timestamp;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** The append-only table of readings. */
@Component
public class ReadingRows {

    private static final String SELECT = """
            select r.*, (select n.id from reading n where n.replaces = r.id) replaced_by from reading r""";

    /** Every reading of a ticket's tests, in the order they were taken; read by {@link #kept}. */
    public static final String OF_TICKET =
            SELECT + " join measurement m on m.id = r.measurement_id where m.ticket_number = :ticket order by r.id";

    private final JdbcClient jdbc;
    private final Together together;
    private final JsonMapper json;

    ReadingRows(JdbcClient jdbc, Together together, JsonMapper json) {
        this.jdbc = jdbc;
        this.together = together;
        this.json = json;
    }

    /** Adds a reading; nothing comes back where another terminal was first at this point, or corrected the same reading. */
    public Optional<Long> add(KeptReading reading, Judged judged, @Nullable Long personId) {
        Limit limit = judged.limit();
        return jdbc.sql("""
                insert into reading (measurement_id, point, spot, kind, typed, value, unit, si, seen, series, exhibit_id,
                    accuracy_percent, accuracy_digits, accuracy_resolution, uncertainty,
                    limit_low, limit_high, limit_unit, ground, citation, verdict, side, reason,
                    note, confirmed, at, person_id, who, replaces, replace_reason)
                values (:measurement, :point, :spot, :kind, :typed, :value, :unit, :si, :seen, cast(:series as jsonb), :exhibit,
                    :percent, :digits, :resolution, :uncertainty,
                    :low, :high, :limitUnit, :ground, :citation, :verdict, :side, :reason,
                    :note, :confirmed, :at, :person, :who, :replaces, :replaceReason)
                on conflict do nothing returning id""")
                .param("measurement", reading.measurementId())
                .param("point", reading.point())
                .param("spot", reading.spot())
                .param("kind", reading.kind().name())
                .param("typed", reading.typed())
                .param("value", reading.value())
                .param("unit", reading.unit() == null ? null : reading.unit().symbol())
                .param(
                        "si",
                        reading.value() == null || reading.unit() == null
                                ? null
                                : reading.unit().toSi(reading.value()))
                .param("seen", reading.seen().toArray(String[]::new))
                .param("series", reading.series() == null ? null : written(reading.series()))
                .param("exhibit", reading.exhibitId())
                .param("percent", reading.accuracy().percentOfReading())
                .param("digits", reading.accuracy().digits())
                .param("resolution", reading.accuracy().resolution())
                .param("uncertainty", judged.uncertainty())
                .param("low", limit == null ? null : limit.low())
                .param("high", limit == null ? null : limit.high())
                .param("limitUnit", limit == null ? null : limit.unit().symbol())
                .param("ground", limit == null ? null : limit.ground().name())
                .param("citation", limit == null ? null : limit.groundWords())
                .param("verdict", judged.verdict().name())
                .param("side", judged.side().name())
                .param("reason", judged.reason())
                .param("note", reading.note())
                .param("confirmed", reading.confirmed())
                .param("at", Timestamp.from(reading.at()))
                .param("person", personId)
                .param("who", reading.who())
                .param("replaces", reading.replaces())
                .param("replaceReason", reading.replaceReason())
                .query(Long.class)
                .optional();
    }

    public Optional<KeptReading> find(long id) {
        return read(Map.of("id", id), " where r.id = :id").findFirst();
    }

    /** The readings of some measurements, in the order they were taken. */
    public List<KeptReading> of(Collection<Long> measurements) {
        return measurements.isEmpty()
                ? List.of()
                : read(Map.of("tests", measurements), " where r.measurement_id in (:tests) order by r.id")
                        .toList();
    }

    private Stream<KeptReading> read(Map<String, ?> values, String where) {
        return together.read(values, SELECT + where).get(0).stream().map(ReadingRows::kept);
    }

    public static KeptReading kept(Tuple r) {
        String unit = r.getString("unit");
        JsonNode series = r.getJson("series");
        return new KeptReading(
                r.getLong("id"),
                r.getLong("measurement_id"),
                r.getString("point"),
                r.getInt("spot"),
                Point.Kind.valueOf(r.getString("kind")),
                r.getString("typed"),
                r.getBigDecimal("value"),
                unit == null ? null : Unit.of(unit).orElseThrow(),
                r.getStrings("seen"),
                series.isNull() ? null : series(series),
                r.getLongOrNull("exhibit_id"),
                new Accuracy(
                        r.getDouble("accuracy_percent"),
                        r.getDouble("accuracy_digits"),
                        r.getDouble("accuracy_resolution")),
                new Stood(
                        Verdict.valueOf(r.getString("verdict")),
                        Side.valueOf(r.getString("side")),
                        r.getString("reason"),
                        r.getString("citation")),
                r.getString("note"),
                r.getBoolean("confirmed"),
                r.getInstant("at"),
                r.getString("who"),
                r.getLongOrNull("replaces"),
                r.getString("replace_reason"),
                r.getLongOrNull("replaced_by"));
    }

    private String written(Series series) {
        return json.writeValueAsString(Map.of(
                "across", series.across(),
                "acrossUnit", series.acrossUnit(),
                "up", series.up(),
                "upUnit", series.upUnit(),
                "x", series.x(),
                "y", series.y()));
    }

    private static Series series(JsonNode node) {
        return new Series(
                node.path("across").asString(),
                node.path("acrossUnit").asString(),
                node.path("up").asString(),
                node.path("upUnit").asString(),
                numbers(node.path("x")),
                numbers(node.path("y")));
    }

    private static double[] numbers(JsonNode list) {
        double[] numbers = new double[list.size()];
        for (int i = 0; i < numbers.length; i++) {
            numbers[i] = list.get(i).asDouble();
        }
        return numbers;
    }
}
