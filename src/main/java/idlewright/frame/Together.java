package idlewright.frame;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * Several small reads as one statement, so that a page on which many rooms speak does not walk to the database once for each
 * of their tables: over a slow wire the walks are what a page costs.
 */
@Component
public class Together {

    private final JdbcClient jdbc;

    Together(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /** What each query gives, in the order asked; all see the same values by name, and the same moment of the database. */
    public List<List<Tuple>> read(Map<String, ?> values, String... queries) {
        return jdbc.sql(Arrays.stream(queries)
                        .map("(select json_agg(q) from (%s) q)"::formatted)
                        .collect(Collectors.joining(",\n", "select ", "")))
                .params(values)
                .query((r, n) -> {
                    List<List<Tuple>> told = new ArrayList<>();
                    for (int i = 1; i <= queries.length; i++) {
                        told.add(Tuple.of(r.getString(i)));
                    }
                    return told;
                })
                .single();
    }
}
