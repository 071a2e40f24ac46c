package idlewright.ground;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.flywaydb.core.Flyway;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Signs in to PostgreSQL as the running app does, as anybody can who reads {@code db.password}, and tries. */
@Tag("database")
@DisplayName("With the app's own login")
class AppRoleTest {

    private static final TestDatabase.Both DATABASE = TestDatabase.fresh();
    private static Connection app;

    @BeforeAll
    static void migrateAsTheOwnerAndEnterAsTheApp() throws SQLException {
        var owner = DATABASE.owner();
        Flyway.configure()
                .dataSource(owner.url(), owner.role(), owner.password())
                .placeholders(Map.of("appRole", PostgresAtHome.APP))
                .load()
                .migrate();
        var login = DATABASE.app();
        app = DriverManager.getConnection(login.url(), login.role(), login.password());
    }

    @AfterAll
    static void leave() throws SQLException {
        app.close();
    }

    @ParameterizedTest(name = "no row of {0} is changed, deleted or emptied")
    @ValueSource(
            strings = {
                "journal_entry",
                "stamp",
                "reading",
                "authorisation",
                "invoice",
                "invoice_line",
                "invoice_paper",
                "payment",
                "exhibit",
                "image_mark",
                "image_mark_removal",
                "dossier",
                "seal_key"
            })
    void noRowIsChanged(String table) {
        String column = first("select column_name from information_schema.columns where table_schema = 'public'"
                + " and table_name = '" + table + "' and is_identity = 'NO' order by ordinal_position limit 1");
        for (String attempt : List.of(
                "update " + table + " set " + column + " = " + column,
                "delete from " + table,
                "truncate " + table,
                "truncate " + table + " cascade")) {
            assertThatThrownBy(() -> run(attempt)).as(attempt).hasMessageContaining("permission denied for table");
        }
        for (String attempt : List.of(
                "alter table " + table + " disable trigger all",
                "alter table " + table + " add column more text",
                "alter table " + table + " owner to " + PostgresAtHome.APP,
                "create rule r as on delete to " + table + " do instead nothing",
                "drop table " + table,
                "drop table " + table + " cascade")) {
            assertThatThrownBy(() -> run(attempt)).as(attempt).hasMessageContaining("must be owner");
        }
    }

    /** PostgreSQL 15 words two of its refusals otherwise than later ones do. */
    @ParameterizedTest(name = "{0}: {1}")
    @CsvSource(
            delimiter = '~',
            value = {
                "set session_replication_role = replica ~ permission denied",
                "create or replace function refuse_change() returns trigger language plpgsql as 'begin return new; end'"
                        + " ~ permission denied for schema public",
                "drop function refuse_change() cascade ~ must be owner",
                "create table journal_entry_2 as table journal_entry ~ permission denied for schema public",
                "drop schema public cascade ~ must be owner",
                "set role idlewright_owner ~ permission denied to set role",
                "alter role idlewright_app superuser ~ permission denied to alter role|must be superuser",
                "update flyway_schema_history set success = false ~ permission denied for table",
                "delete from journal_head ~ permission denied for table",
                "copy journal_entry to program 'cat' ~ permission denied to COPY|must be superuser",
            })
    void noWayRound(String attempt, String refused) {
        assertThatThrownBy(() -> run(attempt)).as(attempt).hasMessageFindingMatch(refused);
    }

    @ParameterizedTest(name = "a {0}''s words are taken away for nobody but who is forgotten")
    @ValueSource(strings = {"stamp", "exhibit", "mark"})
    void wordsStayUnlessSomebodyIsForgotten(String what) {
        assertThatThrownBy(() -> run("select take_words_away('" + what + "', 1)"))
                .hasMessageContaining("when the customer is forgotten");
    }

    @Test
    @DisplayName("the head of the journal only moves on")
    void theHeadOnlyMovesOn() {
        assertThatThrownBy(() -> run("update journal_head set last_id = 0, hash = repeat('0', 64)"))
                .hasMessageContaining("only moves on");
    }

    @Test
    @DisplayName("nothing in the database belongs to it")
    void ownsNothing() {
        assertThat(
                        all(
                                "select relname from pg_class where relowner = (select oid from pg_roles where rolname = current_user)"))
                .isEmpty();
        assertThat(
                        all(
                                "select proname from pg_proc where proowner = (select oid from pg_roles where rolname = current_user)"))
                .isEmpty();
        assertThat(first("select rolsuper or rolcreaterole or rolcreatedb or rolbypassrls from pg_roles"
                        + " where rolname = current_user"))
                .isEqualTo("f");
    }

    @Test
    @DisplayName("every table that says of itself that its rows stand has lost the right to change them")
    void everyStandingTableIsShut() {
        assertThat(all("""
                select distinct c.relname from pg_trigger t
                join pg_proc f on f.oid = t.tgfoid and f.proname = 'refuse_change'
                join pg_class c on c.oid = t.tgrelid
                where (t.tgtype & 16 > 0 and has_table_privilege(c.oid, 'update'))
                   or (t.tgtype & 8 > 0 and has_table_privilege(c.oid, 'delete'))
                   or has_table_privilege(c.oid, 'truncate')""")).isEmpty();
    }

    private static void run(String sql) throws SQLException {
        try (var statement = app.createStatement()) {
            statement.execute(sql);
        }
    }

    private static String first(String sql) {
        return all(sql).get(0);
    }

    private static List<String> all(String sql) {
        var found = new ArrayList<String>();
        try (var statement = app.createStatement();
                var rows = statement.executeQuery(sql)) {
            while (rows.next()) {
                found.add(rows.getString(1));
            }
        } catch (SQLException e) {
            throw new IllegalStateException(e);
        }
        return found;
    }
}
