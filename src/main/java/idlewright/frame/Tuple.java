package idlewright.frame;

import java.math.BigDecimal;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.List;
import java.util.stream.StreamSupport;
import org.jspecify.annotations.Nullable;
import tools.jackson.databind.DeserializationFeature;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.cfg.JsonNodeFeature;
import tools.jackson.databind.json.JsonMapper;

/**
 * One row that came as JSON within another: the children of a row, or one of several small reads that went as one statement.
 * Columns are asked for as of a JDBC row; a column that is not there is a slip of the pen and throws.
 */
public final class Tuple {

    // Amounts keep their cents: 40.00 stays 40.00.
    private static final JsonMapper JSON = JsonMapper.builder()
            .enable(DeserializationFeature.USE_BIG_DECIMAL_FOR_FLOATS)
            .disable(JsonNodeFeature.STRIP_TRAILING_BIGDECIMAL_ZEROES)
            .build();

    private final JsonNode columns;

    private Tuple(JsonNode columns) {
        this.columns = columns;
    }

    /** The rows in a column made by {@code json_agg}; none where it is null. */
    public static List<Tuple> in(ResultSet r, String column) throws SQLException {
        return of(r.getString(column));
    }

    /** The rows in an array of objects; none where there is no text. */
    static List<Tuple> of(@Nullable String array) {
        return array == null ? List.of() : rows(JSON.readTree(array));
    }

    private static List<Tuple> rows(JsonNode array) {
        return StreamSupport.stream(array.spliterator(), false).map(Tuple::new).toList();
    }

    public @Nullable String getString(String column) {
        JsonNode value = value(column);
        return value.isNull() ? null : value.isContainer() ? value.toString() : value.asString();
    }

    public int getInt(String column) {
        return value(column).intValue();
    }

    public @Nullable Integer getIntOrNull(String column) {
        return value(column).isNull() ? null : Integer.valueOf(getInt(column));
    }

    public long getLong(String column) {
        return value(column).longValue();
    }

    public @Nullable Long getLongOrNull(String column) {
        return value(column).isNull() ? null : Long.valueOf(getLong(column));
    }

    /** PostgreSQL writes what JSON has no number for as words. */
    public double getDouble(String column) {
        JsonNode value = value(column);
        return value.isString() ? Double.parseDouble(value.asString()) : value.doubleValue();
    }

    public @Nullable Double getDoubleOrNull(String column) {
        return value(column).isNull() ? null : Double.valueOf(getDouble(column));
    }

    public @Nullable BigDecimal getBigDecimal(String column) {
        JsonNode value = value(column);
        return value.isNull() ? null : value.decimalValue();
    }

    public boolean getBoolean(String column) {
        return value(column).booleanValue();
    }

    public @Nullable Instant getInstant(String column) {
        JsonNode value = value(column);
        return value.isNull() ? null : OffsetDateTime.parse(value.asString()).toInstant();
    }

    public @Nullable LocalDate getDate(String column) {
        JsonNode value = value(column);
        return value.isNull() ? null : LocalDate.parse(value.asString());
    }

    /** A column that is JSON itself; a null node where it is null. */
    public JsonNode getJson(String column) {
        return value(column);
    }

    public List<String> getStrings(String column) {
        return StreamSupport.stream(value(column).spliterator(), false)
                .map(JsonNode::asString)
                .toList();
    }

    public List<Integer> getInts(String column) {
        return StreamSupport.stream(value(column).spliterator(), false)
                .map(JsonNode::intValue)
                .toList();
    }

    /** The rows of an array column made by {@code json_agg}; none where it is null. */
    public List<Tuple> getRows(String column) {
        JsonNode value = value(column);
        return value.isNull() ? List.of() : rows(value);
    }

    private JsonNode value(String column) {
        JsonNode value = columns.get(column);
        if (value == null) {
            throw new IllegalArgumentException("No column " + column + " among " + columns.propertyNames());
        }
        return value;
    }
}
