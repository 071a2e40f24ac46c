package idlewright.frame;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import idlewright.ground.WithDatabase;
import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;

@SpringBootTest
@WithDatabase
@DisplayName("Several reads in one statement")
class TogetherTest {

    @Autowired
    Together together;

    private Tuple one(String query) {
        return together.read(Map.of(), query).get(0).get(0);
    }

    @Test
    void giveEachItsRowsInItsOrder() {
        var told = together.read(
                Map.of("least", 3),
                "select n from generate_series(1, 5) n where n >= :least order by n desc",
                "select 1 n where 1 > :least",
                "select n from generate_series(1, 2) n");
        assertThat(told)
                .extracting(rows -> rows.stream().map(r -> r.getInt("n")).toList())
                .containsExactly(List.of(5, 4, 3), List.of(), List.of(1, 2));
    }

    @Test
    void keepTheCentsOfAnAmount() {
        assertThat(one("select 40.00::numeric(12, 2) amount").getBigDecimal("amount"))
                .isEqualTo(new BigDecimal("40.00"));
        assertThat(one("select 12345678901234567890.123456789::numeric amount").getBigDecimal("amount"))
                .isEqualTo(new BigDecimal("12345678901234567890.123456789"));
    }

    @Test
    void keepEveryDigitOfADoubleAlsoOfOneThatIsNoNumber() {
        for (double value : new double[] {0.1 + 0.2, Double.MIN_VALUE, -1.7976931348623157e308, 1e-7}) {
            Tuple r = together.read(Map.of("value", value), "select :value::float8 v")
                    .get(0)
                    .get(0);
            assertThat(r.getDouble("v")).isEqualTo(value);
        }
        assertThat(one("select 'NaN'::float8 v").getDouble("v")).isNaN();
        assertThat(one("select '-Infinity'::float8 v").getDoubleOrNull("v")).isEqualTo(Double.NEGATIVE_INFINITY);
    }

    @Test
    void keepTheMicrosecondsOfAMoment() {
        Tuple r = one("select '2026-03-29 01:59:59.123456+05:30'::timestamptz at, '2026-03-29'::date as day");
        assertThat(r.getInstant("at")).isEqualTo(Instant.parse("2026-03-28T20:29:59.123456Z"));
        assertThat(r.getDate("day")).isEqualTo(LocalDate.of(2026, 3, 29));
    }

    @Test
    void tellNothingWhereNothingIs() {
        Tuple r = one("select null::text t, null::int i, null::bigint l, null::float8 d, null::numeric n,"
                + " null::timestamptz at, null::date as day, null::json rows");
        assertThat(r.getString("t")).isNull();
        assertThat(r.getIntOrNull("i")).isNull();
        assertThat(r.getLongOrNull("l")).isNull();
        assertThat(r.getDoubleOrNull("d")).isNull();
        assertThat(r.getBigDecimal("n")).isNull();
        assertThat(r.getInstant("at")).isNull();
        assertThat(r.getDate("day")).isNull();
        assertThat(r.getRows("rows")).isEmpty();
    }

    @Test
    void bringChildrenAlongWithTheirRow() {
        Tuple r = one("select (select json_agg(c order by c.n desc) from (values (1, 'a'), (2, null)) c (n, t)) rows,"
                + " array['x', 'ü \"y\" 🚗'] strings, array[3, 1] ints, '{\"k\": [1.50]}'::jsonb json");
        assertThat(r.getRows("rows"))
                .extracting(c -> c.getInt("n") + String.valueOf(c.getString("t")))
                .containsExactly("2null", "1a");
        assertThat(r.getStrings("strings")).containsExactly("x", "ü \"y\" 🚗");
        assertThat(r.getInts("ints")).containsExactly(3, 1);
        assertThat(r.getJson("json").path("k").get(0).decimalValue()).isEqualTo(new BigDecimal("1.50"));
    }

    @Test
    void refuseAColumnThatIsNotThere() {
        assertThatThrownBy(() -> one("select 1 there").getInt("their"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("their")
                .hasMessageContaining("there");
    }
}
