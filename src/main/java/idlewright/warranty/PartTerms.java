package idlewright.warranty;

import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Together;
import idlewright.frame.Tuple;
import idlewright.intake.TicketNumber;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.repair.SwapView;
import idlewright.repair.Swaps;
import idlewright.warranty.rules.Giver;
import idlewright.warranty.rules.Promise;
import java.math.BigDecimal;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** What suppliers and makers promise on the parts that were fitted. */
@Component
@Transactional
public class PartTerms {

    /**
     * A promise on one part.
     *
     * @param name of the one who gives it
     * @param labour whether it pays for the work too
     * @param source where that is written
     */
    public record Given(
            long swap,
            Giver giver,
            String name,
            String part,
            Promise promise,
            boolean labour,
            String source,
            Instant at,
            String who) {

        /** "Corrin (maker)". */
        public String by() {
            return name + " (" + giver.words() + ")";
        }

        public String words() {
            return promise.words() + (labour ? ", work included" : ", without the work");
        }
    }

    private static final String GIVEN = "select p.* from part_promise p ";

    /** What holds for the parts of a ticket; read by {@link #given}. */
    static final String OF_TICKET = GIVEN + "where p.ticket_number = :ticket order by p.swap_id, p.giver";

    private final Together together;
    private final Swaps swaps;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    PartTerms(Together together, Swaps swaps, People people, Journal journal, JdbcClient jdbc, Clock clock) {
        this.together = together;
        this.swaps = swaps;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Notes what one of the two promises on a part; a later word takes the place of an earlier, and both stay. */
    public void keep(long swap, Giver giver, Promise promise, boolean labour, String source) {
        SwapView view = swaps.get(swap);
        var problems = new LinkedHashMap<String, String>();
        if (promise.months() > 240) {
            problems.put("months", "Enter 0 to 240 months.");
        }
        if (source.isBlank() || source.length() > 400) {
            problems.put("source", "Say where that is written, like: delivery note, card in the box.");
        }
        Refused.ifAny(problems);
        jdbc.sql("""
                insert into part_terms (swap_id, giver, months, distance, unit, falling, labour, source, at, who)
                values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)""")
                .param(swap)
                .param(giver.name())
                .param(promise.months())
                .param(promise.distance())
                .param(promise.unit())
                .param(promise.falling())
                .param(labour)
                .param(source.strip())
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .update();
        journal.note(
                "part terms",
                view.thread().ticket().value(),
                "%s %s: the %s promises %s."
                        .formatted(view.fitted().what(), view.fitted().number(), giver.words(), promise.words()),
                Map.of("swap", swap, "giver", giver.name()));
    }

    /** What holds for one part. */
    @OnlyReads
    public List<Given> of(long swap) {
        return read(Map.of("swap", swap), "where p.swap_id = :swap order by p.giver");
    }

    /** What holds for the parts of a ticket. */
    @OnlyReads
    public List<Given> of(TicketNumber ticket) {
        return together.read(Map.of("ticket", ticket.value()), OF_TICKET).get(0).stream()
                .map(PartTerms::given)
                .toList();
    }

    /** What the same supplier or maker promised last, on whatever part. */
    @OnlyReads
    public Optional<Given> usual(Giver giver, String name) {
        return read(Map.of("giver", giver.name(), "name", name), """
                where p.giver = :giver
                and lower(case p.giver when 'MAKER' then p.fitted_maker else p.fitted_supplier end) = lower(:name)
                order by p.id desc limit 1""").stream().findFirst();
    }

    private List<Given> read(Map<String, ?> values, String where) {
        return together.read(values, GIVEN + where).get(0).stream()
                .map(PartTerms::given)
                .toList();
    }

    static Given given(Tuple r) {
        var giver = Giver.valueOf(r.getString("giver"));
        return new Given(
                r.getLong("swap_id"),
                giver,
                r.getString(giver == Giver.MAKER ? "fitted_maker" : "fitted_supplier"),
                r.getString("what") + ", " + r.getString("fitted_number"),
                new Promise(
                        r.getInt("months"),
                        plain(r.getBigDecimal("distance")),
                        r.getString("unit"),
                        r.getBoolean("falling")),
                r.getBoolean("labour"),
                r.getString("source"),
                r.getInstant("at"),
                r.getString("who"));
    }

    private static @Nullable BigDecimal plain(@Nullable BigDecimal distance) {
        return distance == null
                ? null
                : new BigDecimal(distance.stripTrailingZeros().toPlainString());
    }
}
