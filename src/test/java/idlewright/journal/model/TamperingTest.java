package idlewright.journal.model;

import static org.assertj.core.api.Assertions.assertThat;
import static org.mockito.Mockito.mock;

import idlewright.ground.TestDatabase;
import idlewright.journal.model.Entries.Note;
import idlewright.journal.rules.Chain;
import idlewright.journal.rules.Verification;
import idlewright.journal.rules.Verification.Kind;
import jakarta.persistence.EntityManager;
import java.sql.Connection;
import java.sql.DriverManager;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Map;
import java.util.SplittableRandom;
import org.flywaydb.core.Flyway;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.SingleConnectionDataSource;

@Tag("database")
@DisplayName("A journal in the hands of somebody who owns the database")
class TamperingTest {

    private static final int ENTRIES = 400;
    private static final Instant NOON = Instant.parse("2026-11-09T12:00:00Z");

    private Connection connection;
    private JdbcClient sql;
    private Entries entries;
    private String keptHead;

    @BeforeEach
    void writeAJournal() throws Exception {
        var owner = TestDatabase.fresh().owner();
        Flyway.configure()
                .dataSource(owner.url(), owner.role(), owner.password())
                .placeholders(Map.of("appRole", "idlewright_app"))
                .load()
                .migrate();
        connection = DriverManager.getConnection(owner.url(), owner.role(), owner.password());
        connection.setAutoCommit(false);
        sql = JdbcClient.create(new SingleConnectionDataSource(connection, true));
        entries = new Entries(sql, mock(EntityManager.class));
        var notes = new ArrayList<Note>();
        for (int i = 1; i <= ENTRIES; i++) {
            notes.add(new Note(NOON, null, "Jo Ash", "reading", i % 7, "Read " + i + " g/s.", "{\"line\":" + i + "}"));
        }
        entries.append(notes);
        keptHead = entries.head().hash();
        sql.sql("alter table journal_entry disable trigger user").update();
        sql.sql("alter table journal_head disable trigger user").update();
        connection.commit();
    }

    @AfterEach
    void leave() throws Exception {
        connection.close();
    }

    @Test
    @DisplayName("is sound before anything was done to it")
    void isSound() {
        assertThat(walk().sentence()).isEqualTo("All 400 entries are as they were written.");
    }

    @Test
    @DisplayName("names the one entry whose letter was changed, 100 times of 100")
    void namesTheChangedEntry() throws Exception {
        var random = new SplittableRandom(17);
        for (int round = 0; round < 100; round++) {
            var id = random.nextInt(1, ENTRIES + 1);
            var column = new String[] {"sentence", "person", "kind"}[random.nextInt(3)];
            sql.sql("update journal_entry set %1$s = overlay(%1$s placing '~' from 2 for 1) where id = ?"
                            .formatted(column))
                    .param(id)
                    .update();
            assertThat(walk().fault())
                    .isEqualTo(new Verification.Fault(
                            id, Kind.CHANGED, "Entry " + id + " does not say what was written at first."));
            connection.rollback();
        }
    }

    @Test
    void namesTheDeletedEntry() {
        sql.sql("delete from journal_entry where id = 200").update();
        assertThat(walk().sentence()).isEqualTo("Entry 200 is missing: after 199 comes 201.");
    }

    @Test
    void namesTheFirstOfTwoSwappedEntries() {
        sql.sql("update journal_entry set id = 9999 where id = 50").update();
        sql.sql("update journal_entry set id = 50 where id = 70").update();
        sql.sql("update journal_entry set id = 70 where id = 9999").update();
        assertThat(walk().fault())
                .extracting(Verification.Fault::entry, Verification.Fault::kind)
                .containsExactly(50L, Kind.OUT_OF_PLACE);
    }

    @Test
    void findsATruncatedEndByTheHeadRow() {
        sql.sql("delete from journal_entry where id > 390").update();
        assertThat(walk().sentence()).isEqualTo("Entries from 391 on are gone: the head says that there were 400.");
    }

    @Test
    @DisplayName("with a forged head row: finds the truncated end only by a head that was kept elsewhere")
    void findsATruncatedEndBehindAForgedHeadRowByAKeptHead() {
        sql.sql("delete from journal_entry where id > 390").update();
        sql.sql("update journal_head set last_id = 390, hash = (select hash from journal_entry where id = 390)")
                .update();
        assertThat(walk().sound()).isTrue();
        assertThat(entries.walk(keptHead, NOON).fault())
                .extracting(Verification.Fault::kind)
                .isEqualTo(Kind.OTHER_HEAD);
    }

    @Test
    void findsAJournalWrittenAnewByAKeptHead() {
        sql.sql("delete from journal_entry").update();
        sql.sql("update journal_head set last_id = 0, hash = ?")
                .param(Chain.START)
                .update();
        entries.append(new ArrayList<>(
                java.util.List.of(new Note(NOON, null, "Jo Ash", "reading", 1, "Read nothing.", "{}"))));
        assertThat(walk().sound()).isTrue();
        assertThat(entries.walk(keptHead, NOON).sound()).isFalse();
    }

    /** A second hand, which shares no line with the first: PostgreSQL writes the JSON and hashes it. */
    @Test
    @DisplayName("is walked by plain SQL too, which names the same entry")
    void isWalkedByPlainSql() throws Exception {
        sql.sql("alter table journal_entry drop constraint journal_entry_person_id_fkey")
                .update();
        entries.append(java.util.List.of(
                new Note(
                        NOON,
                        7L,
                        "Jo \"Ash\"",
                        "a\\b",
                        3,
                        "Tab\there, line\nthere, \u0001, \u00e9, \ud83d\ude00, / <&>",
                        "{}"),
                new Note(NOON.plusMillis(120), null, "the system", "k", null, "Thousandths.", "{\"a\":\"\\u0001\"}"),
                new Note(NOON.plusNanos(123_456_000), null, "the system", "k", null, "Millionths.", "{}")));
        assertThat(bySql()).isEmpty();
        sql.sql("update journal_entry set sentence = sentence || '.' where id = 402")
                .update();
        assertThat(bySql()).containsExactly("402 changed");
        sql.sql("delete from journal_entry where id = 120").update();
        assertThat(bySql()).containsExactly("120 missing");
        sql.sql("update journal_entry set id = 9999 where id = 50").update();
        sql.sql("update journal_entry set id = 50 where id = 70").update();
        sql.sql("update journal_entry set id = 70 where id = 9999").update();
        assertThat(bySql()).containsExactly("50 out of place");
        assertThat(walk().fault()).extracting(Verification.Fault::entry).isEqualTo(50L);
    }

    private java.util.List<String> bySql() throws Exception {
        String file = java.nio.file.Files.readString(java.nio.file.Path.of("docs/verify-journal.sql"));
        return sql.sql(file.substring(file.indexOf("with walked"), file.indexOf(";", file.indexOf("limit 1"))))
                .query((row, n) -> row.getLong("entry") + " " + row.getString("fault"))
                .list();
    }

    private Verification walk() {
        return walk(null);
    }

    private Verification walk(@Nullable String known) {
        return entries.walk(known, NOON);
    }
}
