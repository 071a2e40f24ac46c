package idlewright.benchmarks;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import idlewright.bench.Bench;
import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.KeyState;
import idlewright.bench.rules.Motion;
import idlewright.billing.Invoices;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.people.Badge;
import idlewright.people.People;
import java.io.ByteArrayOutputStream;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.zip.GZIPOutputStream;
import org.springframework.mock.web.MockHttpServletRequest;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.MvcResult;
import org.springframework.web.context.request.RequestContextHolder;
import org.springframework.web.context.request.ServletRequestAttributes;
import org.springframework.web.servlet.DispatcherServlet;
import org.springframework.web.servlet.View;
import org.springframework.web.servlet.ViewResolver;

/**
 * What the app costs above its floors: a page above its SQL, a front door above the same SQL, a template above appended strings,
 * a kept reading above a bare insert, the journal; and what a page weighs on the wire. Baseline and candidate alternate in
 * blocks of turns, the first block is thrown away. Not a test; the shop of 10,000 tickets is the one of {@link GrowthBenchmark}:
 *
 * <pre>
 * mvn -Dquick test-compile exec:java -Dexec.classpathScope=test \
 *   -Dexec.mainClass=idlewright.benchmarks.RatioBenchmark -Dexec.args=target/growth
 * </pre>
 */
public final class RatioBenchmark {

    private static final int TICKETS = 10_000;
    private static final int BLOCKS = 6;
    private static final int READS = 40;
    private static final int WRITES = 20;

    private interface Work {
        void once(int turn) throws Exception;
    }

    private final GrownShops shops;
    private final List<String> closed;
    private final List<String> open;

    private RatioBenchmark(GrownShops shops) throws Exception {
        this.shops = shops;
        shops.visit(TICKETS);
        closed = shops.ask(
                TICKETS,
                "select number from ticket where opened_at < now() - interval '100 days' order by hashint4(number) limit 40");
        open = shops.ask(
                TICKETS,
                "select t.number from ticket t join stamp s on s.ticket_number = t.number and s.kind = 'AGREED'"
                        + " where not exists (select from stamp h where h.ticket_number = t.number and h.kind in ('HANDED_BACK', 'PROVED', 'UNTRACED', 'DECLINED')) order by t.number");
    }

    public static void main(String[] args) throws Exception {
        try (var shops = new GrownShops(Path.of(args[0]), TICKETS)) {
            new RatioBenchmark(shops).run();
        }
        System.exit(0);
    }

    private void run() throws Exception {
        System.out.println("load " + Files.readString(Path.of("/proc/loadavg")).strip());
        System.out.println("| what | floor | with it | ratio, middle (range) |");
        System.out.println("| --- | --- | --- | --- |");
        ticketPage();
        frontDoors();
        templates();
        readings();
        weight();
        System.out.println("load " + Files.readString(Path.of("/proc/loadavg")).strip());
    }

    private void ticketPage() throws Exception {
        compare(
                "ticket page / its SQL written by hand",
                READS,
                this::handWritten,
                turn -> shops.page("/tickets/" + closed(turn)));
        for (String url : List.of("/tickets/" + closed.get(0), "/invoices")) {
            var sent = shops.sent(() -> shops.page(url));
            compare(
                    url.replaceAll("\\d+", "...") + " / the " + sent.size() + " statements it sends, bare",
                    READS,
                    turn -> replay(sent),
                    turn -> shops.page(url));
        }
    }

    private String closed(int turn) {
        return closed.get(turn % closed.size());
    }

    /** All that the page of a ticket tells, in one statement, as one would write it for that page alone. */
    private void handWritten(int turn) throws Exception {
        try (Connection connection = shops.database(TICKETS).getConnection();
                PreparedStatement sql = connection.prepareStatement("""
                        select t.*, v.*, c.*,
                            (select json_agg(q) from (select * from symptom y where y.ticket_number = t.number order by y.place) q),
                            (select json_agg(q) from (select * from symptom_answer a where a.ticket_number = t.number) q),
                            (select json_agg(q) from (select * from words_said a where a.ticket_number = t.number) q),
                            (select json_agg(q) from (select * from stamp s where s.ticket_number = t.number order by s.id) q),
                            (select json_agg(q) from (select * from odometer o where o.vehicle_id = t.vehicle_id and o.ticket_number = t.number) q),
                            (select json_agg(q) from (select n.number, n.opened_at from ticket n where n.vehicle_id = t.vehicle_id) q),
                            (select json_agg(q) from (select m.*, (select json_agg(r order by r.id) from reading r where r.measurement_id = m.id) readings
                                from measurement m where m.ticket_number = t.number order by m.id) q),
                            (select json_agg(q) from (select e.*, (select json_agg(l order by l.nr) from estimate_line l where l.estimate_id = e.id) lines
                                from estimate e where e.ticket_number = t.number) q),
                            (select json_agg(q) from (select * from authorisation a where a.ticket_number = t.number order by a.id) q),
                            (select json_agg(q) from (select * from charge a where a.ticket_number = t.number order by a.id) q),
                            (select json_agg(q) from (select i.number, i.total, i.issued_at, i.due,
                                (select sum(p.amount) from payment p where p.invoice_number = i.number) paid from invoice i where i.ticket_number = t.number) q),
                            (select json_agg(q) from (select * from finding f where f.ticket_number = t.number order by f.id) q),
                            (select json_agg(q) from (select w.*, (select json_agg(e order by e.id) from swap_step e where e.swap_id = w.id) steps,
                                (select json_agg(p) from part_terms p where p.swap_id = w.id) terms from swap w where w.ticket_number = t.number order by w.id) q),
                            (select json_agg(q) from (select * from labour l where l.ticket_number = t.number order by l.id) q),
                            (select json_agg(q) from (select * from clock_span l where l.ticket_number = t.number) q),
                            (select json_agg(q) from (select p.*, (select json_agg(r order by r.nr) from proof_pair r where r.proof_id = p.id) pairs
                                from proof p where p.ticket_number = t.number) q),
                            (select json_agg(q) from (select f.*, o.place, o.outcome from follow_up f join follow_up_outcome o on o.follow_up_id = f.id
                                where f.ticket_number = t.number) q),
                            (select json_agg(q) from (select * from exhibit e where e.ticket = t.number order by e.id) q),
                            (select json_agg(q) from (select * from claim l where l.ticket_number = t.number) q),
                            (select json_agg(q) from (select * from dossier d where d.ticket_number = t.number) q)
                        from ticket t join customer c on c.id = t.customer_id join vehicle v on v.id = t.vehicle_id where t.number = ?""")) {
            sql.setInt(1, Integer.parseInt(closed(turn)));
            readAll(sql);
        }
    }

    private void replay(List<GrownShops.Sent> sent) throws Exception {
        for (GrownShops.Sent one : sent) {
            try (Connection connection = shops.database(TICKETS).getConnection();
                    PreparedStatement sql = connection.prepareStatement(one.sql())) {
                one.fill(sql);
                readAll(sql);
            }
        }
    }

    private static void readAll(PreparedStatement sql) throws Exception {
        try (ResultSet rows = sql.executeQuery()) {
            int columns = rows.getMetaData().getColumnCount();
            while (rows.next()) {
                for (int column = 1; column <= columns; column++) {
                    rows.getString(column);
                }
            }
        }
    }

    private void frontDoors() throws Exception {
        var tickets = shops.bean(Tickets.class);
        var invoices = shops.bean(Invoices.class);
        var people = shops.bean(People.class);
        var number = new TicketNumber(Integer.parseInt(closed.get(1)));
        var me = ((Badge) shops.badge().getPrincipal()).person();
        people.as(me, () -> {
            try {
                door("a ticket", () -> tickets.get(number));
                door("50 invoices", () -> invoices.latest(null, 50));
                return null;
            } catch (Exception e) {
                throw new IllegalStateException(e);
            }
        });
    }

    private void door(String what, Runnable read) throws Exception {
        var sent = shops.sent(read::run);
        compare(
                "front door: " + what + " / its " + sent.size() + " statements, bare",
                READS,
                turn -> replay(sent),
                turn -> read.run());
    }

    private void templates() throws Exception {
        for (String url : List.of("/tickets/" + closed.get(2), "/invoices")) {
            MvcResult result = shops.browser()
                    .perform(get(url).with(authentication(shops.badge())))
                    .andReturn();
            var told = result.getModelAndView();
            View found = shops.bean("thymeleafViewResolver", ViewResolver.class)
                    .resolveViewName(told.getViewName(), Locale.UK);
            String html = result.getResponse().getContentAsString(UTF_8);
            Matcher pieces = Pattern.compile("<[^>]*>|[^<]+").matcher(html);
            var parts = new ArrayList<String>();
            while (pieces.find()) {
                parts.add(pieces.group());
            }
            MockHttpServletRequest request = result.getRequest();
            org.springframework.security.core.context.SecurityContextHolder.getContext()
                    .setAuthentication(shops.badge());
            RequestContextHolder.setRequestAttributes(new ServletRequestAttributes(request));
            request.setAttribute(
                    DispatcherServlet.LOCALE_RESOLVER_ATTRIBUTE,
                    new org.springframework.web.servlet.i18n.FixedLocaleResolver(Locale.UK));
            var bytes = new int[2];
            compare(
                    "template of " + url.replaceAll("\\d+", "...") + ", " + html.length() / 1000
                            + " kB / StringBuilder of the same",
                    READS,
                    turn -> {
                        var page = new StringBuilder(8192);
                        for (String part : parts) {
                            if (part.charAt(0) == '<') {
                                page.append(part);
                            } else {
                                escape(part, page);
                            }
                        }
                        bytes[0] = page.toString().getBytes(UTF_8).length;
                    },
                    turn -> {
                        var response = new MockHttpServletResponse();
                        response.setCharacterEncoding("UTF-8");
                        found.render(told.getModel(), request, response);
                        bytes[1] = response.getContentAsByteArray().length;
                    });
            System.out.println("  (" + bytes[0] + " and " + bytes[1] + " bytes)");
            RequestContextHolder.resetRequestAttributes();
        }
    }

    private static void escape(String text, StringBuilder page) {
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            switch (c) {
                case '<' -> page.append("&lt;");
                case '>' -> page.append("&gt;");
                case '"' -> page.append("&quot;");
                default -> page.append(c);
            }
        }
    }

    /** Each post keeps a reading of a test of its own, begun beforehand: a point is read once. */
    private void readings() throws Exception {
        var bench = shops.bean(Bench.class);
        var people = shops.bean(People.class);
        var me = ((Badge) shops.badge().getPrincipal()).person();
        var tests = new ArrayList<Long>();
        var keyOn = new Conditions(KeyState.KEY_ON_ENGINE_OFF, null, null, null, null, Motion.PARKED, null, null);
        people.as(me, () -> {
            for (int i = 0; i < 4 * BLOCKS * WRITES; i++) {
                var number = new TicketNumber(Integer.parseInt(open.get(i % open.size())));
                tests.add(bench.start(number, "sensor-supply", false, List.of(1), keyOn, null));
            }
            return null;
        });
        var next = tests.iterator();
        Work keep = turn -> {
            var answer = shops.browser()
                    .perform(post("/measurements/" + next.next() + "/readings")
                            .with(authentication(shops.badge()))
                            .with(csrf())
                            .param("submission", UUID.randomUUID().toString())
                            .param("point", "battery")
                            .param("spot", "0")
                            .param("typed", "12." + (turn % 90 + 10))
                            .param("unit", "V"))
                    .andReturn()
                    .getResponse();
            if (answer.getStatus() != 302) {
                throw new IllegalStateException("not kept: " + answer.getStatus() + answer.getContentAsString());
            }
        };
        compare("a reading kept / one insert and commit", WRITES, turn -> insert(), keep);
        compare(
                "a reading kept / the same without the journal",
                WRITES,
                turn -> {
                    shops.keepNoJournal(true);
                    keep.once(turn);
                },
                turn -> {
                    shops.keepNoJournal(false);
                    keep.once(turn);
                });
    }

    private void insert() throws Exception {
        try (Connection connection = shops.database(TICKETS).getConnection();
                PreparedStatement sql = connection.prepareStatement(
                        "insert into submission (key, path, fingerprint, at) values (gen_random_uuid(), '/floor', repeat('0', 64), now())")) {
            sql.executeUpdate();
        }
    }

    private void weight() throws Exception {
        for (String url : List.of("/tickets/" + closed.get(0), "/tickets/" + open.get(0), "/counter")) {
            String html = shops.page(url).getContentAsString(UTF_8);
            var http = HttpClient.newHttpClient();
            int cold = packed(html);
            int assets = 0;
            Matcher links = Pattern.compile(
                            "(?:<link[^>]*href|<script[^>]*src|<img[^>]*src)=\"(/[^\"]+\\.(?:css|js|svg|png|ico)[^\"]*)\"")
                    .matcher(html);
            String kept = "";
            while (links.find()) {
                var answer = http.send(
                        HttpRequest.newBuilder(URI.create("http://localhost:" + shops.port() + links.group(1)))
                                .header("Accept-Encoding", "gzip")
                                .build(),
                        HttpResponse.BodyHandlers.ofByteArray());
                cold += answer.body().length;
                assets++;
                kept = answer.headers().firstValue("Cache-Control").orElse("none");
                if (answer.statusCode() != 200) {
                    System.out.println(links.group(1) + " answers " + answer.statusCode());
                }
            }
            System.out.printf(
                    Locale.ROOT,
                    "| weight of %s | %.1f kB warm | %.1f kB cold, %d files kept by %s | |%n",
                    url.replaceAll("\\d+", "..."),
                    packed(html) / 1e3,
                    cold / 1e3,
                    assets,
                    kept);
        }
    }

    private static int packed(String body) throws Exception {
        var bytes = new ByteArrayOutputStream();
        try (var zip = new GZIPOutputStream(bytes)) {
            zip.write(body.getBytes(UTF_8));
        }
        return bytes.size();
    }

    /** Floor and candidate in turn; of each block the middles are compared. The first block warms up. */
    private static void compare(String what, int turns, Work floor, Work candidate) throws Exception {
        var ratios = new ArrayList<Double>();
        var floors = new ArrayList<Double>();
        var withIt = new ArrayList<Double>();
        for (int block = 0; block < BLOCKS; block++) {
            double[] lows = new double[turns];
            double[] highs = new double[turns];
            for (int turn = 0; turn < turns; turn++) {
                lows[turn] = time(floor, turn);
                highs[turn] = time(candidate, turn);
            }
            double low = middle(lows);
            double high = middle(highs);
            if (block > 0) {
                ratios.add(high / low);
                floors.add(low);
                withIt.add(high);
            }
        }
        ratios.sort(null);
        floors.sort(null);
        withIt.sort(null);
        System.out.printf(
                Locale.ROOT,
                "| %s | %.3f ms | %.3f ms | %.2f (%.2f to %.2f) |%n",
                what,
                floors.get(floors.size() / 2),
                withIt.get(withIt.size() / 2),
                ratios.get(ratios.size() / 2),
                ratios.get(0),
                ratios.get(ratios.size() - 1));
    }

    private static double time(Work work, int turn) throws Exception {
        long start = System.nanoTime();
        work.once(turn);
        return (System.nanoTime() - start) / 1e6;
    }

    private static double middle(double[] times) {
        Arrays.sort(times);
        return times[times.length / 2];
    }
}
