package idlewright.billing;

import idlewright.billing.rules.HoursStep;
import idlewright.billing.rules.LineKind;
import idlewright.frame.OnlyReads;
import idlewright.frame.ReadOnce;
import idlewright.frame.Refused;
import idlewright.frame.Stale;
import idlewright.intake.TicketNumber;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.reference.money.Money;
import java.math.BigDecimal;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The kinds of work the shop names, what an hour of each costs the customer, and what an hour costs the shop. */
@Component
@Transactional
public class WorkRates {

    /** A kind of work; without a rate it goes at the shop's hour. */
    public record Kind(String name, @Nullable BigDecimal rate) {}

    /** All of it as it was set at one time. */
    public record Card(
            List<Kind> kinds,
            HoursStep rounding,
            @Nullable BigDecimal costRate,
            long version,
            Instant since,
            String setBy) {

        String words() {
            return kinds.stream()
                    .map(kind -> kind.name()
                            + (kind.rate() == null ? "" : " " + kind.rate().toPlainString()))
                    .collect(Collectors.joining(", "));
        }
    }

    private final Rates rates;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;
    private final ReadOnce once;

    WorkRates(Rates rates, People people, Journal journal, JdbcClient jdbc, Clock clock, ReadOnce once) {
        this.rates = rates;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
        this.once = once;
    }

    /** What holds now. */
    @OnlyReads
    public Card card() {
        return once.of(Card.class, this::read);
    }

    private Card read() {
        record Row(Card card, Kind kind) {}
        List<Row> rows = jdbc.sql("""
                select c.id, c.rounding, c.cost_rate, c.at, c.who, k.name, k.rate from work_card c
                join work_kind k on k.card_id = c.id
                where c.id = (select max(id) from work_card) order by k.nr""")
                .query((r, n) -> new Row(
                        new Card(
                                List.of(),
                                HoursStep.valueOf(r.getString("rounding")),
                                r.getBigDecimal("cost_rate"),
                                r.getLong("id"),
                                r.getTimestamp("at").toInstant(),
                                r.getString("who")),
                        new Kind(r.getString("name"), r.getBigDecimal("rate"))))
                .list();
        Card head = rows.get(0).card();
        return new Card(
                rows.stream().map(Row::kind).toList(),
                head.rounding(),
                head.costRate(),
                head.version(),
                head.since(),
                head.setBy());
    }

    /** What an hour of a kind costs the customer, as the shop's prices are; a kind nobody knows goes at the shop's hour. */
    @OnlyReads
    public Money rate(String kind) {
        return card().kinds().stream()
                .filter(one -> one.name().equals(kind) && one.rate() != null)
                .map(one -> Money.rounded(one.rate(), rates.currency()))
                .findFirst()
                .orElseGet(rates::labourRate);
    }

    /** What an hour of a kind costs on a ticket, as the ticket prices. */
    @OnlyReads
    public Money rate(TicketNumber number, String kind) {
        return rates.priced(number, LineKind.LABOUR, rate(kind));
    }

    /** What an hour costs the shop; empty as long as the owner has not said so. */
    @OnlyReads
    public Optional<Money> costRate() {
        return Optional.ofNullable(card().costRate()).map(rate -> Money.rounded(rate, rates.currency()));
    }

    /** Sets all of it, from what a form of that version showed; what is charged already keeps its price. */
    public void set(List<Kind> kinds, HoursStep rounding, @Nullable BigDecimal costRate, long version) {
        Refused.ifAny(problems(kinds, costRate));
        jdbc.sql("select pg_advisory_xact_lock(hashtext('work rates'))")
                .query((r, n) -> 0)
                .single();
        Card now = read();
        if (now.version() != version) {
            String yours = new Card(kinds, rounding, costRate, version, now.since(), now.setBy()).words();
            throw new Stale(
                    "The kinds of work",
                    List.of(
                            new Stale.Clash("kinds and rates", yours, now.words()),
                            new Stale.Clash(
                                    "rounding", rounding.words(), now.rounding().words())),
                    now.setBy(),
                    now.since(),
                    "/set-up/work-rates");
        }
        long id = jdbc.sql("insert into work_card (rounding, cost_rate, at, who) values (?, ?, ?, ?) returning id")
                .param(rounding.name())
                .param(costRate)
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .query(Long.class)
                .single();
        int nr = 0;
        for (Kind kind : kinds) {
            jdbc.sql("insert into work_kind (card_id, nr, name, rate) values (?, ?, ?, ?)")
                    .param(id)
                    .param(++nr)
                    .param(kind.name())
                    .param(kind.rate())
                    .update();
        }
        journal.note(
                "work rates set",
                null,
                "The kinds of work and their rates were changed.",
                Map.of("kinds", kinds.stream().map(Kind::name).toList(), "rounding", rounding.name()));
    }

    private static Map<String, String> problems(List<Kind> kinds, @Nullable BigDecimal costRate) {
        var problems = new LinkedHashMap<String, String>();
        if (kinds.isEmpty()) {
            problems.put("name-1", "Name at least one kind of work.");
        }
        var names = new HashSet<String>();
        for (int i = 0; i < kinds.size(); i++) {
            Kind kind = kinds.get(i);
            if (kind.name().isBlank() || kind.name().length() > 60) {
                problems.put("name-" + (i + 1), "Name the kind of work in up to 60 letters.");
            } else if (!names.add(kind.name().toLowerCase(Locale.ROOT))) {
                problems.put("name-" + (i + 1), "“%s” stands here twice.".formatted(kind.name()));
            }
            if (outOfRange(kind.rate())) {
                problems.put("rate-" + (i + 1), "Enter an amount from 0 to 100,000, or leave it empty.");
            }
        }
        if (outOfRange(costRate)) {
            problems.put("costRate", "Enter an amount from 0 to 100,000, or leave it empty.");
        }
        return problems;
    }

    private static boolean outOfRange(@Nullable BigDecimal rate) {
        return rate != null && (rate.signum() < 0 || rate.compareTo(BigDecimal.valueOf(100_000)) > 0);
    }
}
