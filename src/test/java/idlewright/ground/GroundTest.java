package idlewright.ground;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Map;
import org.flywaydb.core.Flyway;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.DriverManagerDataSource;

@SpringBootTest
@WithDatabase
class GroundTest {

    @Autowired
    JdbcClient sql;

    @Test
    void theAppLogsInAsARoleThatOwnsNothing() {
        assertThat(sql.sql("select current_user").query(String.class).single()).isEqualTo("idlewright_app");
        assertThat(sql.sql("select count(*) from pg_class where pg_get_userbyid(relowner) = current_user")
                        .query(Long.class)
                        .single())
                .isZero();
        assertThatThrownBy(() -> sql.sql("create table sneaked_in(id int)").update())
                .rootCause()
                .hasMessageContaining("permission denied");
    }

    @Test
    void theServerKeepsWhatItAcknowledges() {
        for (String setting : new String[] {"fsync", "full_page_writes", "synchronous_commit"}) {
            assertThat(sql.sql("show " + setting).query(String.class).single())
                    .as(setting)
                    .isEqualTo("on");
        }
    }

    @Test
    void theAppMayAppendReadingsButNotChangeThem() throws SQLException {
        TestDatabase.Both alone = TestDatabase.fresh();
        migrate(alone, PostgresAtHome.APP);
        run(alone, "create table if not exists reading(id int)", "create table if not exists scribble(id int)");
        migrate(alone, PostgresAtHome.APP);
        assertThat(rights(alone, "reading")).isEqualTo("select insert");
        assertThat(rights(alone, "scribble")).isEqualTo("select insert update delete");
        assertThat(rights(alone, "flyway_schema_history")).isEqualTo("select");
    }

    @Test
    void oneLoginForOwnerAndAppKeepsItsRights() throws SQLException {
        TestDatabase.Both alone = TestDatabase.fresh();
        migrate(alone, PostgresAtHome.OWNER);
        run(alone, "create table if not exists reading(id int)");
        migrate(alone, PostgresAtHome.OWNER);
        run(alone, "update reading set id = id");
    }

    private static void migrate(TestDatabase.Both database, String appRole) {
        Flyway.configure()
                .dataSource(
                        database.owner().url(),
                        database.owner().role(),
                        database.owner().password())
                .placeholders(Map.of("appRole", appRole))
                .load()
                .migrate();
    }

    private static void run(TestDatabase.Both database, String... statements) throws SQLException {
        try (Connection connection = DriverManager.getConnection(
                        database.owner().url(),
                        database.owner().role(),
                        database.owner().password());
                Statement sql = connection.createStatement()) {
            for (String statement : statements) {
                sql.execute(statement);
            }
        }
    }

    private static String rights(TestDatabase.Both database, String table) {
        return JdbcClient.create(new DriverManagerDataSource(
                        database.app().url(),
                        database.app().role(),
                        database.app().password()))
                .sql("select string_agg(p, ' ' order by n) from unnest(array['select','insert','update','delete'])"
                        + " with ordinality as t(p, n) where has_table_privilege(current_user, :table, p)")
                .param("table", table)
                .query(String.class)
                .single();
    }
}
