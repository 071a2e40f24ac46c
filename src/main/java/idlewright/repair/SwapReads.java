package idlewright.repair;

import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.journal.Exhibit;
import idlewright.journal.Exhibits;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import idlewright.repair.SwapView.Ended;
import idlewright.repair.SwapView.Photo;
import idlewright.repair.rules.Answer;
import idlewright.repair.rules.Check;
import idlewright.repair.rules.FittedPart;
import idlewright.repair.rules.NumberGround;
import idlewright.repair.rules.PartNumbers;
import idlewright.repair.rules.Pay;
import idlewright.repair.rules.RemovedPart;
import idlewright.repair.rules.Went;
import java.math.BigDecimal;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Reads swaps with their answers, steps and photos: a fixed number of queries however many there are. */
@Component
class SwapReads {

    /** Which of the two parts a photo shows. */
    enum Side {
        REMOVED,
        FITTED
    }

    private final JdbcClient jdbc;
    private final Exhibits exhibits;
    private final Shops shops;

    SwapReads(JdbcClient jdbc, Exhibits exhibits, Shops shops) {
        this.jdbc = jdbc;
        this.exhibits = exhibits;
        this.shops = shops;
    }

    Optional<SwapView> one(long id) {
        return jdbc.sql("select ticket_number from swap where id = ?")
                .param(id)
                .query(Integer.class)
                .optional()
                .flatMap(number -> of(new TicketNumber(number)).stream()
                        .filter(swap -> swap.id() == id)
                        .findFirst());
    }

    List<SwapView> of(TicketNumber number) {
        var went = new HashMap<Long, List<Went>>();
        var ended = new HashMap<Long, Ended>();
        steps(number, went, ended);
        // Every swap begins with a step that says where the old part went.
        if (went.isEmpty()) {
            return List.of();
        }
        var answers = answers(number);
        var photos = photos(number);
        return jdbc.sql("""
                select s.*, g.source ground_source, g.reason ground_reason, g.by_whom ground_by_whom, g.how ground_how
                from swap s
                left join lateral (select * from swap_ground g where g.swap_id = s.id order by g.id desc limit 1) g on true
                where s.ticket_number = ? order by s.id""")
                .param(number.value())
                .query((r, n) -> {
                    long id = r.getLong("id");
                    var removed = new RemovedPart(
                            r.getString("removed_number"),
                            r.getString("removed_maker"),
                            r.getString("removed_date_code"),
                            r.getString("removed_condition"),
                            went.get(id).get(0));
                    var fitted = new FittedPart(
                            r.getString("what"),
                            r.getString("fitted_number"),
                            r.getString("fitted_maker"),
                            r.getString("fitted_serial"),
                            r.getString("fitted_supplier"),
                            money(r.getBigDecimal("fitted_cost")));
                    return new SwapView(
                            id,
                            new SymptomRef(number, r.getInt("place")),
                            removed,
                            went.get(id).get(went.get(id).size() - 1),
                            fitted,
                            r.getBoolean("trial"),
                            pay(r),
                            PartNumbers.compare(removed.number(), fitted.number()),
                            ground(r),
                            answers.getOrDefault(id, Map.of()),
                            photos.getOrDefault(id, List.of()),
                            r.getTimestamp("at").toInstant(),
                            r.getString("who"),
                            ended.get(id));
                })
                .list();
    }

    private Map<Long, Map<Check, Answer>> answers(TicketNumber number) {
        var found = new HashMap<Long, Map<Check, Answer>>();
        jdbc.sql("""
                select a.swap_id, a.item, a.seen, a.words from swap_answer a join swap s on s.id = a.swap_id
                where s.ticket_number = ? order by a.id""").param(number.value()).query((ResultSet r) -> {
            found.computeIfAbsent(r.getLong(1), id -> new EnumMap<>(Check.class))
                    .put(
                            Check.valueOf(r.getString(2)),
                            new Answer(Answer.Seen.valueOf(r.getString(3)), r.getString(4)));
        });
        return found;
    }

    private static @Nullable NumberGround ground(ResultSet r) throws SQLException {
        String source = r.getString("ground_source");
        if (source != null) {
            return new NumberGround.Supersession(source);
        }
        String reason = r.getString("ground_reason");
        return reason == null
                ? null
                : new NumberGround.Consent(reason, r.getString("ground_by_whom"), r.getString("ground_how"));
    }

    private void steps(TicketNumber number, Map<Long, List<Went>> went, Map<Long, Ended> ended) {
        jdbc.sql("""
                select t.* from swap_step t join swap s on s.id = t.swap_id
                where s.ticket_number = ? and t.kind in ('WENT', 'FINAL', 'TAKEN_BACK') order by t.id""").param(number.value()).query((ResultSet r) -> {
            long id = r.getLong("swap_id");
            String kind = r.getString("kind");
            if (kind.equals("WENT")) {
                went.computeIfAbsent(id, any -> new ArrayList<>()).add(Went.valueOf(r.getString("went")));
            } else {
                ended.put(
                        id,
                        new Ended(
                                kind.equals("FINAL"),
                                r.getString("words"),
                                r.getTimestamp("at").toInstant(),
                                r.getString("who")));
            }
        });
    }

    /** A photo that was struck out is not among the exhibits any more and is left out. */
    private Map<Long, List<Photo>> photos(TicketNumber number) {
        record Row(long swap, long exhibit, boolean removed) {}
        List<Row> rows = jdbc.sql("""
                select p.swap_id, p.exhibit_id, p.part from swap_photo p join swap s on s.id = p.swap_id
                where s.ticket_number = ? order by p.exhibit_id""")
                .param(number.value())
                .query((r, n) ->
                        new Row(r.getLong(1), r.getLong(2), r.getString(3).equals(Side.REMOVED.name())))
                .list();
        if (rows.isEmpty()) {
            return Map.of();
        }
        var kept = exhibits.of(number.value()).stream().collect(Collectors.toMap(Exhibit::id, Function.identity()));
        return rows.stream()
                .filter(row -> kept.containsKey(row.exhibit()))
                .collect(Collectors.groupingBy(
                        Row::swap,
                        Collectors.mapping(
                                row -> new Photo(kept.get(row.exhibit()), row.removed()), Collectors.toList())));
    }

    private Pay pay(ResultSet r) throws SQLException {
        if (r.getObject("estimate_line_id") != null) {
            return new Pay.ByEstimate(r.getLong("estimate_line_id"));
        }
        BigDecimal price = r.getBigDecimal("price");
        return price != null
                ? new Pay.ByHand(Money.rounded(price, shops.shop().currency()))
                : new Pay.Free(r.getString("free_because"));
    }

    private @Nullable Money money(@Nullable BigDecimal amount) {
        return amount == null ? null : Money.rounded(amount, shops.shop().currency());
    }
}
