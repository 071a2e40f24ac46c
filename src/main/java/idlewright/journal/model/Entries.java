package idlewright.journal.model;

import idlewright.journal.rules.Chain;
import idlewright.journal.rules.Entry;
import idlewright.journal.rules.Verification;
import jakarta.persistence.EntityManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;
import org.springframework.transaction.annotation.Isolation;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/** The journal's rows: added at the end of the chain, read, never changed. */
@Repository
public class Entries {

    /** An act that is noted but not yet sealed. */
    public record Note(
            Instant at,
            @Nullable Long personId,
            String person,
            String kind,
            @Nullable Integer ticket,
            String sentence,
            String facts) {}

    /** The last entry's number and hash. */
    public record Head(long lastId, String hash) {}

    private static final String COLUMNS =
            "id, at, person_id, person, kind, ticket, sentence, facts, previous_hash, hash";

    private final JdbcClient jdbc;
    private final EntityManager rows;

    Entries(JdbcClient jdbc, EntityManager rows) {
        this.jdbc = jdbc;
        this.rows = rows;
    }

    /** Seals the notes in their order. Locks the chain until the commit, so it is to be the last thing before it. */
    public void append(List<Note> notes) {
        // Whatever else this transaction writes is written first: a row lock asked for while the chain is held could
        // wait for somebody who waits for the chain.
        rows.flush();
        var head = jdbc.sql("select last_id, hash from journal_head for update")
                .query(Head.class)
                .single();
        var chain = Chain.after(head.lastId(), head.hash());
        Entry last = null;
        for (var note : notes) {
            last = chain.seal(
                    note.at(),
                    note.personId(),
                    note.person(),
                    note.kind(),
                    note.ticket(),
                    note.sentence(),
                    note.facts());
            insert(last);
        }
        if (last != null) {
            jdbc.sql("update journal_head set last_id = ?, hash = ?")
                    .params(last.id(), last.hash())
                    .update();
        }
    }

    private void insert(Entry entry) {
        jdbc.sql("insert into journal_entry (" + COLUMNS + ") values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)")
                .param(entry.id())
                .param(OffsetDateTime.ofInstant(entry.at(), ZoneOffset.UTC))
                .param(entry.personId())
                .param(entry.person())
                .param(entry.kind())
                .param(entry.ticket())
                .param(entry.sentence())
                .param(entry.facts())
                .param(entry.previousHash())
                .param(entry.hash())
                .update();
    }

    public Head head() {
        return jdbc.sql("select last_id, hash from journal_head")
                .query(Head.class)
                .single();
    }

    public List<Entry> of(int ticket) {
        return jdbc.sql("select " + COLUMNS + " from journal_entry where ticket = ? order by id")
                .param(ticket)
                .query(Entries::entry)
                .list();
    }

    public List<Entry> latest(int limit, long beforeId) {
        return jdbc.sql("select " + COLUMNS + " from journal_entry where id < ? order by id desc limit ?")
                .params(beforeId, limit)
                .query(Entries::entry)
                .list();
    }

    public Optional<Entry> lastVerification() {
        return jdbc.sql("select " + COLUMNS
                        + " from journal_entry where kind = 'verification' order by id desc limit 1")
                .query(Entries::entry)
                .optional();
    }

    /** Walks all entries in one snapshot, so that what is noted meanwhile does not disturb it. */
    @Transactional(propagation = Propagation.REQUIRES_NEW, isolation = Isolation.REPEATABLE_READ, readOnly = true)
    public Verification walk(@Nullable String knownHead, Instant at) {
        var head = head();
        var chain = new Chain(knownHead);
        try (var entries = jdbc
                .sql("select " + COLUMNS + " from journal_entry order by id")
                .withFetchSize(5_000)
                .query(Entries::entry)
                .stream()) {
            entries.takeWhile(chain::accept).forEach(sound -> {});
        }
        return chain.end(head.lastId(), head.hash(), at);
    }

    private static Entry entry(ResultSet row, int number) throws SQLException {
        return new Entry(
                row.getLong(1),
                row.getObject(2, OffsetDateTime.class).toInstant(),
                row.getObject(3, Long.class),
                row.getString(4),
                row.getString(5),
                row.getObject(6, Integer.class),
                row.getString(7),
                row.getString(8),
                row.getString(9),
                row.getString(10));
    }
}
