package idlewright.intake;

import idlewright.frame.Together;
import idlewright.frame.Tuple;
import idlewright.intake.TicketView.Answer;
import idlewright.intake.TicketView.Before;
import idlewright.intake.TicketView.Distance;
import idlewright.intake.TicketView.Hand;
import idlewright.intake.TicketView.StampView;
import idlewright.intake.TicketView.SymptomView;
import idlewright.intake.TicketView.Visit;
import idlewright.intake.rules.Facts;
import idlewright.intake.rules.Move;
import idlewright.intake.rules.SymptomKinds;
import idlewright.intake.rules.Whose;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Reads tickets as records, a fixed number of statements however many there are. */
@Component
class TicketReads {

    private static final String CUSTOMER_AND_VEHICLE = """
            c.id c_id, c.name c_name, c.phone, c.email, c.address, c.contact_by, c.note c_note,
            c.anonymous_at is not null anonymous, c.exempt_number, c.exempt_reason, c.exempt_since, c.version c_version,
            v.id v_id, v.customer_id v_customer, v.vin, v.plate, v.make, v.model, v.model_year, v.engine_family,
            v.displacement_l, v.cylinders, v.strokes, v.fuel, v.aspiration, v.metering, v.gearbox, v.distance_unit,
            v.version v_version
            """;

    private static final String VISITS = """
            select n.number, n.opened_at,
                   coalesce(array_agg(y.kind order by y.place) filter (where y.kind is not null), '{}') kinds
            from ticket n left join symptom y on y.ticket_number = n.number""";

    private final JdbcClient jdbc;
    private final SymptomKinds kinds;
    private final Together together;

    TicketReads(JdbcClient jdbc, SymptomKinds kinds, Together together) {
        this.together = together;
        this.jdbc = jdbc;
        this.kinds = kinds;
    }

    /** A ticket with its stamps, its symptoms and the visits of its vehicle, in one statement. */
    Optional<TicketView> one(TicketNumber number, LocalDate today) {
        // The odometer is looked up by the vehicle too: its index is by vehicle.
        return jdbc.sql("select t.*, t.version t_version, " + CUSTOMER_AND_VEHICLE + """
                , i.distance i_distance, i.unit i_unit, i.read_at i_read_at, i.remark i_remark,
                o.distance o_distance, o.unit o_unit, o.read_at o_read_at, o.remark o_remark,
                h.person_id h_person, h.who h_who, h.at h_at,
                (select json_agg(q) from (select * from stamp s where s.ticket_number = t.number order by s.id) q) stamps,
                (select json_agg(q) from (select y.*,
                    (select json_agg(a order by a.ctid) from symptom_answer a
                        where a.ticket_number = y.ticket_number and a.place = y.place) answers,
                    (select json_agg(s order by s.id) from words_said s
                        where s.ticket_number = y.ticket_number and s.place = y.place and s.words <> ''
                            and exists (select from words_said l where l.ticket_number = s.ticket_number and l.place = s.place
                                and l.what = s.what and l.id > s.id)) earlier
                    from symptom y where y.ticket_number = t.number order by y.place) q) symptoms,
                (select json_agg(q) from (%s where n.vehicle_id = t.vehicle_id group by n.number order by n.opened_at desc) q) visits
                from ticket t join customer c on c.id = t.customer_id join vehicle v on v.id = t.vehicle_id
                left join lateral (select * from odometer d where d.vehicle_id = t.vehicle_id
                    and d.ticket_number = t.number and d.moment = 'IN' order by d.id desc limit 1) i on true
                left join lateral (select * from odometer d where d.vehicle_id = t.vehicle_id
                    and d.ticket_number = t.number and d.moment = 'OUT' order by d.id desc limit 1) o on true
                left join lateral (select * from hand h where h.ticket_number = t.number order by h.id desc limit 1) h on true
                where t.number = ?""".formatted(VISITS))
                .param(number.value())
                .query((r, n) -> ticket(r, number, today))
                .optional();
    }

    private TicketView ticket(ResultSet r, TicketNumber number, LocalDate today) throws SQLException {
        var stamps = Tuple.in(r, "stamps").stream().map(TicketReads::stamp).toList();
        var symptoms = Tuple.in(r, "symptoms").stream()
                .map(symptom -> symptom(symptom, number, stamps))
                .toList();
        Integer comebackOf = (Integer) r.getObject("comeback_of");
        return new TicketView(
                number,
                customer(r),
                vehicle(r),
                r.getString("key_tag"),
                instant(r, "opened_at"),
                r.getString("opened_by"),
                r.getString("old_parts"),
                r.getString("road_test"),
                comebackOf == null ? null : new TicketNumber(comebackOf),
                distance(r, "i"),
                distance(r, "o"),
                hand(r),
                symptoms,
                stamps,
                Tuple.in(r, "visits").stream().map(this::visit).toList(),
                move(stamps, words(symptoms), today),
                r.getInt("t_version"));
    }

    /** The visits of one vehicle, the newest first. */
    List<Visit> visits(long vehicle) {
        return together
                .read(
                        Map.of("vehicle", vehicle),
                        VISITS + " where n.vehicle_id = :vehicle group by n.number order by n.opened_at desc")
                .get(0)
                .stream()
                .map(this::visit)
                .toList();
    }

    private Visit visit(Tuple r) {
        return new Visit(
                new TicketNumber(r.getInt("number")),
                r.getInstant("opened_at"),
                r.getStrings("kinds").stream().map(kinds::name).collect(Collectors.joining(", ")));
    }

    Optional<VehicleView> vehicleOf(TicketNumber number) {
        return jdbc.sql("select " + CUSTOMER_AND_VEHICLE + """
                from ticket t join customer c on c.id = t.customer_id join vehicle v on v.id = t.vehicle_id
                where t.number = ?""")
                .param(number.value())
                .query((r, n) -> vehicle(r))
                .optional();
    }

    /** Every ticket that is somebody's move, the oldest wait first. */
    List<CounterLine> open(LocalDate today) {
        record Head(
                int number,
                String vehicle,
                @Nullable String plate,
                String customer,
                @Nullable String keyTag,
                boolean comeback,
                @Nullable String hand) {}
        var rows = jdbc.sql("""
                select t.number, v.make || ' ' || v.model vehicle, v.plate, c.name customer, t.key_tag,
                       t.comeback_of is not null comeback,
                       (select h.who from hand h where h.ticket_number = t.number order by h.id desc limit 1) hand
                from ticket t join customer c on c.id = t.customer_id join vehicle v on v.id = t.vehicle_id
                where not t.at_rest
                order by t.number""")
                .query((r, n) -> new Head(
                        r.getInt("number"),
                        r.getString("vehicle"),
                        r.getString("plate"),
                        r.getString("customer"),
                        r.getString("key_tag"),
                        r.getBoolean("comeback"),
                        r.getString("hand")))
                .list();
        var numbers = rows.stream().map(Head::number).toList();
        var stamps = stamps(numbers);
        var words = wordsAndKinds(numbers);
        var lines = new ArrayList<CounterLine>();
        for (Head row : rows) {
            var marks = stamps.getOrDefault(row.number(), List.of());
            var said = words.getOrDefault(row.number(), new TreeMap<>());
            var plain = new TreeMap<Integer, String>();
            said.forEach((place, pair) -> plain.put(place, pair[0]));
            Move move = move(marks, plain, today);
            if (move.whose() == Whose.NOBODY) {
                continue;
            }
            int place = move.place() > 0 ? move.place() : said.isEmpty() ? 0 : said.firstKey();
            String[] pair = said.get(place);
            lines.add(new CounterLine(
                    new TicketNumber(row.number()),
                    row.vehicle(),
                    row.plate(),
                    row.customer(),
                    pair == null ? null : pair[0],
                    pair == null ? null : kinds.name(pair[1]),
                    marks.stream()
                            .filter(mark -> mark.place() == place && mark.kind().equals("TRACED"))
                            .map(StampView::note)
                            .reduce((first, second) -> second)
                            .orElse(null),
                    row.hand(),
                    row.keyTag(),
                    row.comeback(),
                    move));
        }
        lines.sort(java.util.Comparator.comparing(line -> line.move().since()));
        return lines;
    }

    private SymptomView symptom(Tuple r, TicketNumber number, List<StampView> stamps) {
        int place = r.getInt("place");
        return new SymptomView(
                new SymptomRef(number, place),
                r.getString("kind"),
                kinds.name(r.getString("kind")),
                r.getString("words"),
                r.getInstant("heard_at"),
                r.getString("heard_by"),
                r.getIntOrNull("returns_place"),
                r.getRows("answers").stream()
                        .map(a -> new Answer(a.getString("question"), a.getString("asks"), a.getString("answer")))
                        .toList(),
                stamps.stream().filter(s -> s.place() == place).toList(),
                r.getRows("earlier").stream()
                        .map(b -> new Before(
                                b.getString("what").equals("ANSWERS"),
                                b.getString("words"),
                                b.getInstant("at"),
                                b.getString("who")))
                        .toList(),
                r.getInt("version"));
    }

    private static StampView stamp(Tuple r) {
        Integer place = r.getIntOrNull("place");
        return new StampView(
                r.getLong("id"),
                place == null ? 0 : place,
                r.getString("kind"),
                r.getInstant("at"),
                r.getString("who"),
                r.getString("note"),
                r.getDate("due"));
    }

    private Map<Integer, List<StampView>> stamps(Collection<Integer> numbers) {
        var found = new LinkedHashMap<Integer, List<StampView>>();
        if (numbers.isEmpty()) {
            return found;
        }
        jdbc.sql(
                        "select ticket_number, id, coalesce(place, 0), kind, at, who, note, due from stamp where ticket_number = any(?) order by id")
                .param(numbers.toArray(Integer[]::new))
                .query((ResultSet r) -> {
                    found.computeIfAbsent(r.getInt(1), t -> new ArrayList<>())
                            .add(new StampView(
                                    r.getLong(2),
                                    r.getInt(3),
                                    r.getString(4),
                                    r.getTimestamp(5).toInstant(),
                                    r.getString(6),
                                    r.getString(7),
                                    r.getObject(8, LocalDate.class)));
                });
        return found;
    }

    private Map<Integer, TreeMap<Integer, String[]>> wordsAndKinds(Collection<Integer> numbers) {
        var found = new LinkedHashMap<Integer, TreeMap<Integer, String[]>>();
        if (numbers.isEmpty()) {
            return found;
        }
        jdbc.sql("select ticket_number, place, words, kind from symptom where ticket_number = any(?)")
                .param(numbers.toArray(Integer[]::new))
                .query((ResultSet r) -> {
                    found.computeIfAbsent(r.getInt(1), t -> new TreeMap<>())
                            .put(r.getInt(2), new String[] {r.getString(3), r.getString(4)});
                });
        return found;
    }

    private static @Nullable Distance distance(ResultSet r, String read) throws SQLException {
        return r.getBigDecimal(read + "_distance") == null
                ? null
                : new Distance(
                        r.getBigDecimal(read + "_distance"),
                        r.getString(read + "_unit"),
                        instant(r, read + "_read_at"),
                        r.getString(read + "_remark"));
    }

    private static @Nullable Hand hand(ResultSet r) throws SQLException {
        return r.getObject("h_person") == null
                ? null
                : new Hand(r.getLong("h_person"), r.getString("h_who"), instant(r, "h_at"));
    }

    private static Map<Integer, String> words(List<SymptomView> symptoms) {
        var words = new TreeMap<Integer, String>();
        symptoms.forEach(symptom -> words.put(symptom.place(), symptom.words()));
        return words;
    }

    private static Move move(List<StampView> stamps, Map<Integer, String> symptoms, LocalDate today) {
        return Move.of(new Facts(
                stamps.stream()
                        .map(s -> new Facts.Mark(s.order(), s.place(), s.kind(), s.at(), s.note(), s.due()))
                        .toList(),
                symptoms,
                today));
    }

    static CustomerView customer(ResultSet r) throws SQLException {
        return new CustomerView(
                r.getLong("c_id"),
                r.getString("c_name"),
                r.getString("phone"),
                r.getString("email"),
                r.getString("address"),
                r.getString("contact_by"),
                r.getString("c_note"),
                r.getBoolean("anonymous"),
                r.getString("exempt_number") == null
                        ? null
                        : new CustomerView.TaxFree(
                                r.getString("exempt_number"),
                                r.getString("exempt_reason"),
                                r.getObject("exempt_since", LocalDate.class)),
                r.getInt("c_version"));
    }

    static VehicleView vehicle(ResultSet r) throws SQLException {
        return new VehicleView(
                r.getLong("v_id"),
                r.getLong("v_customer"),
                r.getString("vin"),
                r.getString("plate"),
                r.getString("make"),
                r.getString("model"),
                (Integer) r.getObject("model_year"),
                r.getString("engine_family"),
                r.getBigDecimal("displacement_l"),
                (Integer) r.getObject("cylinders"),
                r.getInt("strokes"),
                r.getString("fuel"),
                r.getString("aspiration"),
                r.getString("metering"),
                r.getString("gearbox"),
                r.getString("distance_unit"),
                r.getInt("v_version"));
    }

    static String customerAndVehicle() {
        return CUSTOMER_AND_VEHICLE;
    }

    private static Instant instant(ResultSet r, String column) throws SQLException {
        return r.getTimestamp(column).toInstant();
    }
}
