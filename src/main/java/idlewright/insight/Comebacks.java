package idlewright.insight;

import idlewright.billing.Rates;
import idlewright.billing.WorkRates;
import idlewright.frame.OnlyReads;
import idlewright.frame.Times;
import idlewright.insight.rules.Groups;
import idlewright.insight.rules.HandedThread;
import idlewright.insight.rules.HandedThread.Fitted;
import idlewright.insight.rules.Sorting;
import idlewright.intake.rules.SymptomKinds;
import idlewright.proof.rules.ReturnReason;
import idlewright.reference.money.Money;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Which threads came back. Figures and lists come from the same rows, so that they cannot differ. */
@Component
@OnlyReads
public class Comebacks {

    /** Why threads came back; the key is null where nobody said so yet. */
    public record Reason(@Nullable String key, String words, List<HandedThread> threads) {}

    /**
     * What comebacks cost: charges as the shop's prices are, before tax or with it; what it bears before tax.
     *
     * @param atCost whether free work is reckoned at what an hour costs the shop; at today's rate as long as the owner has
     *     not said what that is
     */
    public record Cost(
            int visits,
            Money charged,
            BigDecimal freeHours,
            Money freeWork,
            boolean atCost,
            Money freeParts,
            boolean withTax) {

        public Money all() {
            return freeWork.plus(freeParts);
        }

        /** Work that is reckoned at today's rate holds the tax where the shop's prices do. */
        public String borne() {
            return withTax && !atCost ? "parts before tax, work with tax" : "before tax";
        }

        /** "3.5 h". */
        public String hours() {
            return freeHours
                            .setScale(2, RoundingMode.HALF_UP)
                            .stripTrailingZeros()
                            .toPlainString()
                    + " h";
        }
    }

    private static final String UNEXPLAINED = "none";

    private final JdbcClient jdbc;
    private final SymptomKinds kinds;
    private final Rates rates;
    private final WorkRates workRates;
    private final Times times;

    Comebacks(JdbcClient jdbc, SymptomKinds kinds, Rates rates, WorkRates workRates, Times times) {
        this.workRates = workRates;
        this.jdbc = jdbc;
        this.kinds = kinds;
        this.rates = rates;
        this.times = times;
    }

    /** The threads of cars handed back in the last so many months, the newest first. */
    public List<HandedThread> threads(int months) {
        Timestamp from = from(months);
        var parts = parts(from);
        var names = kinds.names();
        return jdbc.sql(
                        "select * from insight_thread where handed_back_at >= ? order by handed_back_at desc, ticket_number desc, place")
                .param(from)
                .query((r, n) -> thread(r, parts, names))
                .list();
    }

    /** Why they came back, the most frequent first, the unexplained last. */
    public List<Reason> reasons(List<HandedThread> threads) {
        Map<String, List<HandedThread>> sorted = new LinkedHashMap<>();
        for (HandedThread thread : threads) {
            if (thread.cameBack()) {
                sorted.computeIfAbsent(key(thread), key -> new ArrayList<>()).add(thread);
            }
        }
        return sorted.entrySet().stream()
                .map(entry -> new Reason(
                        entry.getKey().equals(UNEXPLAINED) ? null : entry.getKey(),
                        words(entry.getKey()),
                        entry.getValue()))
                .sorted(java.util.Comparator.comparing((Reason reason) -> reason.key() == null)
                        .thenComparing(reason -> -reason.threads().size())
                        .thenComparing(Reason::words))
                .toList();
    }

    /** What the visits cost that these comebacks made necessary. */
    public Cost cost(List<HandedThread> threads) {
        var visits = threads.stream()
                .map(HandedThread::comeback)
                .filter(java.util.Objects::nonNull)
                .distinct()
                .toArray(Integer[]::new);
        var currency = rates.currency();
        Optional<Money> hour = workRates.costRate();
        boolean withTax = rates.pricesHoldTax();
        return jdbc.sql("""
                select count(*), coalesce(sum(charged), 0), coalesce(sum(free_hours), 0), coalesce(sum(free_parts), 0),
                    coalesce(sum(free_work), 0), coalesce(sum(free_hours - priced_hours), 0)
                from insight_comeback_cost where comeback_number = any(?)""")
                .param(visits)
                .query((r, n) -> new Cost(
                        r.getInt(1),
                        Money.rounded(r.getBigDecimal(2), currency),
                        r.getBigDecimal(3),
                        hour.isEmpty()
                                ? rates.labourRate().times(r.getBigDecimal(3))
                                : Money.rounded(r.getBigDecimal(5), currency)
                                        .plus(hour.get().times(r.getBigDecimal(6))),
                        hour.isPresent(),
                        Money.rounded(r.getBigDecimal(4), currency),
                        withTax))
                .single();
    }

    public Groups groups(Sorting by, List<HandedThread> threads) {
        return Groups.of(by, threads);
    }

    /** The key of why it came back; "none" when nobody said so yet. */
    public String key(HandedThread thread) {
        return thread.reason() == null ? UNEXPLAINED : thread.reason();
    }

    /** The reason's key in words. */
    public String words(String reason) {
        return Arrays.stream(ReturnReason.values())
                .filter(one -> one.name().equals(reason))
                .map(ReturnReason::words)
                .findFirst()
                .orElse(reason.equals(UNEXPLAINED) ? "not explained yet" : reason);
    }

    private Timestamp from(int months) {
        LocalDate day = times.today().minusMonths(months);
        return Timestamp.from(day.atStartOfDay(times.zone()).toInstant());
    }

    private Map<String, List<Fitted>> parts(Timestamp from) {
        record Row(String thread, Fitted part) {}
        return jdbc
                .sql("select p.* from insight_part p where p.handed_back_at >= ? order by p.ticket_number, p.place")
                .param(from)
                .query((r, n) -> new Row(
                        r.getInt("ticket_number") + "/" + r.getInt("place"),
                        new Fitted(
                                r.getString("what"),
                                r.getString("number"),
                                r.getString("maker"),
                                r.getString("supplier"),
                                r.getString("lot"))))
                .list()
                .stream()
                .collect(Collectors.groupingBy(Row::thread, Collectors.mapping(Row::part, Collectors.toList())));
    }

    private HandedThread thread(ResultSet r, Map<String, List<Fitted>> parts, Map<String, String> names)
            throws SQLException {
        int ticket = r.getInt("ticket_number");
        int place = r.getInt("place");
        Timestamp returned = r.getTimestamp("returned_at");
        return new HandedThread(
                ticket,
                place,
                r.getString("kind"),
                names.getOrDefault(r.getString("kind"), r.getString("kind")),
                r.getString("words"),
                r.getString("vehicle"),
                r.getString("plate"),
                day(r.getTimestamp("handed_back_at").toInstant()),
                r.getBoolean("proved"),
                r.getString("cause"),
                r.getString("cause_name"),
                r.getString("technician"),
                parts.getOrDefault(ticket + "/" + place, List.of()),
                returned == null ? null : day(returned.toInstant()),
                r.getString("reason"),
                r.getString("reason_words"),
                (Integer) r.getObject("comeback_number"));
    }

    private LocalDate day(Instant moment) {
        return LocalDate.ofInstant(moment, times.zone());
    }
}
