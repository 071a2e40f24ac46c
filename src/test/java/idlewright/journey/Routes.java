package idlewright.journey;

import idlewright.people.ByKey;
import idlewright.people.For;
import idlewright.people.Public;
import idlewright.people.Role;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import org.springframework.context.ApplicationContext;
import org.springframework.core.annotation.AnnotatedElementUtils;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.web.bind.annotation.RequestMethod;
import org.springframework.web.method.HandlerMethod;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;

/** Every page of the house, found in its mappings, and an address of it that exists in the demo shop. */
record Routes(JdbcClient sql, Map<String, HandlerMethod> pages) {

    /** Answers that are no pages of their own: files, programs' answers, parts of a page. */
    private static final List<String> NO_PAGES = List.of(
            ".*\\.pdf",
            ".*\\.zip",
            "/api/.*",
            ".*/export",
            ".*/picture",
            "/exhibits/\\{id[^/]*}",
            "/find/suggestions",
            "/vehicles/vin-check",
            "/error.*");

    static Routes of(ApplicationContext house) {
        var pages = new TreeMap<String, HandlerMethod>();
        house.getBean("requestMappingHandlerMapping", RequestMappingHandlerMapping.class)
                .getHandlerMethods()
                .forEach((mapping, handler) -> {
                    if (mapping.getMethodsCondition().getMethods().contains(RequestMethod.GET)
                            && handler.getBeanType().getName().startsWith("idlewright.")) {
                        for (String pattern : mapping.getPatternValues()) {
                            if (NO_PAGES.stream().noneMatch(pattern::matches)) {
                                pages.put(pattern, handler);
                            }
                        }
                    }
                });
        return new Routes(house.getBean(JdbcClient.class), pages);
    }

    /** Who may open it; empty for everybody. */
    static Set<Role> roles(HandlerMethod handler) {
        For asked = AnnotatedElementUtils.findMergedAnnotation(handler.getMethod(), For.class);
        if (asked == null && !handler.hasMethodAnnotation(Public.class) && !handler.hasMethodAnnotation(ByKey.class)) {
            asked = AnnotatedElementUtils.findMergedAnnotation(handler.getBeanType(), For.class);
        }
        return asked == null ? Set.of() : Set.copyOf(Arrays.asList(asked.value()));
    }

    /** An address of the page, when the shop has something to show there. */
    Optional<String> address(String pattern) {
        if (!pattern.contains("{")) {
            return Optional.of(pattern);
        }
        for (var sample : samples().entrySet()) {
            if (pattern.matches(sample.getKey())) {
                return sql.sql(sample.getValue()).query(rows -> {
                    if (!rows.next()) {
                        return Optional.<String>empty();
                    }
                    var values = new ArrayList<String>();
                    for (int i = 1; i <= rows.getMetaData().getColumnCount(); i++) {
                        values.add(rows.getString(i));
                    }
                    String address = pattern;
                    for (String value : values) {
                        address = address.replaceFirst("\\{[a-z]+(:(?:[^{}]|\\{\\d+})*)?}", value);
                    }
                    return address.contains("{") ? Optional.<String>empty() : Optional.of(address);
                });
            }
        }
        return Optional.empty();
    }

    private static Map<String, String> samples() {
        String open =
                "(select t.number from ticket t where not exists (select from stamp s where s.ticket_number = t.number and s.kind in ('BILLED', 'HANDED_BACK')))";
        var samples = new LinkedHashMap<String, String>();
        samples.put(
                "/tickets/.*/symptoms/.*/return",
                "select ticket_number, place from stamp where kind = 'RETURNED' order by id desc limit 1");
        samples.put(
                "/tickets/.*/symptoms/.*/(proof|swaps.*|labour.*)",
                "select ticket_number, place from stamp where kind = 'TRACED' and ticket_number in " + open
                        + " and exists (select from authorisation a where a.ticket_number = stamp.ticket_number and a.kind = 'REPAIR') order by id desc limit 1");
        samples.put(
                "/tickets/.*/symptoms/.*/dossiers/new",
                "select ticket_number, place from stamp where kind = 'PROVED' order by id desc limit 1");
        samples.put(
                "/tickets/.*/symptoms/\\{place.*",
                "select ticket_number, place from symptom where ticket_number in " + open
                        + " order by ticket_number desc limit 1");
        samples.put(
                "/tickets/.*/handing-back",
                "select ticket_number from stamp where kind = 'PAID' and ticket_number not in (select ticket_number from stamp where kind = 'HANDED_BACK') limit 1");
        samples.put(
                "/tickets/.*/invoice", "select ticket_number from charge where ticket_number in " + open + " limit 1");
        samples.put("/tickets/\\{number[^/]*}", "select number from ticket order by number limit 1");
        samples.put("/tickets/.*", "select max(number) from ticket where number in " + open);
        samples.put("/bay/\\{ticket.*}/tests/.*", "select max(number), 'air-flow' from ticket where number in " + open);
        samples.put("/bay/.*", "select max(number) from ticket where number in " + open);
        samples.put("/vehicles/.*", "select min(id) from vehicle");
        samples.put("/customers/.*", "select min(id) from customer");
        samples.put(
                "/measurements/.*/log",
                "select id from measurement where finished_at is null order by id desc limit 1");
        samples.put("/measurements/.*", "select id from measurement order by finished_at is not null, id desc limit 1");
        samples.put(
                "/readings/.*",
                "select r.id from reading r where r.kind = 'NUMBER' and not exists (select from reading n where n.replaces = r.id) order by r.id desc limit 1");
        samples.put(
                "/swaps/.*/checks",
                "select id from swap where not exists (select from swap_step e where e.swap_id = swap.id) order by id desc limit 1");
        samples.put("/swaps/.*", "select id from swap order by id desc limit 1");
        samples.put(
                "/invoices/.*/payments/new",
                "select i.number from invoice i where i.credits is null and not exists (select from payment p where p.invoice_number = i.number) order by 1 desc limit 1");
        samples.put("/invoices/.*", "select number from invoice order by issued_at desc limit 1");
        samples.put("/estimates/.*", "select max(id) from estimate");
        samples.put("/exhibits/.*", "select max(id) from exhibit");
        samples.put("/dossiers/.*", "select max(code) from dossier");
        samples.put("/claims/.*", "select max(id) from claim");
        samples.put("/authorisations/.*", "select max(id) from authorisation where ticket_number in " + open);
        samples.put(
                "/follow-ups/.*",
                "select ticket_number from stamp where kind = 'HANDED_BACK' order by id desc limit 1");
        samples.put("/set-up/people/.*", "select max(id) from person");
        samples.put("/set-up/instruments/.*", "select max(id) from instrument");
        samples.put("/set-up/limits/.*", "select max(id) from vehicle_limit");
        samples.put("/set-up/procedures/\\{key:own.*", "select key from own_procedure limit 1");
        samples.put("/set-up/procedures/.*", "select 'air-flow'");
        samples.put("/known-good/.*return", "select known_good_id from known_good_strike limit 1");
        samples.put(
                "/known-good/.*",
                "select max(id) from known_good where id not in (select known_good_id from known_good_strike)");
        return samples;
    }
}
