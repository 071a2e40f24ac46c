package idlewright.bench;

import idlewright.bench.rules.Catalogue;
import idlewright.bench.rules.KeyState;
import idlewright.bench.rules.Limit;
import idlewright.bench.rules.Point;
import idlewright.bench.rules.Procedure;
import idlewright.bench.rules.Refusal;
import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Stale;
import idlewright.frame.Together;
import idlewright.frame.Tuple;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.reference.units.Unit;
import idlewright.reference.verdict.Ground;
import java.sql.Timestamp;
import java.time.Clock;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The front door for procedures: the catalogue's and, beside them, simple ones of the shop's own. */
@Component
@Transactional
public class Procedures {

    private static final int MOST_POINTS = 12;
    private static final int MOST_LINES = 40;

    /** What the owner writes down. */
    public record Telling(
            @Nullable String name,
            @Nullable String purpose,
            @Nullable KeyState state,
            @Nullable Integer minutes,
            List<String> cautions,
            List<String> steps,
            List<Asked> points) {}

    /**
     * One reading it asks for.
     *
     * @param low lowest good value in the unit, and {@code high} the highest; with either, the ground is needed
     * @param citation needed for a published limit
     */
    public record Asked(
            @Nullable String label,
            @Nullable Unit unit,
            @Nullable Double low,
            @Nullable Double high,
            @Nullable Ground ground,
            @Nullable String citation) {}

    private static final String EDITIONS = """
            select p.*, (select json_agg(o order by o.place) from own_procedure_point o where o.procedure_id = p.id) points
            from own_procedure p\s""";

    /** The editions that tests of a ticket were done by; read by {@link #procedure}. */
    static final String OF_TICKET = EDITIONS + """
            where exists (select from measurement m
                where m.ticket_number = :ticket and m.procedure_key = p.key and m.procedure_version = p.edition)""";

    private final Catalogue catalogue;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;
    private final Together together;

    Procedures(Catalogue catalogue, People people, Journal journal, JdbcClient jdbc, Clock clock, Together together) {
        this.catalogue = catalogue;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
        this.together = together;
    }

    /** As it is done now; a retired one of the shop's own too, because tests were done by it. */
    @OnlyReads
    public Optional<Procedure> find(String key) {
        return own(key)
                ? read(Map.of("key", key), "where p.key = :key").stream().findFirst()
                : catalogue.procedure(key);
    }

    /** As it was when a test was done by it; of the catalogue's there is only the one of today. */
    @OnlyReads
    public Optional<Procedure> find(String key, int edition) {
        return own(key)
                ? read(Map.of("key", key, "edition", edition), "where p.key = :key and p.edition = :edition").stream()
                        .findFirst()
                : catalogue.procedure(key);
    }

    /** Those of the shop's own that are in use, by name. */
    @OnlyReads
    public List<Procedure> own() {
        return read(Map.of(), """
                where p.edition = (select max(l.edition) from own_procedure l where l.key = p.key)
                and not exists (select from own_procedure_end e where e.key = p.key)""");
    }

    /** The catalogue's, then those of the shop's own that are in use. */
    @OnlyReads
    public List<Procedure> all() {
        return Stream.concat(catalogue.procedures().stream(), own().stream()).toList();
    }

    /** Whether it is one of the shop's own. */
    public static boolean own(String key) {
        return key.startsWith("own-");
    }

    /** Whether it was retired. */
    @OnlyReads
    public boolean retired(String key) {
        return jdbc.sql("select count(*) from own_procedure_end where key = ?")
                        .param(key)
                        .query(Integer.class)
                        .single()
                > 0;
    }

    /** Writes one down; gives back its key. */
    public String write(Telling telling) {
        String key = "own-" + UUID.randomUUID().toString().substring(0, 8);
        add(key, 1, telling);
        return key;
    }

    /**
     * Writes a new edition; tests done by the old one keep it.
     *
     * @param edition the one that was seen when this was typed
     */
    public void amend(String key, int edition, Telling telling) {
        Procedure now = find(key).filter(each -> own(key)).orElseThrow(() -> NotFound.of("procedure " + key));
        if (now.version() != edition) {
            throw new Stale(
                    now.name(),
                    List.of(new Stale.Clash("steps", String.join(" ", telling.steps()), String.join(" ", now.steps()))),
                    "somebody at another terminal",
                    null,
                    "/set-up/procedures/" + key);
        }
        add(key, edition + 1, telling);
    }

    /** It is no longer offered; what was read by it stays. */
    public void retire(String key) {
        Procedure procedure = find(key).filter(each -> own(key)).orElseThrow(() -> NotFound.of("procedure " + key));
        int ended = jdbc.sql("insert into own_procedure_end (key, at, who) values (?, ?, ?) on conflict do nothing")
                .param(key)
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .update();
        if (ended == 1) {
            journal.note(
                    "procedure retired", null, procedure.name() + " is no longer offered.", Map.of("procedure", key));
        }
    }

    private void add(String key, int edition, Telling telling) {
        check(telling);
        long id = jdbc.sql("""
                        insert into own_procedure (key, edition, name, purpose, state, minutes, cautions, steps, at, who)
                        values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) returning id""")
                .param(key)
                .param(edition)
                .param(telling.name())
                .param(telling.purpose())
                .param(telling.state() == null ? null : telling.state().name())
                .param(telling.minutes())
                .param(telling.cautions().toArray(String[]::new))
                .param(telling.steps().toArray(String[]::new))
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .query(Long.class)
                .single();
        int place = 0;
        for (Asked asked : telling.points()) {
            jdbc.sql("""
                            insert into own_procedure_point (procedure_id, place, label, unit, low, high, ground, citation)
                            values (?, ?, ?, ?, ?, ?, ?, ?)""")
                    .param(id)
                    .param(++place)
                    .param(asked.label())
                    .param(asked.unit() == null ? null : asked.unit().name())
                    .param(asked.low())
                    .param(asked.high())
                    .param(asked.ground() == null ? null : asked.ground().name())
                    .param(asked.citation() == null ? "" : asked.citation())
                    .update();
        }
        journal.note(
                edition == 1 ? "procedure written" : "procedure amended",
                null,
                telling.name() + (edition == 1 ? " was written down." : ", edition " + edition + ", was written down."),
                Map.of("procedure", key, "edition", edition));
    }

    private static void check(Telling t) {
        var problems = new LinkedHashMap<String, String>();
        if (t.name() == null || t.name().length() > 120) {
            problems.put("name", "Give it a name of at most 120 letters.");
        }
        if (t.purpose() == null || t.purpose().length() > 600) {
            problems.put("purpose", "Say what it is for, in at most 600 letters.");
        }
        if (t.state() == null) {
            problems.put("state", "Choose what key and engine do.");
        }
        if (t.minutes() == null || t.minutes() < 1 || t.minutes() > 600) {
            problems.put("minutes", "Enter about how many minutes it takes, 1 to 600.");
        }
        if (t.cautions().isEmpty() || t.cautions().size() > MOST_LINES) {
            problems.put("caution", "Say what can hurt somebody or break something, a line each.");
        }
        if (t.steps().isEmpty() || t.steps().size() > MOST_LINES) {
            problems.put("steps", "Write the steps, a line each.");
        }
        if (t.points().isEmpty() || t.points().size() > MOST_POINTS) {
            problems.put("points[0].label", "Name at least one reading.");
        }
        Set<String> keys = new HashSet<>();
        for (int i = 0; i < t.points().size(); i++) {
            check(t.points().get(i), "points[" + i + "].", keys, problems);
        }
        Refused.ifAny(problems);
    }

    private static void check(Asked asked, String at, Set<String> keys, Map<String, String> problems) {
        if (asked.label() == null
                || asked.label().length() > 120
                || slug(asked.label()).isEmpty()) {
            problems.put(at + "label", "Say what is read, in at most 120 letters.");
        } else if (!keys.add(slug(asked.label()))) {
            problems.put(at + "label", "Two readings are called alike: say what sets them apart.");
        }
        if (asked.unit() == null) {
            problems.put(at + "unit", "Choose the unit.");
        }
        if (asked.low() == null && asked.high() == null) {
            return;
        }
        if (asked.ground() == null || asked.ground() == Ground.KNOWN_GOOD) {
            problems.put(at + "ground", "Say why the limit is believed.");
        } else if (asked.unit() != null) {
            try {
                limit(asked.low(), asked.high(), asked.unit(), asked.ground(), asked.citation());
            } catch (Refusal no) {
                problems.put(
                        at + (asked.ground() == Ground.PUBLISHED && asked.citation() == null ? "citation" : "low"),
                        String.valueOf(no.getMessage()));
            }
        }
    }

    private static @Nullable Limit limit(
            @Nullable Double low,
            @Nullable Double high,
            Unit unit,
            @Nullable Ground ground,
            @Nullable String citation) {
        if (ground == null) {
            return null;
        }
        String cited = citation == null || citation.isBlank()
                ? ground == Ground.COMMON_PRACTICE ? Limit.NO_SOURCE : ""
                : citation;
        return new Limit(low, high, unit, ground, cited);
    }

    private List<Procedure> read(Map<String, ?> values, String where) {
        return together.read(values, EDITIONS + where + " order by p.name, p.edition desc").get(0).stream()
                .map(Procedures::procedure)
                .toList();
    }

    /** One edition of a procedure of the shop's own. */
    static Procedure procedure(Tuple r) {
        return new Procedure(
                r.getString("key"),
                r.getInt("edition"),
                r.getString("name"),
                r.getString("purpose"),
                Procedure.Moment.SEEKING,
                r.getStrings("cautions"),
                List.of(),
                KeyState.valueOf(r.getString("state")),
                List.of(),
                List.of(),
                r.getStrings("steps"),
                r.getInt("minutes"),
                List.of(),
                List.of(),
                r.getRows("points").stream().map(Procedures::point).toList(),
                List.of());
    }

    private static Point point(Tuple r) {
        Unit unit = Unit.valueOf(r.getString("unit"));
        String ground = r.getString("ground");
        Limit limit = limit(
                r.getDoubleOrNull("low"),
                r.getDoubleOrNull("high"),
                unit,
                ground == null ? null : Ground.valueOf(ground),
                r.getString("citation"));
        return new Point(
                slug(r.getString("label")),
                r.getString("label"),
                Point.Kind.NUMBER,
                Point.Per.ONCE,
                List.of(unit),
                "",
                "",
                null,
                null,
                null,
                limit,
                List.of(),
                List.of(),
                false,
                null,
                null,
                "",
                "",
                "",
                limit == null ? "the shop wrote down no limit." : "",
                "",
                true);
    }

    /** A key that says what is read, so that the same reading of a later edition is the same. */
    private static String slug(String label) {
        String plain = label.toLowerCase(Locale.ROOT).replaceAll("[^\\p{L}\\p{Nd}]+", "-");
        String bare = plain.replaceAll("^-|-$", "");
        return bare.length() <= 60 ? bare : bare.substring(0, 60);
    }
}
