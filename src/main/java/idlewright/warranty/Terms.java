package idlewright.warranty;

import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Stale;
import idlewright.frame.Together;
import idlewright.frame.Tuple;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.warranty.rules.Promise;
import java.math.BigDecimal;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** What the shop promises on parts and on labour; a change holds for invoices issued from then on. */
@Component
@Transactional
public class Terms {

    /** The promises and the version of the card they stand on. */
    public record Card(
            Promise parts,
            Promise labour,
            String words,
            long version,
            String setBy,
            @Nullable Instant since) {}

    /** Every card there was, the newest first; read by {@link #card(Tuple)}. */
    static final String HISTORY = "select t.*, isfinite(t.holds_from) dated from terms t order by t.id desc";

    /** The card that holds now. */
    static final String HELD = HISTORY + " limit 1";

    private final Together together;

    private final JdbcClient jdbc;
    private final Journal journal;
    private final People people;
    private final Clock clock;

    Terms(Together together, JdbcClient jdbc, Journal journal, People people, Clock clock) {
        this.together = together;
        this.jdbc = jdbc;
        this.journal = journal;
        this.people = people;
        this.clock = clock;
    }

    /** What holds now. */
    @OnlyReads
    public Card card() {
        return card(together.read(Map.of(), HELD).get(0).get(0));
    }

    /** What held at a moment: that of the invoice, on which the terms are printed. */
    static Card heldAt(List<Card> history, Instant moment) {
        return history.stream()
                .filter(card -> card.since() == null || !card.since().isAfter(moment))
                .findFirst()
                .orElseThrow();
    }

    /** Sets both promises without further words. */
    public void set(Promise parts, Promise labour, long version) {
        set(parts, labour, "", version);
    }

    /** Sets both promises and the words printed below them, from what a form of that version showed. */
    public void set(Promise parts, Promise labour, String words, long version) {
        var problems = new LinkedHashMap<String, String>();
        if (parts.months() > 120) {
            problems.put("partMonths", "Enter 0 to 120 months.");
        }
        if (labour.months() > 120) {
            problems.put("labourMonths", "Enter 0 to 120 months.");
        }
        if (words.length() > 2000) {
            problems.put("words", "Keep it under 2,000 characters.");
        }
        Refused.ifAny(problems);
        jdbc.sql("select pg_advisory_xact_lock(hashtext('terms'))")
                .query((r, n) -> 0)
                .single();
        Card now = card();
        if (now.version() != version) {
            throw new Stale(
                    "The warranty terms",
                    List.of(
                            new Stale.Clash("parts", parts.words(), now.parts().words()),
                            new Stale.Clash(
                                    "labour", labour.words(), now.labour().words())),
                    now.setBy(),
                    now.since(),
                    "/set-up/terms");
        }
        jdbc.sql("""
                insert into terms (part_months, part_distance, part_falling, labour_months, labour_distance, labour_falling, unit,
                    words, holds_from, set_by)
                values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)""")
                .param(parts.months())
                .param(parts.distance())
                .param(parts.falling())
                .param(labour.months())
                .param(labour.distance())
                .param(labour.falling())
                .param(parts.unit())
                .param(words)
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .update();
        journal.note(
                "warranty terms set",
                null,
                "Parts: %s. Labour: %s.".formatted(parts.words(), labour.words()),
                Map.of("parts", parts.words(), "labour", labour.words()));
    }

    static Card card(Tuple r) {
        String unit = r.getString("unit");
        return new Card(
                new Promise(
                        r.getInt("part_months"),
                        bare(r.getBigDecimal("part_distance")),
                        unit,
                        r.getBoolean("part_falling")),
                new Promise(
                        r.getInt("labour_months"),
                        bare(r.getBigDecimal("labour_distance")),
                        unit,
                        r.getBoolean("labour_falling")),
                r.getString("words"),
                r.getLong("id"),
                r.getString("set_by"),
                r.getBoolean("dated") ? r.getInstant("holds_from") : null);
    }

    private static @Nullable BigDecimal bare(@Nullable BigDecimal distance) {
        return distance == null
                ? null
                : new BigDecimal(distance.stripTrailingZeros().toPlainString());
    }
}
