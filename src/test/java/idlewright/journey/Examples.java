package idlewright.journey;

import idlewright.bench.Bench;
import idlewright.bench.KnownGoods;
import idlewright.bench.Procedures;
import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.KeyState;
import idlewright.bench.rules.Motion;
import idlewright.billing.Offers;
import idlewright.demo.Cast;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.proof.AnswerLinks;
import idlewright.reference.units.Unit;
import java.util.List;
import java.util.stream.Stream;
import org.springframework.context.ApplicationContext;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Addresses of the demo shop for every route that names something. */
final class Examples {

    private final ApplicationContext house;
    private final JdbcClient jdbc;
    private final String ticket;
    private final SymptomRef seeking;

    Examples(ApplicationContext house) {
        this.house = house;
        jdbc = house.getBean(JdbcClient.class);
        ticket = one("""
                select ticket_number from proof group by ticket_number order by count(*) desc, ticket_number desc""");
        seeking = jdbc.sql("""
                select s.ticket_number, s.place from symptom s
                where exists (select from stamp t where t.ticket_number = s.ticket_number and t.kind = 'AGREED')
                  and not exists (select from stamp t where t.ticket_number = s.ticket_number
                    and (t.kind = 'BILLED' or t.place = s.place and t.kind in ('TRACED', 'DECLINED', 'UNTRACED')))
                order by s.ticket_number desc limit 1""")
                .query((row, n) -> SymptomRef.of(row.getInt(1), row.getInt(2)))
                .single();
    }

    /** Where to look at this route; empty when nobody has thought of it yet. */
    List<String> of(String route) {
        if (!route.contains("{")) {
            return plain(route);
        }
        String at = route.replaceAll(":[^/]*?\\}(?=[/.]|$)", "}");
        if (at.startsWith("/tickets/{number}/symptoms/{place}/")) {
            return List.of(thread(at));
        }
        return switch (at) {
            case "/answers/{secret}" -> List.of(link());
            case "/authorisations/{id}/correction" -> all(at, "select max(id) from authorisation");
            case "/bay/{ticket}" -> List.of("/bay/" + seeking.ticket(), "/bay/" + ticket);
            case "/bay/{ticket}/tests/{procedure}" ->
                Stream.of("air-flow", "trims", "codes", "reproduce")
                        .map(test -> "/bay/" + seeking.ticket() + "/tests/" + test)
                        .toList();
            case "/claims/{id}" -> all(at, "(select min(id) from claim) union (select max(id) from claim)");
            case "/customers/{customer}/vehicles/new",
                    "/customers/{id}",
                    "/customers/{id}/amending",
                    "/customers/{id}/export",
                    "/customers/{id}/forgetting" ->
                all(at, "select customer_id from vehicle group by 1 order by count(*) desc limit 1");
            case "/dossiers/{code}", "/dossiers/{code}.pdf", "/dossiers/{code}.zip" ->
                all(at, "select max(code) from dossier");
            case "/estimates/{id}" -> all(at, "(select min(id) from estimate) union (select max(id) from estimate)");
            case "/estimates/{id}.pdf" -> all(at, "select max(id) from estimate");
            case "/exhibits/{id}", "/exhibits/{id}/strike" -> all(at, "select max(id) from exhibit");
            case "/exhibits/{id}/marks" ->
                all(
                        at,
                        "(select max(exhibit_id) from image_mark) union (select max(id) from exhibit where mime like 'image/%')");
            case "/exhibits/{id}/marks/{mark}/removal" ->
                List.of(one("select '/exhibits/' || exhibit_id || '/marks/' || id || '/removal' from image_mark m"
                        + " where not exists (select from image_mark_removal r where r.mark_id = m.id)"
                        + " order by id desc"));
            case "/exhibits/{id}/picture" -> all(at, "select max(id) from exhibit where mime like 'image/%'");
            case "/follow-ups/{number}" ->
                all(
                        at,
                        "(select number from follow_up_due limit 2) union"
                                + " (select max(ticket_number) from stamp where kind = 'RETURNED')");
            case "/invoices/{number}", "/invoices/{number}.pdf" ->
                all(at, "(select min(number) from invoice) union (select max(number) from invoice)");
            case "/receipts/{id}" ->
                all(
                        at,
                        "(select min(id) from payment where amount > 0) union (select max(id) from payment where amount < 0)");
            case "/customers/{id}/statement", "/customers/{id}/statement.csv" ->
                all(
                        at,
                        "(select max(customer_id) from payment where method = 'CREDIT') union (select min(customer_id) from invoice)");
            case "/days/{day}" -> all(at, "(select max(day) from day_close) union (select max(booked) from payment)");
            case "/tickets/{number}/deposits" ->
                all(
                        at,
                        "(select max(ticket_number) from payment where ticket_number is not null) union (select max(ticket_number) from charge)");
            case "/invoices/{number}/payments/new" -> all(at, "select max(number) from invoice");
            case "/known-good/{id}/return" -> List.of("/known-good/" + struck() + "/return");
            case "/known-good/{id}/strike" -> all(at, "select min(id) from known_good");
            case "/measurements/{id}" ->
                Stream.concat(
                                Stream.of("air-flow", "visual", "codes", "sweep")
                                        .map(this::begun),
                                all(at, "select max(id) from measurement where finished_at is not null").stream())
                        .toList();
            case "/measurements/{id}/log" ->
                List.of(begun("air-flow") + "/log", logAt("select max(measurement_id) from measurement_log"));
            case "/measurements/{id}/log/{exhibit}" ->
                List.of(logAt("select measurement_id from measurement_log order by exhibit_id desc") + "/"
                        + one("select max(exhibit_id) from measurement_log"));
            case "/offers/{secret}" -> offered();
            case "/readings/{id}/correction" -> all(at, "select max(id) from reading group by kind");
            case "/set-up/instruments/{id}" -> all(at, "select min(id) from instrument");
            case "/set-up/limits/{id}/strike" -> all(at, "select max(id) from vehicle_limit");
            case "/set-up/people/{id}" ->
                all(
                        at,
                        "(select min(id) from person) union (select max(person_id) from person_role where role = 'TECHNICIAN')");
            case "/set-up/procedures/{key}" -> List.of("/set-up/procedures/air-flow", "/set-up/procedures/" + own());
            case "/set-up/procedures/{key}/amendment" -> List.of("/set-up/procedures/" + own() + "/amendment");
            case "/swaps/{id}" -> all(at, "(select min(id) from swap) union (select max(id) from swap)");
            case "/swaps/{id}/compare" ->
                all(at, "(select max(id) from swap) union (select max(swap_id) from swap_photo)");
            case "/swaps/{id}/checks" -> all(at, "select max(id) from swap");
            case "/tickets/{number}" ->
                Stream.concat(
                                Stream.of("/tickets/" + ticket, "/tickets/" + seeking.ticket()),
                                all(at, "select max(ticket_number) from stamp where kind = 'RETURNED'").stream())
                        .distinct()
                        .toList();
            case "/tickets/{number}/authorisations/new",
                    "/tickets/{number}/estimates/new",
                    "/tickets/{number}/symptoms/new" ->
                List.of(at.replace("{number}", seeking.ticket().toString()));
            case "/tickets/{number}/exhibits" ->
                all(at, "select ticket from exhibit group by 1 order by count(*) desc limit 1");
            case "/tickets/{number}/handing-back" ->
                all(
                        at,
                        "select max(ticket_number) from stamp s where kind = 'PAID' and not exists"
                                + " (select from stamp h where h.ticket_number = s.ticket_number and h.kind = 'HANDED_BACK')");
            case "/tickets/{number}/invoice" -> all(at, "select max(ticket_number) from charge");
            case "/clocks/{id}/correction" ->
                all(
                        at,
                        "select id from clock_span s where not exists (select from labour_span l where l.clocked_id = s.id) limit 1");
            case "/swaps/{id}/core" ->
                all(at, "(select min(swap_id) from core_step) union (select max(swap_id) from core_step)");
            case "/swaps/{id}/terms" -> all(at, "select max(swap_id) from part_terms");
            case "/vehicles/{id}/emissions" ->
                all(at, "(select max(vehicle_id) from service_start) union (select max(id) from vehicle)");
            case "/vehicles/{id}", "/vehicles/{id}/amending", "/vehicles/{id}/tickets/new" ->
                all(at, "select vehicle_id from ticket group by 1 order by count(*) desc limit 1");
            default -> List.of();
        };
    }

    private List<String> plain(String route) {
        return switch (route) {
            case "/bay/change" -> List.of();
            case "/claims" ->
                List.of(
                        route,
                        "/claims?supplier=" + one("select replace(supplier, ' ', '+') from claim"),
                        "/claims?show=unsent");
            case "/cores" -> List.of(route, "/cores?show=to-return", "/cores?supplier=nobody");
            case "/comebacks" -> List.of(route, "/comebacks?months=18&technicians=true");
            case "/comebacks/list" -> List.of("/comebacks/list?months=18&show=returned", "/comebacks/list?months=1");
            case "/find" -> List.of("/find?q=BW", "/find?q=nothing-is-called-so", "/find?q=");
            case "/find/suggestions" -> List.of("/find/suggestions?q=BW");
            case "/known-good" ->
                List.of(
                        route,
                        "/known-good?family="
                                + one("select engine_family from known_good group by 1 order by count(*) desc"),
                        one("select '/known-good?family=' || engine_family || '&test=' || procedure_key from known_good"
                                + " group by engine_family, procedure_key order by count(*) desc"));
            case "/tickets/new" -> List.of(route, "/tickets/new?words=zzzzzz");
            case "/vehicles/vin-check" -> List.of("/vehicles/vin-check?vin=1M8GDM9AXKP042788");
            default -> List.of(route);
        };
    }

    private String thread(String at) {
        String last = at.substring(at.indexOf("{place}/") + 8);
        SymptomRef ref = switch (last) {
            case "answers", "amending", "causes", "ending", "findings/new" -> seeking;
            case "return" -> place("select ticket_number, place from stamp where kind = 'RETURNED' order by id desc");
            default -> place("select ticket_number, place from proof order by id desc");
        };
        return ref.url() + "/" + last;
    }

    private SymptomRef place(String sql) {
        return jdbc.sql(sql + " limit 1")
                .query((row, n) -> SymptomRef.of(row.getInt(1), row.getInt(2)))
                .single();
    }

    private String logAt(String sql) {
        return "/measurements/" + one(sql) + "/log";
    }

    /** The page of a test that is begun and in which nothing is read yet. */
    String begun(String procedure) {
        KeyState state = house.getBean(Bench.class).procedure(procedure).state();
        return "/measurements/"
                + as(
                        Cast.TAMSIN,
                        () -> house.getBean(Bench.class)
                                .start(
                                        seeking.ticket(),
                                        procedure,
                                        false,
                                        List.of(seeking.place()),
                                        new Conditions(state, null, 90.0, null, "N", Motion.PARKED, null, null),
                                        null));
    }

    /** The page of an estimate that nobody has answered yet. */
    private List<String> offered() {
        long estimate = Long.parseLong(one("select estimate_id from offer_link l where not exists"
                + " (select from offer_answer a where a.link_id = l.id) order by id desc"));
        return List.of(
                as(Cast.WREN, () -> house.getBean(Offers.class).link(estimate).path()));
    }

    private String link() {
        return as(
                Cast.WREN,
                () -> house.getBean(AnswerLinks.class)
                        .make(new TicketNumber(Integer.parseInt(one("select number from follow_up_due"))))
                        .path());
    }

    /** The demo shop works by the house's procedures; one of its own is written here. */
    private String own() {
        return jdbc.sql("select key from own_procedure limit 1")
                .query(String.class)
                .optional()
                .orElseGet(() -> as(
                        Cast.ODILE,
                        () -> house.getBean(Procedures.class)
                                .write(new Procedures.Telling(
                                        "Crankcase vacuum",
                                        "To see whether the breather draws.",
                                        KeyState.RUNNING,
                                        5,
                                        List.of("maker"),
                                        List.of("Put the gauge on the oil filler", "Read at idle"),
                                        List.of(new Procedures.Asked(
                                                "Vacuum at the filler", Unit.KILOPASCAL, null, null, null, null))))));
    }

    private String struck() {
        return as(Cast.ODILE, () -> {
            String id = one("select id from known_good order by id desc");
            if (jdbc.sql("select count(*) from known_good_strike")
                            .query(Integer.class)
                            .single()
                    == 0) {
                house.getBean(KnownGoods.class).strike(Long.parseLong(id), "read before the engine was hot");
            }
            return one("select known_good_id from known_good_strike");
        });
    }

    private <T> T as(Cast.Member member, java.util.function.Supplier<T> work) {
        var people = house.getBean(People.class);
        Person person = people.all().stream()
                .filter(each -> each.name().equals(member.name()))
                .findFirst()
                .orElseThrow();
        return people.as(person, work);
    }

    private List<String> all(String at, String sql) {
        return jdbc.sql(sql)
                .query((row, n) -> at.replaceFirst("\\{[^}]*\\}", row.getString(1)))
                .list();
    }

    private String one(String sql) {
        return jdbc.sql(sql + " limit 1").query((row, n) -> row.getString(1)).single();
    }
}
