package idlewright.people;

import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.people.model.Accounts;
import idlewright.people.model.Key;
import idlewright.people.model.Keys;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The keys by which other programs ask this one. */
@Component
public class ApiKeys {

    private final Keys keys;
    private final Accounts accounts;
    private final People people;
    private final JdbcClient jdbc;
    private final Clock clock;
    private final ApplicationEventPublisher events;

    ApiKeys(
            Keys keys,
            Accounts accounts,
            People people,
            JdbcClient jdbc,
            Clock clock,
            ApplicationEventPublisher events) {
        this.keys = keys;
        this.accounts = accounts;
        this.people = people;
        this.jdbc = jdbc;
        this.clock = clock;
        this.events = events;
    }

    /** Makes a key and returns it: the only moment it can be read. */
    @Transactional
    public String make(@Nullable String name) {
        return keep(name, "iw_" + Secrets.random());
    }

    /** Keeps a key that somebody else made up; for a demo shop, whose key everybody may know. */
    @Transactional
    public String keep(@Nullable String name, String secret) {
        String plain = name == null ? "" : name.strip();
        if (plain.isEmpty() || plain.length() > 60) {
            throw Refused.at("name", "Name the program that will use the key, in at most 60 letters.");
        }
        if (keys.existsByNameIgnoreCaseAndRetiredAtIsNull(plain)) {
            throw Refused.at("name", "A key with this name is in use. Retire it first or choose another name.");
        }
        Person by = people.me();
        var key = keys.saveAndFlush(new Key(
                plain, Secrets.digest(secret), secret.substring(secret.length() - 4), clock.instant(), by.id()));
        events.publishEvent(
                new Happened("key made", by.name() + " made the API key " + plain + ".", Map.of("key", key.id())));
        return secret;
    }

    /** Every key there is and was, those in use first. */
    @OnlyReads
    public List<ApiKey> all() {
        return jdbc.sql("""
                select k.id, k.name, k.tail, p.name as made_by, k.made_at, k.used_at, k.retired_at
                from api_key k join person p on p.id = k.made_by
                order by k.retired_at is not null, lower(k.name), k.id""")
                .query((row, n) -> new ApiKey(
                        row.getLong("id"),
                        row.getString("name"),
                        row.getString("tail"),
                        row.getString("made_by"),
                        row.getTimestamp("made_at").toInstant(),
                        moment(row, "used_at"),
                        moment(row, "retired_at")))
                .list();
    }

    @Transactional
    public void retire(long id) {
        var key = keys.findById(id).orElseThrow(() -> NotFound.of("key " + id));
        Person by = people.me();
        key.retire(clock.instant(), by.id());
        keys.saveAndFlush(key);
        events.publishEvent(
                new Happened("key retired", by.name() + " retired the API key " + key.name() + ".", Map.of("key", id)));
    }

    /** The badge of a program that shows this key: it acts in the name of the person who made the key. */
    @Transactional
    public Optional<Badge> by(String secret) {
        return keys.findByKeyHash(Secrets.digest(secret))
                .filter(key -> !key.retired())
                .flatMap(key -> accounts.findById(key.madeBy())
                        .filter(maker -> !maker.retired())
                        .map(maker -> {
                            key.used(clock.instant());
                            Person person = new Person(
                                    maker.id(),
                                    maker.name() + " (key " + key.name() + ")",
                                    maker.person().roles());
                            return new Badge(person, maker.generation(), clock.instant(), null);
                        }));
    }

    private static @Nullable Instant moment(ResultSet row, String column) throws SQLException {
        Timestamp moment = row.getTimestamp(column);
        return moment == null ? null : moment.toInstant();
    }
}
