package idlewright.intake;

import idlewright.frame.OnlyReads;
import idlewright.frame.Times;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.springframework.core.annotation.Order;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Finds the car or the customer that just came in, also when a letter is wrong. */
@Component
@Order(5)
@OnlyReads
public class Arrivals implements Finds {

    /** A car that was here before (or a customer without one). */
    public record Known(
            @Nullable Long vehicleId,
            @Nullable String vehicle,
            @Nullable String plate,
            @Nullable String vin,
            long customerId,
            String customer,
            @Nullable String phone,
            @Nullable Integer openTicket) {}

    private static final String SELECT = """
            select v.id, v.make || ' ' || v.model vehicle, v.plate, v.vin, c.id customer_id, c.name, c.phone,
                   (select max(t.number) from ticket t where t.vehicle_id = v.id
                     and not exists (select from stamp s where s.ticket_number = t.number and s.kind = 'HANDED_BACK')) open_ticket
            """;

    private static final String BARE_PLATE = "lower(regexp_replace(coalesce(v.plate, ''), '[^A-Za-z0-9]', '', 'g'))";

    /**
     * Each way to match asks one index; an "or" over both tables would read them whole. A word that hundreds carry needs no
     * more of them to fill a dozen lines.
     */
    private static final String FOUND = """
            with way (customer, vehicle) as (
                (select c.id, null::bigint from customer c
                    where length(:digits) >= 4 and c.phone_digits like '%' || :digits || '%' limit 300)
                union all
                (select c.id, null from customer c where lower(c.name) like '%' || :words || '%' limit 300)
                union all
                (select c.id, null from customer c where :words <% lower(c.name) limit 300)
                union all
                (select v.customer_id, v.id from vehicle v
                    where lower(coalesce(v.plate, '') || ' ' || coalesce(v.vin, '') || ' ' || v.make || ' ' || v.model)
                        like '%' || :words || '%' limit 300)
                union all
                (select v.customer_id, v.id from vehicle v
                    where :words <% lower(coalesce(v.plate, '') || ' ' || coalesce(v.vin, '') || ' ' || v.make || ' ' || v.model) limit 300)
                union all
                (select v.customer_id, v.id from vehicle v where :close <> '' and {bare} like '%' || :close || '%' limit 300)
                union all
                (select v.customer_id, v.id from vehicle v
                    where length(:close) >= 4 and {bare} % :close and similarity({bare}, :close) > 0.4 limit 300)),
            found (customer, vehicle) as (
                select w.customer, w.vehicle from way w where w.vehicle is not null
                union
                select w.customer, v.id from way w left join vehicle v on v.customer_id = w.customer where w.vehicle is null)
            """.replace("{bare}", BARE_PLATE);

    private record Open(TicketNumber number, Long vehicleId, Instant since) {}

    private final JdbcClient jdbc;
    private final Times times;

    Arrivals(JdbcClient jdbc, Times times) {
        this.jdbc = jdbc;
        this.times = times;
    }

    /** The best dozen matches of plate, VIN, name, make and model or phone; one wrong letter is forgiven. */
    public List<Known> known(String words) {
        String digits = words.replaceAll("\\D", "");
        return jdbc.sql(FOUND + SELECT + """
                from found f join customer c on c.id = f.customer left join vehicle v on v.id = f.vehicle
                order by greatest(
                    word_similarity(:words, lower(c.name)),
                    word_similarity(:words, lower(coalesce(v.plate, '') || ' ' || coalesce(v.vin, '') || ' ' || coalesce(v.make, '') || ' ' || coalesce(v.model, ''))),
                    similarity({bare}, :close),
                    case when :digits <> '' and length(:digits) >= 4 and c.phone_digits like '%' || :digits || '%' then 1 else 0 end) desc, c.id
                limit 12""".replace("{bare}", BARE_PLATE))
                .params(Map.of(
                        "digits", digits,
                        "words", words.toLowerCase(Locale.ROOT).replace("%", "").replace("_", ""),
                        "close", words.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9]", "")))
                .query(Arrivals::known)
                .list();
    }

    /** The cars that were here last, for an empty search box. */
    public List<Known> latest() {
        return jdbc.sql(SELECT + """
                from (select t.vehicle_id, max(t.number) last
                    from (select vehicle_id, number from ticket order by number desc limit 200) t group by 1
                    union all
                    select n.id, null from (select id from vehicle order by id desc limit 200) n
                        where not exists (select from ticket t where t.vehicle_id = n.id)) l
                join vehicle v on v.id = l.vehicle_id join customer c on c.id = v.customer_id
                order by l.last desc nulls last, v.id desc limit 8""").query(Arrivals::known).list();
    }

    @Override
    public List<Hit> find(String words) {
        var hits = new ArrayList<Hit>();
        TicketNumber.typed(words)
                .ifPresent(number -> jdbc.sql("""
                        select v.make || ' ' || v.model || ', ' || c.name from ticket t
                        join vehicle v on v.id = t.vehicle_id join customer c on c.id = t.customer_id where t.number = ?""")
                        .param(number.value())
                        .query(String.class)
                        .optional()
                        .ifPresent(what -> hits.add(new Hit("ticket", "Ticket " + number, what, number.url()))));
        List<Known> all = known(words);
        List<Open> open =
                open(all.stream().map(Known::vehicleId).filter(Objects::nonNull).toList());
        for (Known known : all) {
            open.stream()
                    .filter(ticket -> Objects.equals(ticket.vehicleId(), known.vehicleId()))
                    .map(ticket -> new Hit(
                            "ticket",
                            "Ticket %s, open since %s".formatted(ticket.number(), times.shortly(ticket.since())),
                            known.vehicle() + ", " + known.customer(),
                            ticket.number().url()))
                    .filter(hit -> hits.stream().noneMatch(other -> other.url().equals(hit.url())))
                    .forEach(hits::add);
            if (known.vehicleId() != null) {
                hits.add(new Hit(
                        "vehicle",
                        known.vehicle() + (known.plate() == null ? "" : ", " + known.plate()),
                        known.customer(),
                        "/vehicles/" + known.vehicleId()));
            } else {
                hits.add(new Hit(
                        "customer",
                        known.customer(),
                        known.phone() == null ? "" : known.phone(),
                        "/customers/" + known.customerId()));
            }
        }
        return hits;
    }

    private List<Open> open(List<Long> vehicles) {
        return vehicles.isEmpty()
                ? List.of()
                : jdbc.sql("""
                        select t.number, t.vehicle_id, t.opened_at from ticket t where t.vehicle_id in (:vehicles)
                          and not exists (select from stamp s where s.ticket_number = t.number and s.kind = 'HANDED_BACK')
                        order by t.number desc""")
                        .param("vehicles", vehicles)
                        .query((r, n) -> new Open(
                                new TicketNumber(r.getInt(1)),
                                r.getLong(2),
                                r.getObject(3, OffsetDateTime.class).toInstant()))
                        .list();
    }

    private static Known known(java.sql.ResultSet r, int n) throws java.sql.SQLException {
        return new Known(
                (Long) r.getObject("id"),
                r.getString("vehicle"),
                r.getString("plate"),
                r.getString("vin"),
                r.getLong("customer_id"),
                r.getString("name"),
                r.getString("phone"),
                (Integer) r.getObject("open_ticket"));
    }
}
