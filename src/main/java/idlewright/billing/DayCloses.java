package idlewright.billing;

import idlewright.billing.rules.Booking;
import idlewright.billing.rules.Method;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import java.math.BigDecimal;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Currency;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The front door for closing a day: what came in by which means, and what lies in the drawer. */
@Component
@Transactional
public class DayCloses {

    /** How a day was closed; nothing of it changes. */
    public record Closed(
            LocalDate day,
            Money opening,
            Money cashIn,
            Money cashOut,
            Money counted,
            Money banked,
            @Nullable String words,
            String journalHead,
            Instant at,
            String who) {

        public Money expected() {
            return opening.plus(cashIn).minus(cashOut);
        }

        public Money difference() {
            return counted.minus(expected());
        }

        /** What stays in the drawer for the next day. */
        public Money left() {
            return counted.minus(banked);
        }
    }

    /** What came in and went out by one means. */
    public record Means(Method method, Money in, Money out) {

        public Money sum() {
            return in.minus(out);
        }
    }

    /** One move of money of the day. */
    public record Move(
            long id,
            Booking booking,
            Method method,
            Money amount,
            @Nullable String invoice,
            Instant at,
            String who) {}

    /** One invoice or credit note of the day. */
    public record Issued(String number, boolean creditNote, String customer, Money net, Money tax, Money total) {}

    /** A day, closed or not. */
    public record Day(
            LocalDate day,
            @Nullable Closed closed,
            Money opening,
            List<Means> means,
            List<Move> moves,
            List<Issued> issued) {

        public Money cashIn() {
            return cash().in();
        }

        public Money cashOut() {
            return cash().out();
        }

        public Money expected() {
            return opening.plus(cashIn()).minus(cashOut());
        }

        public Money in() {
            return Money.sum(means.stream().map(Means::in).toList(), opening.currency());
        }

        public Money out() {
            return Money.sum(means.stream().map(Means::out).toList(), opening.currency());
        }

        public Money invoiced() {
            return Money.sum(issued.stream().map(Issued::total).toList(), opening.currency());
        }

        public boolean quiet() {
            return moves.isEmpty() && issued.isEmpty();
        }

        private Means cash() {
            return means.stream()
                    .filter(one -> one.method() == Method.CASH)
                    .findFirst()
                    .orElseThrow();
        }
    }

    private static final String LOCK = "hashtext('day close')";

    private final Shops shops;
    private final People people;
    private final Journal journal;
    private final Times times;
    private final JdbcClient jdbc;
    private final Clock clock;

    DayCloses(Shops shops, People people, Journal journal, Times times, JdbcClient jdbc, Clock clock) {
        this.shops = shops;
        this.people = people;
        this.journal = journal;
        this.times = times;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** The day money that moves now is booked on: today, or the next one that is not closed. Nobody closes it meanwhile. */
    LocalDate bookingDay() {
        jdbc.sql("select pg_advisory_xact_lock_shared(" + LOCK + ")")
                .query((r, n) -> 0)
                .single();
        LocalDate today = times.today();
        List<LocalDate> closed = jdbc.sql("select day from day_close where day >= ? order by day")
                .param(today)
                .query(LocalDate.class)
                .list();
        LocalDate day = today;
        while (closed.contains(day)) {
            day = day.plusDays(1);
        }
        return day;
    }

    public void close(
            LocalDate day, BigDecimal opening, BigDecimal counted, BigDecimal banked, @Nullable String words) {
        jdbc.sql("select pg_advisory_xact_lock(" + LOCK + ")")
                .query((r, n) -> 0)
                .single();
        if (closed(day).isPresent()) {
            throw Refused.because("%s is closed already.".formatted(times.day(day)));
        }
        if (day.isAfter(times.today())) {
            throw Refused.because("A day is closed when it has come, not before.");
        }
        earlierOpen(day).ifPresent(earlier -> {
            throw Refused.because("Close %s first: money moved on it.".formatted(times.day(earlier)));
        });
        Currency currency = shops.shop().currency();
        var problems = new LinkedHashMap<String, String>();
        amount(problems, "opening", opening, currency);
        amount(problems, "counted", counted, currency);
        amount(problems, "banked", banked, currency);
        if (problems.isEmpty() && banked.compareTo(counted) > 0) {
            problems.put("banked", "Not more than was counted.");
        }
        Refused.ifAny(problems);
        Day now = read(day, Money.of(opening, currency));
        Money difference = Money.of(counted, currency).minus(now.expected());
        if (!difference.isZero() && (words == null || words.isBlank())) {
            throw Refused.at(
                    "words",
                    "%s should lie in the drawer; that is %s %s. Say why, or that nobody knows."
                            .formatted(
                                    now.expected().text(),
                                    (difference.isNegative() ? difference.negate() : difference).text(),
                                    difference.isNegative() ? "too little" : "too much"));
        }
        if (words != null && words.length() > 500) {
            throw Refused.at("words", "Keep it under 500 characters.");
        }
        journal.note(
                "day closed",
                null,
                "%s was closed, the drawer counted %s."
                        .formatted(
                                times.day(day), difference.isZero() ? "right" : "with a difference of " + difference),
                Map.of(
                        "day",
                        day.toString(),
                        "counted",
                        Money.of(counted, currency).text(),
                        "difference",
                        difference.text()));
        jdbc.sql("""
                insert into day_close (day, currency, opening, cash_in, cash_out, counted, banked, words, journal_head, at, who)
                values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)""")
                .param(day)
                .param(currency.getCurrencyCode())
                .param(opening)
                .param(now.cashIn().amount())
                .param(now.cashOut().amount())
                .param(counted)
                .param(banked)
                .param(words)
                .param(journal.head())
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .update();
    }

    private static void amount(Map<String, String> problems, String field, BigDecimal amount, Currency currency) {
        if (amount.signum() < 0 || amount.stripTrailingZeros().scale() > currency.getDefaultFractionDigits()) {
            problems.put(field, "Enter an amount from 0 up, in whole coins.");
        }
    }

    /** A day as it stands. */
    @OnlyReads
    public Day day(LocalDate day) {
        return read(day, null);
    }

    /** The days that were closed, the latest first. */
    @OnlyReads
    public List<Closed> latest(int limit) {
        return jdbc.sql("select * from day_close order by day desc limit ?")
                .param(limit)
                .query((r, n) -> closed(r))
                .list();
    }

    /** The first day that waits to be closed: the oldest open one on which money moved since the last close, else today. */
    @OnlyReads
    public LocalDate next() {
        return earlierOpen(times.today()).orElse(times.today());
    }

    /** Once days are closed, none is passed over on which money moved. */
    private Optional<LocalDate> earlierOpen(LocalDate day) {
        // From day to day on which money moved, each found by the index: the payments of a closed day are not read.
        return jdbc.sql("""
                with recursive moved (day) as (
                    select min(p.booked) from payment p where p.booked > (select min(c.day) from day_close c)
                    union all
                    select (select min(p.booked) from payment p where p.booked > m.day) from moved m
                    where m.day < :day and exists (select from day_close c where c.day = m.day))
                select min(m.day) from moved m where m.day < :day and not exists (select from day_close c where c.day = m.day)""").param("day", day).query(LocalDate.class).optional();
    }

    private Optional<Closed> closed(LocalDate day) {
        return jdbc.sql("select * from day_close where day = ?")
                .param(day)
                .query((r, n) -> closed(r))
                .optional();
    }

    private Day read(LocalDate day, @Nullable Money opening) {
        Closed closed = closed(day).orElse(null);
        Currency currency =
                closed == null ? shops.shop().currency() : closed.opening().currency();
        List<Move> moves = jdbc.sql("select * from payment where booked = ? order by id")
                .param(day)
                .query((r, n) -> {
                    Money amount = Money.rounded(r.getBigDecimal("amount"), currency);
                    Method method = Method.valueOf(r.getString("method"));
                    return new Move(
                            r.getLong("id"),
                            Booking.of(
                                    r.getString("invoice_number") != null,
                                    r.getObject("ticket_number") != null,
                                    amount.isPositive(),
                                    method),
                            method,
                            amount,
                            r.getString("invoice_number"),
                            r.getTimestamp("at").toInstant(),
                            r.getString("who"));
                })
                .list();
        List<Issued> issued = jdbc.sql(
                        "select number, credits, customer, net, tax, total from invoice where booked = ? order by issued_at, number")
                .param(day)
                .query((r, n) -> new Issued(
                        r.getString("number"),
                        r.getString("credits") != null,
                        r.getString("customer"),
                        Money.rounded(r.getBigDecimal("net"), currency),
                        Money.rounded(r.getBigDecimal("tax"), currency),
                        Money.rounded(r.getBigDecimal("total"), currency)))
                .list();
        var means = List.of(Method.CASH, Method.CARD, Method.TRANSFER, Method.OTHER).stream()
                .map(method ->
                        new Means(method, sum(moves, method, true, currency), sum(moves, method, false, currency)))
                .toList();
        Money first = closed != null ? closed.opening() : opening != null ? opening : leftBefore(day, currency);
        return new Day(day, closed, first, means, moves, issued);
    }

    private static Money sum(List<Move> moves, Method method, boolean in, Currency currency) {
        Money sum = Money.sum(
                moves.stream()
                        .filter(move -> move.method() == method && move.amount().isPositive() == in)
                        .map(Move::amount)
                        .toList(),
                currency);
        return in ? sum : sum.negate();
    }

    private Money leftBefore(LocalDate day, Currency currency) {
        return jdbc.sql("select counted - banked from day_close where day < ? order by day desc limit 1")
                .param(day)
                .query(BigDecimal.class)
                .optional()
                .map(left -> Money.rounded(left, currency))
                .orElse(Money.zero(currency));
    }

    private static Closed closed(ResultSet r) throws SQLException {
        Currency currency = Currency.getInstance(r.getString("currency"));
        return new Closed(
                r.getObject("day", LocalDate.class),
                Money.of(r.getBigDecimal("opening"), currency),
                Money.of(r.getBigDecimal("cash_in"), currency),
                Money.of(r.getBigDecimal("cash_out"), currency),
                Money.of(r.getBigDecimal("counted"), currency),
                Money.of(r.getBigDecimal("banked"), currency),
                r.getString("words"),
                r.getString("journal_head"),
                r.getTimestamp("at").toInstant(),
                r.getString("who"));
    }
}
