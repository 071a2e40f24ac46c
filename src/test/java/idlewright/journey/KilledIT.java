package idlewright.journey;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.BufferedReader;
import java.io.File;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.net.CookieManager;
import java.net.ServerSocket;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Queue;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * The app in a JVM and a home of its own, killed while four desks write. Whatever a desk was told is kept is there, once;
 * what it was not told of may be sent again under its key and is there once too.
 */
@Tag("database")
@DisplayName("Killed in the middle of its work, the house")
class KilledIT {

    private static final int ROUNDS = 3;
    private static final int DESKS = 4;
    private static final Pattern TOKEN = Pattern.compile("name=\"_csrf\" value=\"([^\"]+)\"");

    @TempDir
    Path tmp;

    private final Map<String, UUID> unanswered = new ConcurrentHashMap<>();
    private final Map<String, UUID> acknowledged = new ConcurrentHashMap<>();
    private final int port = freePort();
    private Process app;

    @AfterEach
    void endsWhatItStarted() throws Exception {
        if (app != null && app.isAlive()) {
            app.destroy();
            if (!app.waitFor(20, TimeUnit.SECONDS)) {
                app.destroyForcibly();
            }
        }
    }

    @Test
    @Timeout(value = 5, unit = TimeUnit.MINUTES)
    @DisplayName("loses nothing it has acknowledged and does nothing twice")
    void losesNothingAcknowledgedAndDoesNothingTwice() throws Exception {
        firstOwner(starts());
        ExecutorService desks = Executors.newFixedThreadPool(DESKS);
        try {
            for (int round = 1; round <= ROUNDS; round++) {
                var enough = new CountDownLatch(12 * round);
                for (int desk = 1; desk <= DESKS; desk++) {
                    String name = "Round " + round + " desk " + desk + " customer ";
                    desks.execute(() -> writesUntilKilled(name, enough));
                }
                assertThat(enough.await(60, TimeUnit.SECONDS))
                        .as("the desks write")
                        .isTrue();
                app.destroyForcibly().onExit().join();
                starts();
            }
        } finally {
            desks.shutdown();
            assertThat(desks.awaitTermination(20, TimeUnit.SECONDS)).isTrue();
        }
        Map<String, Integer> kept = kept();
        assertThat(kept)
                .as("acknowledged before a kill")
                .containsKeys(acknowledged.keySet().toArray(String[]::new));

        var again = new Desk();
        again.signsIn();
        unanswered.forEach(again::writes);
        assertThat(acknowledged).hasSizeGreaterThanOrEqualTo(12 * (1 + 2 + 3));
        assertThat(kept()).as("every customer, sent once or twice").containsOnlyKeys(acknowledged.keySet());
        assertThat(kept().values()).as("how often each is there").containsOnly(1);
    }

    @Test
    @Timeout(value = 5, unit = TimeUnit.MINUTES)
    @DisplayName("numbers invoices from 1 without a gap, and has every acknowledged one with its paper")
    void numbersInvoicesWithoutAGap() throws Exception {
        firstOwner(starts());
        List<Integer> tickets = readyToInvoice(60);
        var left = new ConcurrentLinkedQueue<>(tickets);
        var keys = new ConcurrentHashMap<Integer, UUID>();
        var issued = new ConcurrentHashMap<Integer, String>();
        ExecutorService desks = Executors.newFixedThreadPool(DESKS);
        try {
            for (int kill = 1; kill <= 2; kill++) {
                var enough = new CountDownLatch(8);
                for (int desk = 1; desk <= DESKS; desk++) {
                    desks.execute(() -> issuesUntilKilled(left, keys, issued, enough));
                }
                assertThat(enough.await(90, TimeUnit.SECONDS))
                        .as("the desks issue invoices")
                        .isTrue();
                app.destroyForcibly().onExit().join();
                starts();
            }
        } finally {
            desks.shutdown();
            assertThat(desks.awaitTermination(20, TimeUnit.SECONDS)).isTrue();
        }
        assertThat(issued).hasSizeGreaterThanOrEqualTo(16);
        Map<Integer, String> standing = invoiced();
        assertThat(standing).as("acknowledged before a kill").containsAllEntriesOf(issued);
        assertThat(standing.values())
                .as("no gap where the house was killed")
                .containsExactlyInAnyOrderElementsOf(numbers(standing.size()));

        // What was on its way is sent again under its key, as a browser does, and is there once.
        var again = new Desk();
        again.signsIn();
        keys.forEach((ticket, key) -> again.invoices(ticket, key, issued));
        standing = invoiced();
        assertThat(standing).isEqualTo(issued);
        assertThat(standing.values()).containsExactlyInAnyOrderElementsOf(numbers(standing.size()));
        for (String number : issued.values()) {
            var paper = again.get("/invoices/" + number + ".pdf");
            assertThat(paper.statusCode()).as(number).isEqualTo(200);
            assertThat(paper.body()).startsWith("%PDF-");
        }
    }

    private void issuesUntilKilled(
            Queue<Integer> left, Map<Integer, UUID> keys, Map<Integer, String> issued, CountDownLatch enough) {
        try {
            var desk = new Desk();
            desk.signsIn();
            for (Integer ticket = left.poll(); ticket != null; ticket = left.poll()) {
                keys.put(ticket, UUID.randomUUID());
                desk.invoices(ticket, keys.get(ticket), issued);
                enough.countDown();
            }
        } catch (UncheckedIOException killed) {
            // The desk stands idle until somebody starts the app again.
        }
    }

    private static List<String> numbers(int last) {
        return IntStream.rangeClosed(1, last)
                .mapToObj(n -> "A-%05d".formatted(n))
                .toList();
    }

    /** Tickets with work agreed, done and charged, written straight into the tables. */
    private List<Integer> readyToInvoice(int count) throws IOException, SQLException {
        try (var connection = root();
                var sql = connection.createStatement()) {
            sql.execute("insert into customer (name, phone, made_at) values ('Ferryman Couriers', '555 0109', now())");
            sql.execute(
                    "insert into vehicle (customer_id, plate, make, model, made_at) select id, 'KL 204', 'Brightwater', 'Finch', now() from customer");
            sql.execute(
                    "insert into ticket (vehicle_id, customer_id, opened_at, opened_by, old_parts, road_test) select id, customer_id, now(), 'Odell Marsh', 'SHOW', 'YES' from vehicle, generate_series(1, "
                            + count + ")");
            sql.execute(
                    "insert into symptom (ticket_number, place, kind, words, heard_at, heard_by) select number, 1, 'hesitation', 'It hesitates.', now(), 'Odell Marsh' from ticket");
            sql.execute(
                    "insert into stamp (ticket_number, place, kind, at, who) select number, s.place, s.kind, now(), 'Odell Marsh' from ticket, (values (1, null::integer, 'OPENED'), (2, 1, 'HEARD'), (3, null, 'AGREED'), (4, 1, 'DECLINED')) s (nr, place, kind) order by number, s.nr");
            sql.execute(
                    "insert into authorisation (ticket_number, kind, amount, words, channel, by_whom, at, taken_by) select number, 'REPAIR', 500, 'go ahead', 'PHONE', 'Teodor Quill', now(), 'Odell Marsh' from ticket");
            sql.execute(
                    "insert into charge (ticket_number, place, kind, what, quantity, each, at, who) select number, 1, 'LABOUR', 'Work', 1, 100, now(), 'Odell Marsh' from ticket");
            var tickets = new ArrayList<Integer>();
            try (var rows = sql.executeQuery("select number from ticket order by number")) {
                while (rows.next()) {
                    tickets.add(rows.getInt(1));
                }
            }
            return tickets;
        }
    }

    /** The invoice of each ticket, with its line; the paper is drawn after the number is told. */
    private Map<Integer, String> invoiced() throws IOException, SQLException {
        var invoiced = new HashMap<Integer, String>();
        try (var connection = root();
                var rows = connection.createStatement().executeQuery("""
                        select i.ticket_number, i.number from invoice i
                        join invoice_line l on l.invoice_number = i.number""")) {
            while (rows.next()) {
                assertThat(invoiced.put(rows.getInt(1), rows.getString(2))).isNull();
            }
        }
        return invoiced;
    }

    private void writesUntilKilled(String name, CountDownLatch enough) {
        try {
            var desk = new Desk();
            desk.signsIn();
            for (int nr = 1; ; nr++) {
                desk.writes(name + nr, UUID.randomUUID());
                enough.countDown();
            }
        } catch (UncheckedIOException killed) {
            // The desk stands idle until somebody starts the app again.
        }
    }

    /** Somebody with a browser of their own. */
    private final class Desk {
        private final HttpClient http = HttpClient.newBuilder()
                .cookieHandler(new CookieManager())
                .connectTimeout(Duration.ofSeconds(5))
                .build();
        private String token = "";

        void signsIn() {
            get("/sign-in");
            post("/sign-in", Map.of("name", "odell", "password", "a plum ladder in the rain"));
            get("/customers/new");
        }

        /** Adds a customer; it counts as acknowledged only when the answer leads on to the customer's first car. */
        void writes(String name, UUID key) {
            unanswered.put(name, key);
            HttpResponse<String> answer = post(
                    "/customers",
                    Map.of("submission", key.toString(), "name", name, "phone", "555 0100", "contactBy", "PHONE"));
            String next = answer.headers().firstValue("Location").orElse("");
            if (answer.statusCode() / 100 != 3 || !next.matches(".*/customers/\\d+/vehicles/new")) {
                throw new UncheckedIOException(new IOException(answer.statusCode() + " " + next));
            }
            acknowledged.put(name, key);
            unanswered.remove(name);
        }

        /** Issues a ticket's invoice; it counts as acknowledged only when the answer names its number. */
        void invoices(int ticket, UUID key, Map<Integer, String> issued) {
            HttpResponse<String> answer =
                    post("/tickets/" + ticket + "/invoices", Map.of("submission", key.toString()));
            String next = answer.headers().firstValue("Location").orElse("");
            if (answer.statusCode() / 100 != 3 || !next.matches(".*/invoices/A-\\d{5}")) {
                throw new UncheckedIOException(new IOException(answer.statusCode() + " " + next));
            }
            issued.put(ticket, next.substring(next.lastIndexOf('/') + 1));
        }

        HttpResponse<String> get(String path) {
            HttpResponse<String> answer = send(HttpRequest.newBuilder(at(path)).GET());
            Matcher found = TOKEN.matcher(answer.body());
            if (found.find()) {
                token = found.group(1);
            }
            return answer;
        }

        HttpResponse<String> post(String path, Map<String, String> fields) {
            var all = new HashMap<>(fields);
            all.put("_csrf", token);
            String form = all.entrySet().stream()
                    .map(field -> field.getKey() + "=" + URLEncoder.encode(field.getValue(), UTF_8))
                    .collect(Collectors.joining("&"));
            return send(HttpRequest.newBuilder(at(path))
                    .header("Content-Type", "application/x-www-form-urlencoded")
                    .header("Origin", "http://127.0.0.1:" + port)
                    .POST(HttpRequest.BodyPublishers.ofString(form)));
        }

        private HttpResponse<String> send(HttpRequest.Builder request) {
            try {
                return http.send(
                        request.timeout(Duration.ofSeconds(20)).build(), HttpResponse.BodyHandlers.ofString(UTF_8));
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            } catch (InterruptedException e) {
                throw new IllegalStateException(e);
            }
        }

        private URI at(String path) {
            return URI.create("http://127.0.0.1:" + port + path);
        }
    }

    private void firstOwner(String said) {
        Matcher found = Pattern.compile("/first-start\\?token=(\\S+)").matcher(said);
        assertThat(found.find()).as(said).isTrue();
        var desk = new Desk();
        desk.get("/first-start?token=" + found.group(1));
        HttpResponse<String> answer = desk.post(
                "/first-start",
                Map.ofEntries(
                        Map.entry("submission", UUID.randomUUID().toString()),
                        Map.entry("token", found.group(1)),
                        Map.entry("name", "Millrace Motors"),
                        Map.entry("currency", "EUR"),
                        Map.entry("zone", "UTC"),
                        Map.entry("units", "metric"),
                        Map.entry("language", "en-IE"),
                        Map.entry("sheet", "A4"),
                        Map.entry("owner", "Odell Marsh"),
                        Map.entry("signIn", "odell"),
                        Map.entry("password", "a plum ladder in the rain")));
        assertThat(answer.headers().firstValue("Location").orElse(answer.body()))
                .endsWith("/sign-in");
    }

    /** Starts the app in its home and waits until it serves; tells what it said on the way. */
    private String starts() throws IOException {
        app = new ProcessBuilder(
                        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                        "-XX:TieredStopAtLevel=1",
                        "-Xmx500m",
                        "-cp",
                        withoutTests(),
                        "idlewright.Idlewright",
                        "--idlewright.home=" + tmp.resolve("home"),
                        "--server.address=127.0.0.1",
                        "--server.port=" + port,
                        "--management.server.port=0")
                .redirectErrorStream(true)
                .start();
        var said = new ArrayList<String>();
        var out = new BufferedReader(new InputStreamReader(app.getInputStream(), UTF_8));
        boolean first = !Files.exists(tmp.resolve("home"));
        for (String line = out.readLine(); line != null; line = out.readLine()) {
            said.add(line);
            if (first ? line.contains("/first-start?token=") : line.contains("Started Idlewright in")) {
                drains(out);
                return String.join("\n", said);
            }
        }
        throw new AssertionError("The app did not start:\n" + String.join("\n", said));
    }

    /** A full pipe would stop the app. */
    private static void drains(BufferedReader out) {
        var drain = new Thread(() -> {
            try (out) {
                while (out.readLine() != null) {
                    continue;
                }
            } catch (IOException ended) {
                // with the app
            }
        });
        drain.setDaemon(true);
        drain.start();
    }

    /** The tests' own pages and databases are no part of the app. */
    private static String withoutTests() {
        String all = Objects.requireNonNullElse(
                System.getProperty("surefire.test.class.path"), System.getProperty("java.class.path"));
        return Stream.of(all.split(File.pathSeparator))
                .filter(entry -> !entry.replace('\\', '/').matches(".*/?target/test-classes/?"))
                .collect(Collectors.joining(File.pathSeparator));
    }

    /** How often each customer stands in the table. */
    private Map<String, Integer> kept() throws IOException, SQLException {
        var kept = new HashMap<String, Integer>();
        try (var connection = root();
                var rows = connection
                        .createStatement()
                        .executeQuery("select name, count(*) from customer group by name")) {
            while (rows.next()) {
                kept.put(rows.getString(1), rows.getInt(2));
            }
        }
        return kept;
    }

    private Connection root() throws IOException, SQLException {
        Path home = tmp.resolve("home");
        List<String> server = Files.readAllLines(home.resolve("postgres/postmaster.pid"));
        return DriverManager.getConnection(
                "jdbc:postgresql://127.0.0.1:" + server.get(3).strip() + "/idlewright",
                "idlewright_root",
                Files.readString(home.resolve("db.root.password")).strip());
    }

    private static int freePort() {
        try (var socket = new ServerSocket(0)) {
            return socket.getLocalPort();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
