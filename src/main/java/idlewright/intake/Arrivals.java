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
            from customer c left join vehicle v on v.customer_id = c.id
            """;

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
        return jdbc.sql(SELECT + """
                where (:digits <> '' and length(:digits) >= 4 and c.phone_digits like '%' || :digits || '%')
                   or lower(c.name) like '%' || :words || '%'
                   or :words <% lower(c.name)
                   or lower(coalesce(v.plate, '') || ' ' || coalesce(v.vin, '') || ' ' || v.make || ' ' || v.model) like '%' || :words || '%'
                   or :words <% lower(coalesce(v.plate, '') || ' ' || coalesce(v.vin, '') || ' ' || v.make || ' ' || v.model)
                   or (:close <> '' and lower(regexp_replace(coalesce(v.plate, ''), '[^A-Za-z0-9]', '', 'g')) like '%' || :close || '%')
                   or (length(:close) >= 4 and similarity(lower(regexp_replace(coalesce(v.plate, ''), '[^A-Za-z0-9]', '', 'g')), :close) > 0.4)
                order by greatest(
                    word_similarity(:words, lower(c.name)),
                    word_similarity(:words, lower(coalesce(v.plate, '') || ' ' || coalesce(v.vin, '') || ' ' || coalesce(v.make, '') || ' ' || coalesce(v.model, ''))),
                    similarity(lower(regexp_replace(coalesce(v.plate, ''), '[^A-Za-z0-9]', '', 'g')), :close),
                    case when :digits <> '' and length(:digits) >= 4 and c.phone_digits like '%' || :digits || '%' then 1 else 0 end) desc, c.id
                limit 12""")
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
                where v.id is not null
                order by (select max(t.number) from ticket t where t.vehicle_id = v.id) desc nulls last, v.id desc limit 8""").query(Arrivals::known).list();
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
