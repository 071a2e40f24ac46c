package idlewright.benchmarks;

import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * How the time of each page grows with the shop: the same pages of shops with 10,000, 60,000 and 200,000 tickets, in turn, in
 * one JVM, by the server's own time (no client, no network, no packing). Not a test. The shops are made at the first run, which
 * takes some ten minutes and four gigabytes, and are kept in the folder named:
 *
 * <pre>
 * mvn -Dquick test-compile exec:java -Dexec.classpathScope=test \
 *   -Dexec.mainClass=idlewright.benchmarks.GrowthBenchmark -Dexec.args=target/growth
 * </pre>
 *
 * More arguments choose pages by a piece of their name. With {@code -Dstatements=5} the statements of the largest shop that take
 * longer than so many milliseconds are printed below each page.
 */
public final class GrowthBenchmark {

    private static final int[] SIZES = {10_000, 60_000, 200_000};
    private static final int IDS = 41;
    private static final int MOST = 120;
    private static final double SECONDS = 3;

    private final GrownShops shops;
    private final Map<String, Map<Integer, List<String>>> found = new HashMap<>();

    private GrowthBenchmark(GrownShops shops) {
        this.shops = shops;
    }

    public static void main(String[] args) throws Exception {
        try (var shops = new GrownShops(Path.of(args[0]), SIZES)) {
            new GrowthBenchmark(shops).run(Set.copyOf(Arrays.asList(args).subList(1, args.length)));
        }
        System.exit(0);
    }

    private void run(Set<String> wanted) throws Exception {
        remember(
                "closed",
                "select number from ticket where comeback_of is null and opened_at < now() - interval '100 days'");
        remember(
                "open",
                "select t.number from ticket t join stamp s on s.ticket_number = t.number and s.kind = 'AGREED'"
                        + " where not exists (select from stamp h where h.ticket_number = t.number and h.kind = 'HANDED_BACK')");
        remember("vehicle", "select id from vehicle");
        remember("customer", "select id from customer");
        remember("plate", "select replace(plate, ' ', '%20') from vehicle");
        remember("mistyped", "select replace(overlay(plate placing '7' from 4 for 1), ' ', '') from vehicle");
        remember("vin", "select right(vin, 6) from vehicle");
        remember("surname", "select split_part(split_part(name, ' ', 2), '-', 1) from customer");
        remember("whole name", "select replace(name, ' ', '%20') from customer where name like '%-%'");
        remember("phone", "select phone from customer");
        remember("recent invoice", "select number from invoice order by issued_at desc limit 500");
        remember("old invoice", "select number from invoice where sequence between 100 and 600");
        remember("test", "select id from measurement where started_at < now() - interval '100 days'");
        remember("day", "select booked from invoice where booked between current_date - 300 and current_date - 100");
        int deep = 400;
        LocalDate month = LocalDate.now().minusMonths(3).withDayOfMonth(1);
        String span = "from=" + month + "&to=" + month.plusMonths(1).minusDays(1);

        var pages = new LinkedHashMap<String, String>();
        pages.put("me (knows no ticket: the noise)", "/me");
        pages.put("ticket, done", "/tickets/{closed}");
        pages.put("ticket, open", "/tickets/{open}");
        pages.put("vehicle", "/vehicles/{vehicle}");
        pages.put("customer", "/customers/{customer}");
        pages.put("test", "/measurements/{test}");
        pages.put("causes", "/tickets/{open}/symptoms/1/causes");
        pages.put("counter", "/counter");
        pages.put("bay", "/bay");
        pages.put("car in the bay", "/bay/{open}");
        pages.put("taking in", "/tickets/new");
        pages.put("find: ticket number", "/find?q={closed}");
        pages.put("find: plate", "/find?q={plate}");
        pages.put("find: plate, one wrong", "/find?q={mistyped}");
        pages.put("find: end of VIN", "/find?q={vin}");
        pages.put("find: whole name", "/find?q={whole name}");
        pages.put("find: surname", "/find?q={surname}");
        pages.put("find: phone", "/find?q={phone}");
        pages.put("find: first name", "/find?q=petra");
        pages.put("find: model", "/find?q=finch");
        pages.put("find: nothing", "/find?q=xyzzyx");
        pages.put("comebacks, a year", "/comebacks");
        pages.put("comebacks, five years", "/comebacks?months=36");
        pages.put("comebacks, the list", "/comebacks/list");
        pages.put("invoices", "/invoices");
        pages.put("invoices, deep", "/invoices?before={old invoice}");
        pages.put("invoice", "/invoices/{recent invoice}");
        pages.put("owed", "/owed");
        pages.put("owed, the list", "/owed/invoices");
        pages.put("statement", "/customers/{customer}/statement");
        pages.put("days", "/days");
        pages.put("a day", "/days/{day}");
        pages.put("journal for the bookkeeper, a month", "/exports/journal.csv?" + span);
        pages.put("API: invoices of a month", "/api/invoices?" + span);
        pages.put("API: payments of a month", "/api/payments?" + span);
        pages.put("follow-ups", "/follow-ups");
        pages.put("a follow-up", "/follow-ups/{closed}");
        pages.put("known good", "/known-good");
        pages.put("known good of a family", "/known-good?family=FAM7");
        pages.put("claims", "/claims");
        pages.put("not recovered, as a table", "/claims.csv");
        pages.put("cores", "/cores");
        pages.put("journal", "/journal");
        pages.put("journal, deep", "/journal?before=" + deep);
        pages.put("letters", "/letters");
        pages.put("dossiers", "/dossiers");
        pages.put("clocks", "/clocks");

        System.out.println("load " + Files.readString(Path.of("/proc/loadavg")).strip());
        System.out.println("| page | 10 k | 60 k | 200 k | slope | kB at 200 k |");
        System.out.println("| --- | --- | --- | --- | --- | --- |");
        for (var page : pages.entrySet()) {
            if (wanted.isEmpty() || wanted.stream().anyMatch(page.getKey()::contains)) {
                try {
                    measure(page.getKey(), page.getValue());
                } catch (Exception e) {
                    System.out.println("| " + page.getKey() + " | failed: " + e + " |");
                }
            }
        }
        System.out.println("load " + Files.readString(Path.of("/proc/loadavg")).strip());
    }

    private void remember(String what, String sql) throws SQLException {
        var bySize = new HashMap<Integer, List<String>>();
        for (int size : SIZES) {
            bySize.put(
                    size,
                    shops.ask(size, "select * from (" + sql + ") q order by hashtext(q::text) limit " + IDS).stream()
                            .collect(Collectors.toList()));
        }
        found.put(what, bySize);
    }

    private String url(String page, int size, int turn) {
        String url = page;
        for (var one : found.entrySet()) {
            String hole = "{" + one.getKey() + "}";
            if (url.contains(hole)) {
                List<String> ids = one.getValue().get(size);
                url = url.replace(hole, ids.get(turn % ids.size()));
            }
        }
        return url;
    }

    /** The sizes in turn, so that whatever else the machine does meets all of them. */
    private void measure(String name, String page) throws Exception {
        var times = new HashMap<Integer, List<Double>>();
        long end = System.nanoTime() + (long) (SECONDS * 1e9);
        int weight = 0;
        for (int turn = 0; turn < MOST && (System.nanoTime() < end || turn < 8); turn++) {
            for (int size : SIZES) {
                shops.visit(size);
                String url = url(page, size, turn);
                long start = System.nanoTime();
                var answer = shops.page(url);
                double took = (System.nanoTime() - start) / 1e6;
                weight = answer.getContentAsByteArray().length;
                times.computeIfAbsent(size, s -> new ArrayList<>()).add(took);
            }
        }
        double[] middles = Arrays.stream(SIZES)
                .mapToDouble(size -> middle(times.get(size)))
                .toArray();
        System.out.printf(
                Locale.ROOT,
                "| %s | %.1f ms | %.1f ms | %.1f ms | %.2f | %.0f |%n",
                name,
                middles[0],
                middles[1],
                middles[2],
                slope(middles),
                weight / 1e3);
        if (Integer.getInteger("statements") != null) {
            slow(url(page, SIZES[SIZES.length - 1], 0));
        }
    }

    private void slow(String url) throws Exception {
        int size = SIZES[SIZES.length - 1];
        shops.visit(size);
        for (GrownShops.Sent one : shops.sent(() -> shops.page(url))) {
            try (Connection connection = shops.database(size).getConnection();
                    PreparedStatement sql = connection.prepareStatement(one.sql())) {
                one.fill(sql);
                long start = System.nanoTime();
                sql.execute();
                double took = (System.nanoTime() - start) / 1e6;
                if (took > Integer.getInteger("statements")) {
                    System.out.printf(
                            Locale.ROOT, "  %.1f ms: %s%n", took, sql.toString().replaceAll("\\s+", " "));
                }
            }
        }
    }

    /** Of log time over log tickets, by least squares. */
    private static double slope(double[] times) {
        double[] x = Arrays.stream(SIZES).mapToDouble(Math::log).toArray();
        double[] y = Arrays.stream(times).map(Math::log).toArray();
        double meanX = Arrays.stream(x).average().orElseThrow();
        double meanY = Arrays.stream(y).average().orElseThrow();
        double up = 0;
        double down = 0;
        for (int i = 0; i < x.length; i++) {
            up += (x[i] - meanX) * (y[i] - meanY);
            down += (x[i] - meanX) * (x[i] - meanX);
        }
        return up / down;
    }

    private static double middle(List<Double> times) {
        double[] sorted =
                times.stream().mapToDouble(Double::doubleValue).sorted().toArray();
        return sorted[sorted.length / 2];
    }
}
