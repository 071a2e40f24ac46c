package idlewright.bench;

import idlewright.bench.KnownGoods.Good;
import idlewright.bench.rules.KnownGood;
import idlewright.bench.rules.Point;
import idlewright.bench.rules.Procedure;
import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.rules.DotPlot;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.reference.units.Unit;
import java.math.BigDecimal;
import java.math.MathContext;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The front door of the known-good library for those who read it: by engine family and reading, and what was struck. */
@Component
@Transactional
public class Library {

    /** How much is known of an engine family. */
    public record Family(String name, int cars, int readings) {}

    /**
     * One reading across cars of an engine family.
     *
     * @param procedure key of the procedure it is read in
     * @param point key of the reading; with the procedure it names the shelf in an address
     * @param n cars that count, see {@link KnownGood#perCar}
     * @param brief the interval, or how many there are
     * @param words what the readings say: the interval and its method, or why they judge nothing
     */
    public record Shelf(
            String procedure,
            String point,
            String procedureName,
            String label,
            String at,
            int n,
            String brief,
            String words,
            DotPlot plot,
            List<Book> books) {

        /** The place of this shelf on its page. */
        public String id() {
            return procedure + "-" + point;
        }

        public boolean judges() {
            return n >= KnownGood.ENOUGH;
        }
    }

    /**
     * One known-good reading on its shelf.
     *
     * @param earlier a later test of the same car counts instead
     * @param history when it was struck out and taken back; may be empty
     */
    public record Book(Good good, String shown, boolean earlier, String history) {}

    /** A strike taken back. */
    private record Return(long struckId, long returnedId, String reason, Instant at, String who) {}

    private final KnownGoods knownGoods;
    private final Procedures procedures;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    Library(
            KnownGoods knownGoods,
            Procedures procedures,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock) {
        this.knownGoods = knownGoods;
        this.procedures = procedures;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Every engine family of which something is known, by name. */
    @OnlyReads
    public List<Family> families() {
        return jdbc.sql("""
                        select k.engine_family, count(distinct k.vehicle_id) cars,
                               count(distinct (k.procedure_key, k.point)) readings
                        from known_good k
                        where not exists (select from known_good_strike s where s.known_good_id = k.id)
                        group by k.engine_family order by k.engine_family""")
                .query((r, n) -> new Family(r.getString(1), r.getInt(2), r.getInt(3)))
                .list();
    }

    /** The readings of an engine family, in the order of the procedures. */
    @OnlyReads
    public List<Shelf> shelves(String family) {
        List<Good> all = knownGoods.of(family);
        Map<Long, Return> returns = returns(family);
        Map<Long, Return> byReturned =
                returns.values().stream().collect(Collectors.toMap(Return::returnedId, Function.identity()));
        Map<Long, Good> byId = all.stream().collect(Collectors.toMap(Good::id, Function.identity()));
        var shelves = new LinkedHashMap<String, List<Good>>();
        all.stream()
                .filter(good -> !returns.containsKey(good.id()))
                .forEach(
                        good -> shelves.computeIfAbsent(good.procedure() + " " + good.point(), any -> new ArrayList<>())
                                .add(good));
        Map<String, Integer> order = order();
        return shelves.values().stream()
                .sorted(Comparator.comparing(goods -> order.getOrDefault(
                        goods.get(0).procedure() + " " + goods.get(0).point(), Integer.MAX_VALUE)))
                .map(goods -> shelf(goods, good -> history(good, byReturned, byId)))
                .toList();
    }

    private Shelf shelf(List<Good> goods, Function<Good, String> history) {
        Good first = goods.get(0);
        Optional<Procedure> procedure = procedures.find(first.procedure());
        Optional<Point> point = procedure.flatMap(each -> each.point(first.point()));
        Unit unit = point.filter(each -> !each.units().isEmpty())
                .map(Point::unit)
                .filter(each -> each.dimension() == first.unit().dimension())
                .orElse(first.unit());
        List<Good> counting = goods.stream().filter(Good::counts).toList();
        double[] counted = KnownGood.perCar(counting.stream()
                .map(good -> new KnownGood.Seen(good.vehicleId(), good.test(), KnownGood.tidy(unit.fromSi(good.si()))))
                .toList());
        Map<Long, Long> lastTests = counting.stream().collect(Collectors.toMap(Good::vehicleId, Good::test, Math::max));
        KnownGood.Band band = KnownGood.band(counted);
        String label = point.map(Point::label).orElse(first.point());
        var sketch = DotPlot.titled("Known good, " + first.engineFamily())
                .along(label, unit.symbol())
                .values(counted);
        goods.stream().filter(good -> !good.counts()).forEach(good -> sketch.struck(unit.fromSi(good.si())));
        if (band.judges()) {
            sketch.limits(band.low(), band.high());
        }
        return new Shelf(
                first.procedure(),
                first.point(),
                procedure.map(Procedure::name).orElse(first.procedure()),
                label,
                at(label, point),
                counted.length,
                band.judges() ? (band.span() + " " + unit.symbol()).strip() : "judges nothing yet",
                words(counted.length, band, unit),
                sketch.draw(),
                goods.stream()
                        .map(good -> new Book(
                                good,
                                shown(good, unit, point),
                                good.counts() && good.test() < lastTests.getOrDefault(good.vehicleId(), good.test()),
                                history.apply(good)))
                        .toList());
    }

    /** Where it is read, unless its name says so. */
    private static String at(String label, Optional<Point> point) {
        return point.map(Point::at)
                .filter(at -> !label.contains(at.replaceFirst(", .*", "")))
                .orElse("");
    }

    private static String words(int n, KnownGood.Band band, Unit unit) {
        if (!band.judges()) {
            return String.format(
                    Locale.ROOT,
                    "n = %d %s: fewer than %d judge nothing, they are only shown.",
                    n,
                    n == 1 ? "car" : "cars",
                    KnownGood.ENOUGH);
        }
        return "n = " + n + " cars: " + (band.span() + " " + unit.symbol()).strip()
                + " holds 95 % of healthy cars with 95 % confidence"
                + " (two-sided tolerance interval of a normal distribution, exact factor).";
    }

    private static String shown(Good good, Unit unit, Optional<Point> point) {
        String where = good.spot() == 0
                ? ""
                : ", " + point.map(each -> each.per().words()).orElse("place") + " " + good.spot();
        String figure = BigDecimal.valueOf(KnownGood.tidy(unit.fromSi(good.si())))
                .round(new MathContext(5))
                .stripTrailingZeros()
                .toPlainString();
        return (figure + " " + unit.symbol()).strip() + where;
    }

    /** The strikes and returns a reading went through, oldest first. */
    private static String history(Good good, Map<Long, Return> byReturned, Map<Long, Good> byId) {
        var sentences = new ArrayList<String>();
        for (Return back = byReturned.get(good.id()); back != null; back = byReturned.get(back.struckId())) {
            Good struck = byId.get(back.struckId());
            sentences.add(
                    0,
                    "Struck out by %s: %s Taken back by %s: %s"
                            .formatted(
                                    struck == null ? "somebody" : struck.struckBy(),
                                    struck == null ? "" : ended(struck.struckBecause()),
                                    back.who(),
                                    ended(back.reason())));
        }
        return String.join(" ", sentences);
    }

    private static String ended(@Nullable String sentence) {
        String words = String.valueOf(sentence);
        return words.endsWith(".") ? words : words + ".";
    }

    /**
     * Takes a strike back: the reading comes in again, and counts from now on. What was judged in between stands as it
     * was judged.
     */
    public void takeBack(long id, @Nullable String reason) {
        Good struck = knownGoods.get(id);
        if (struck.counts()) {
            throw Refused.because("This reading is not struck out.");
        }
        if (reason == null || reason.isBlank() || reason.length() > 400) {
            throw Refused.at("reason", "Say in a sentence why it is a reference after all.");
        }
        if (returns(struck.engineFamily()).containsKey(id)) {
            throw Refused.because("This strike was taken back already.");
        }
        long returned = jdbc.sql("""
                        insert into known_good (reading_id, measurement_id, engine_family, vehicle_id, procedure_key, point,
                            spot, value, unit, si, ticket_number, place, at, who)
                        select reading_id, measurement_id, engine_family, vehicle_id, procedure_key, point,
                            spot, value, unit, si, ticket_number, place, :at, :who
                        from known_good where id = :id returning id""")
                .param("at", Timestamp.from(clock.instant()))
                .param("who", people.me().name())
                .param("id", id)
                .query(Long.class)
                .optional()
                .orElseThrow(() -> NotFound.of("known-good reading " + id));
        jdbc.sql("insert into known_good_return (struck_id, returned_id, reason, at, who) values (?, ?, ?, ?, ?)")
                .param(id)
                .param(returned)
                .param(reason)
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .update();
        journal.note(
                "known good taken back",
                struck.ticket().value(),
                "A known-good reading of engine family " + struck.engineFamily() + " counts again.",
                Map.of("struck", id, "returned", returned));
    }

    private Map<String, Integer> order() {
        var order = new HashMap<String, Integer>();
        procedures
                .all()
                .forEach(procedure -> procedure
                        .points()
                        .forEach(point -> order.put(procedure.key() + " " + point.key(), order.size())));
        return order;
    }

    private Map<Long, Return> returns(String family) {
        Collection<Return> all = jdbc.sql("""
                        select t.* from known_good_return t join known_good k on k.id = t.struck_id
                        where k.engine_family = ?""")
                .param(family)
                .query((r, n) -> new Return(
                        r.getLong("struck_id"),
                        r.getLong("returned_id"),
                        r.getString("reason"),
                        r.getTimestamp("at").toInstant(),
                        r.getString("who")))
                .list();
        return all.stream().collect(Collectors.toMap(Return::struckId, Function.identity()));
    }
}
