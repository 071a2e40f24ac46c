package idlewright.journal.model;

import static org.assertj.core.api.Assertions.assertThat;
import static org.mockito.Mockito.mock;

import idlewright.ground.TestDatabase;
import idlewright.journal.rules.Chain;
import jakarta.persistence.EntityManager;
import java.io.StringReader;
import java.sql.DriverManager;
import java.time.Duration;
import java.time.Instant;
import java.util.Map;
import org.flywaydb.core.Flyway;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.postgresql.PGConnection;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.SingleConnectionDataSource;

/** Not among the tests: run it with {@code -Dtest=JournalBenchmark}. */
@DisplayName("The check of a long journal")
class JournalBenchmark {

    private static final int ENTRIES = 1_000_000;

    @Test
    @DisplayName("walks a million entries in less than 30 seconds")
    void walksAMillionEntries() throws Exception {
        var owner = TestDatabase.fresh().owner();
        Flyway.configure()
                .dataSource(owner.url(), owner.role(), owner.password())
                .placeholders(Map.of("appRole", "idlewright_app"))
                .load()
                .migrate();
        try (var connection = DriverManager.getConnection(owner.url(), owner.role(), owner.password())) {
            connection.setAutoCommit(false);
            var copy = connection.unwrap(PGConnection.class).getCopyAPI();
            var chain = new Chain(null);
            var at = Instant.parse("2026-01-02T08:00:00Z");
            var last = "";
            for (int i = 0; i < ENTRIES; ) {
                var rows = new StringBuilder();
                for (int n = 0; n < 10_000; n++, i++) {
                    var entry = chain.seal(
                            at.plusSeconds(i),
                            null,
                            "Tamsin Oake",
                            "reading",
                            1000 + i / 40,
                            "Air flow at idle: 4." + i % 100 + " g/s, within the limit.",
                            "{\"measurement\":" + i + ",\"quantity\":\"air flow\",\"value\":\"4." + i % 100 + "\"}");
                    rows.append(entry.id())
                            .append('\t')
                            .append(entry.at())
                            .append("\t\\N\t")
                            .append(entry.person())
                            .append('\t')
                            .append(entry.kind())
                            .append('\t')
                            .append(entry.ticket())
                            .append('\t')
                            .append(entry.sentence())
                            .append('\t')
                            .append(entry.facts())
                            .append('\t')
                            .append(entry.previousHash())
                            .append('\t')
                            .append(entry.hash())
                            .append('\n');
                    last = entry.hash();
                }
                copy.copyIn("copy journal_entry from stdin", new StringReader(rows.toString()));
            }
            var sql = JdbcClient.create(new SingleConnectionDataSource(connection, true));
            sql.sql("update journal_head set last_id = ?, hash = ?")
                    .params(ENTRIES, last)
                    .update();
            connection.commit();

            var begun = System.nanoTime();
            var outcome = new Entries(sql, mock(EntityManager.class)).walk(null, at);
            var took = Duration.ofNanos(System.nanoTime() - begun);
            System.out.println("SPEED: a journal of 1,000,000 entries was checked in " + took.toMillis() + " ms");
            assertThat(outcome.sound()).isTrue();
            assertThat(took).isLessThan(Duration.ofSeconds(30));
        }
    }
}
