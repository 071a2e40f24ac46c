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
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
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
        var answers = answers(number);
        var grounds = grounds(number);
        var went = went(number);
        var ended = ended(number);
        var photos = photos(number);
        return jdbc.sql("select * from swap where ticket_number = ? order by id")
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
                            grounds.get(id),
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

    private Map<Long, NumberGround> grounds(TicketNumber number) {
        var found = new HashMap<Long, NumberGround>();
        jdbc.sql("""
                select g.* from swap_ground g join swap s on s.id = g.swap_id where s.ticket_number = ? order by g.id""").param(number.value()).query((ResultSet r) -> {
            String source = r.getString("source");
            found.put(
                    r.getLong("swap_id"),
                    source != null
                            ? new NumberGround.Supersession(source)
                            : new NumberGround.Consent(
                                    r.getString("reason"), r.getString("by_whom"), r.getString("how")));
        });
        return found;
    }

    private Map<Long, List<Went>> went(TicketNumber number) {
        var found = new HashMap<Long, List<Went>>();
        jdbc.sql("""
                select t.swap_id, t.went from swap_step t join swap s on s.id = t.swap_id
                where s.ticket_number = ? and t.kind = 'WENT' order by t.id""").param(number.value()).query((ResultSet r) -> {
            found.computeIfAbsent(r.getLong(1), id -> new ArrayList<>()).add(Went.valueOf(r.getString(2)));
        });
        return found;
    }

    private Map<Long, Ended> ended(TicketNumber number) {
        var found = new HashMap<Long, Ended>();
        jdbc.sql("""
                select t.* from swap_step t join swap s on s.id = t.swap_id
                where s.ticket_number = ? and t.kind in ('FINAL', 'TAKEN_BACK')""").param(number.value()).query((ResultSet r) -> {
            found.put(
                    r.getLong("swap_id"),
                    new Ended(
                            r.getString("kind").equals("FINAL"),
                            r.getString("words"),
                            r.getTimestamp("at").toInstant(),
                            r.getString("who")));
        });
        return found;
    }

    /** A photo that was struck out is not among the exhibits any more and is left out. */
    private Map<Long, List<Photo>> photos(TicketNumber number) {
        var kept = new LinkedHashMap<Long, Exhibit>();
        exhibits.of(number.value()).forEach(exhibit -> kept.put(exhibit.id(), exhibit));
        var found = new HashMap<Long, List<Photo>>();
        jdbc.sql("""
                select p.swap_id, p.exhibit_id, p.part from swap_photo p join swap s on s.id = p.swap_id
                where s.ticket_number = ? order by p.exhibit_id""").param(number.value()).query((ResultSet r) -> {
            Exhibit exhibit = kept.get(r.getLong(2));
            if (exhibit != null) {
                found.computeIfAbsent(r.getLong(1), id -> new ArrayList<>())
                        .add(new Photo(exhibit, r.getString(3).equals(Side.REMOVED.name())));
            }
        });
        return found;
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
