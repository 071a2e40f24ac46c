package idlewright.people;

import com.github.benmanes.caffeine.cache.Caffeine;
import com.github.benmanes.caffeine.cache.LoadingCache;
import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.people.model.BayTerminal;
import idlewright.people.model.BayTerminals;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The browsers in the bay at which technicians change by PIN. */
@Component
public class Terminals {

    private final BayTerminals terminals;
    private final People people;
    private final JdbcClient jdbc;
    private final Clock clock;
    private final ApplicationEventPublisher events;
    private final LoadingCache<Long, Boolean> inUse;

    Terminals(BayTerminals terminals, People people, JdbcClient jdbc, Clock clock, ApplicationEventPublisher events) {
        this.terminals = terminals;
        this.people = people;
        this.jdbc = jdbc;
        this.clock = clock;
        this.events = events;
        this.inUse = Caffeine.newBuilder()
                .maximumSize(1_000)
                .expireAfterWrite(Duration.ofSeconds(10))
                .build(id -> terminals.findById(id).filter(t -> !t.retired()).isPresent());
    }

    /** Enrols the browser that keeps the token this returns; the token is nowhere else. */
    @Transactional
    public String enrol(@Nullable String name) {
        String plain = name == null ? "" : name.strip();
        if (plain.isEmpty() || plain.length() > 60) {
            throw Refused.at("name", "Name the terminal by its place, like \"Bay 2\", in at most 60 letters.");
        }
        if (terminals.existsByNameIgnoreCaseAndRetiredAtIsNull(plain)) {
            throw Refused.at("name", "A terminal with this name is in use. Retire it first or choose another name.");
        }
        String token = Secrets.random();
        Person by = people.me();
        var terminal = terminals.saveAndFlush(new BayTerminal(plain, Secrets.digest(token), clock.instant(), by.id()));
        events.publishEvent(new Happened(
                "terminal enrolled",
                by.name() + " enrolled the terminal " + plain + ".",
                Map.of("terminal", terminal.id())));
        return token;
    }

    /** The terminal in use that holds this token. */
    @OnlyReads
    public Optional<Terminal> at(String token) {
        return terminals
                .findByTokenHash(Secrets.digest(token))
                .filter(terminal -> !terminal.retired())
                .flatMap(terminal -> all().stream()
                        .filter(line -> line.id() == terminal.id())
                        .findFirst());
    }

    /** Every terminal there is and was, those in use first. */
    @OnlyReads
    public List<Terminal> all() {
        return jdbc.sql("""
                select t.id, t.name, t.enrolled_at, p.name as enrolled_by, t.retired_at
                from terminal t join person p on p.id = t.enrolled_by
                order by t.retired_at is not null, lower(t.name), t.id""")
                .query((row, n) -> {
                    Timestamp retired = row.getTimestamp("retired_at");
                    return new Terminal(
                            row.getLong("id"),
                            row.getString("name"),
                            row.getTimestamp("enrolled_at").toInstant(),
                            row.getString("enrolled_by"),
                            retired == null ? null : retired.toInstant());
                })
                .list();
    }

    /** Ends the terminal's sessions too. */
    @Transactional
    public void retire(long id) {
        var terminal = terminals.findById(id).orElseThrow(() -> NotFound.of("terminal " + id));
        Person by = people.me();
        terminal.retire(clock.instant(), by.id());
        terminals.saveAndFlush(terminal);
        inUse.invalidate(id);
        events.publishEvent(new Happened(
                "terminal retired",
                by.name() + " retired the terminal " + terminal.name() + ".",
                Map.of("terminal", id)));
    }

    boolean inUse(long id) {
        return inUse.get(id);
    }
}
