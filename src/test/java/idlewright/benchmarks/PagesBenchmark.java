package idlewright.benchmarks;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.io.IOException;
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
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import java.util.zip.GZIPOutputStream;

/**
 * Start, memory and page times of the packaged app with the demo shop, measured from outside by a client with cookies on
 * the same machine. Not a test. Package first, then run with the path of the jar:
 *
 * <pre>
 * mvn -Dquick package -DskipTests
 * mvn -Dquick test-compile exec:java -Dexec.classpathScope=test \
 *   -Dexec.mainClass=idlewright.benchmarks.PagesBenchmark -Dexec.args=target/idlewright.jar
 * </pre>
 *
 * Further arguments go to its Java, like {@code -XX:+UseSerialGC}. The pages are measured unpacked and with class data, as
 * {@code docs/operations.md} advises.
 */
public final class PagesBenchmark {

    private static final Pattern TOKEN = Pattern.compile("name=\"_csrf\" value=\"([^\"]+)\"");
    private static final String JAVA =
            Path.of(System.getProperty("java.home"), "bin", "java").toString();
    private static final int COLD = 200;
    private static final int WARM = 1_000;
    private static final int TERMINALS = 100;
    private static final int SECONDS = 60;

    private final Path jar;
    private final Path home;
    private final List<String> flags;
    private final int port = freePort();
    private Process app;

    private PagesBenchmark(Path jar, Path home, List<String> flags) {
        this.jar = jar;
        this.home = home;
        this.flags = flags;
    }

    public static void main(String[] args) throws Exception {
        Path home = Files.createTempDirectory("idlewright-benchmark");
        var benchmark = new PagesBenchmark(Path.of(args[0]), home, List.of(args).subList(1, args.length));
        try {
            benchmark.run();
        } finally {
            benchmark.stop();
            try (Stream<Path> files = Files.walk(home)) {
                files.sorted((a, b) -> b.compareTo(a))
                        .forEach(file -> file.toFile().delete());
            }
        }
    }

    private void run() throws Exception {
        System.out.printf(
                Locale.ROOT,
                "%d cores, Java %s %s, load %s, jar %.1f MB%n",
                Runtime.getRuntime().availableProcessors(),
                System.getProperty("java.version"),
                flags,
                load(),
                Files.size(jar) / 1e6);
        var packed = List.of("-jar", jar.toString());
        double first = start(packed);
        awaitShop();
        System.out.printf(Locale.ROOT, "first start %.1f s to the sign-in page%n", first);
        stop();
        laterStarts("packed", packed);
        stop();
        laterStarts("unpacked, with class data", quick());

        var owner = new Client("odile", "ledger under lamp");
        var writer = new Client("wren", "kettle on at seven");
        var technician = new Client("tamsin", "smoke finds the split");
        String ticket = longest(writer);
        var pages = new LinkedHashMap<String, Client>();
        pages.put("/counter", writer);
        pages.put(ticket, writer);
        pages.put("/bay", technician);
        pages.put("/comebacks", owner);
        pages.put("/find?q=van", writer);
        pages.put("/sign-in", new Client());

        System.out.println(
                "| page | cold mean of " + COLD + " | warm median | warm p99 | cold / warm | kB | kB packed |");
        System.out.println("| --- | --- | --- | --- | --- | --- | --- |");
        for (var page : pages.entrySet()) {
            double[] cold = times(page.getValue(), page.getKey(), COLD);
            double[] warm = times(page.getValue(), page.getKey(), WARM);
            String body = page.getValue().get(page.getKey());
            double mean = Arrays.stream(cold).average().orElseThrow();
            System.out.printf(
                    Locale.ROOT,
                    "| `%s` | %.1f ms | %.1f ms | %.1f ms | %.1f | %.1f | %.1f |%n",
                    page.getKey(),
                    mean,
                    at(warm, .5),
                    at(warm, .99),
                    mean / at(warm, .5),
                    body.getBytes(UTF_8).length / 1e3,
                    packed(body) / 1e3);
        }
        System.out.printf("resident %d MB after that, load %s%n", resident(), load());

        var list = List.of("/counter", ticket, "/find?q=van", "/counter");
        var one = open(1, writer, list);
        var many = open(TERMINALS, writer, list);
        System.out.printf(
                Locale.ROOT,
                "1 terminal, a page a second for %d s: p50 %.1f ms, p99 %.1f ms%n",
                SECONDS,
                at(one, .5),
                at(one, .99));
        System.out.printf(
                Locale.ROOT,
                "%d terminals, a page a second each: %d pages, p50 %.1f ms, p99 %.1f ms, p99 ratio %.1f%n",
                TERMINALS,
                many.length,
                at(many, .5),
                at(many, .99),
                at(many, .99) / at(one, .99));
        System.out.printf("resident %d MB after that%n", resident());
    }

    /** The ticket with the most to show. */
    private static String longest(Client writer) {
        String counter = writer.get("/counter");
        Matcher link = Pattern.compile("href=\"(/tickets/\\d+)\"").matcher(counter);
        var seen = new ArrayList<String>();
        while (link.find()) {
            seen.add(link.group(1));
        }
        return seen.stream()
                .distinct()
                .max((a, b) ->
                        Integer.compare(writer.get(a).length(), writer.get(b).length()))
                .orElseThrow();
    }

    private static double[] times(Client client, String page, int count) {
        double[] times = new double[count];
        for (int i = 0; i < count; i++) {
            long start = System.nanoTime();
            client.get(page);
            times[i] = (System.nanoTime() - start) / 1e6;
        }
        return times;
    }

    /** Fixed rate with intended start times: a stalled server is not spared the requests it delayed. */
    private static double[] open(int terminals, Client client, List<String> pages) throws InterruptedException {
        var times = new ConcurrentLinkedQueue<Double>();
        ScheduledExecutorService hands = Executors.newScheduledThreadPool(Math.min(terminals, 60));
        long zero = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(200);
        for (int second = 0; second < SECONDS; second++) {
            for (int terminal = 0; terminal < terminals; terminal++) {
                long at = zero + second * 1_000_000_000L + terminal * 1_000_000_000L / terminals;
                String page = pages.get((second + terminal) % pages.size());
                hands.schedule(
                        () -> {
                            client.get(page);
                            times.add((System.nanoTime() - at) / 1e6);
                        },
                        at - System.nanoTime(),
                        TimeUnit.NANOSECONDS);
            }
        }
        hands.shutdown();
        hands.awaitTermination(5, TimeUnit.MINUTES);
        return times.stream().mapToDouble(Double::doubleValue).toArray();
    }

    private static double at(double[] times, double share) {
        double[] sorted = times.clone();
        Arrays.sort(sorted);
        return sorted[(int) Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)];
    }

    private static int packed(String body) throws IOException {
        var bytes = new java.io.ByteArrayOutputStream();
        try (var zip = new GZIPOutputStream(bytes)) {
            zip.write(body.getBytes(UTF_8));
        }
        return bytes.size();
    }

    /** Leaves the app running after the last of three starts. */
    private void laterStarts(String how, List<String> command) throws Exception {
        double[] starts = new double[3];
        for (int i = 0; i < starts.length; i++) {
            stop();
            starts[i] = start(command);
        }
        Arrays.sort(starts);
        System.out.printf(
                Locale.ROOT,
                "later starts, %s: %.1f, %.1f, %.1f s, resident %d MB%n",
                how,
                starts[0],
                starts[1],
                starts[2],
                resident());
    }

    /** Unpacks the jar and archives its classes; gives the way to start it then. */
    private List<String> quick() throws Exception {
        Path run = home.resolve("run");
        finish(List.of(JAVA, "-Djarmode=tools", "-jar", jar.toString(), "extract", "--destination", run.toString()));
        var archive = new ArrayList<>(List.of(JAVA));
        archive.addAll(flags);
        archive.addAll(List.of(
                "-XX:ArchiveClassesAtExit=" + run.resolve("idlewright.jsa"),
                "-Dspring.context.exit=onRefresh",
                "-jar",
                run.resolve("idlewright.jar").toString(),
                "--idlewright.home=" + home.resolve("once"),
                "--server.port=" + port,
                "--management.server.port=" + freePort()));
        finish(archive);
        return List.of(
                "-XX:SharedArchiveFile=" + run.resolve("idlewright.jsa"),
                "-jar",
                run.resolve("idlewright.jar").toString());
    }

    private void finish(List<String> command) throws Exception {
        Path log = home.resolve("prepare.log");
        int end = new ProcessBuilder(command)
                .redirectErrorStream(true)
                .redirectOutput(log.toFile())
                .start()
                .waitFor();
        if (end != 0) {
            throw new IllegalStateException(Files.readString(log));
        }
    }

    /** Seconds from the command to the first answer of the sign-in page. */
    private double start(List<String> what) throws Exception {
        long start = System.nanoTime();
        var command = new ArrayList<>(List.of(JAVA, "-Xmx512m"));
        command.addAll(flags);
        command.addAll(what);
        command.addAll(List.of(
                "--spring.profiles.active=demo",
                "--idlewright.home=" + home,
                "--server.port=" + port,
                "--management.server.port=" + freePort()));
        app = new ProcessBuilder(command)
                .redirectErrorStream(true)
                .redirectOutput(home.resolve("app.log").toFile())
                .start();
        var client = new Client();
        while (true) {
            try {
                client.get("/sign-in");
                return (System.nanoTime() - start) / 1e9;
            } catch (UncheckedIOException notYet) {
                if (!app.isAlive()) {
                    throw new IllegalStateException(Files.readString(home.resolve("app.log")));
                }
                Thread.sleep(20);
            }
        }
    }

    private void awaitShop() throws Exception {
        while (!Files.readString(home.resolve("app.log")).contains("Demo shop is ready")) {
            Thread.sleep(200);
        }
    }

    private void stop() throws InterruptedException {
        if (app != null && app.isAlive()) {
            app.destroy();
            app.waitFor(20, TimeUnit.SECONDS);
            app.destroyForcibly();
        }
    }

    private long resident() throws IOException {
        try (Stream<String> lines = Files.lines(Path.of("/proc/" + app.pid() + "/status"))) {
            return lines.filter(line -> line.startsWith("VmRSS:"))
                    .mapToLong(line -> Long.parseLong(line.replaceAll("\\D", "")) / 1024)
                    .findFirst()
                    .orElse(-1);
        }
    }

    private static String load() throws IOException {
        return Files.readString(Path.of("/proc/loadavg")).split(" ")[0];
    }

    private static int freePort() {
        try (var socket = new ServerSocket(0)) {
            return socket.getLocalPort();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Somebody with a browser of their own. */
    private final class Client {
        private final HttpClient http = HttpClient.newBuilder()
                .version(HttpClient.Version.HTTP_1_1)
                .cookieHandler(new CookieManager())
                .connectTimeout(Duration.ofSeconds(2))
                .build();

        Client() {}

        Client(String name, String password) {
            Matcher token = TOKEN.matcher(get("/sign-in"));
            if (!token.find()) {
                throw new IllegalStateException("no token");
            }
            String form = Stream.of(
                            Map.entry("name", name),
                            Map.entry("password", password),
                            Map.entry("_csrf", token.group(1)))
                    .map(field -> field.getKey() + "=" + URLEncoder.encode(field.getValue(), UTF_8))
                    .reduce((a, b) -> a + "&" + b)
                    .orElseThrow();
            send(HttpRequest.newBuilder(at("/sign-in"))
                    .header("Content-Type", "application/x-www-form-urlencoded")
                    .POST(HttpRequest.BodyPublishers.ofString(form)));
        }

        private URI at(String path) {
            return URI.create("http://localhost:" + port + path);
        }

        String get(String path) {
            HttpResponse<String> answer = send(HttpRequest.newBuilder(at(path)));
            if (answer.statusCode() != 200) {
                throw new IllegalStateException(path + " answers " + answer.statusCode());
            }
            return answer.body();
        }

        private HttpResponse<String> send(HttpRequest.Builder request) {
            try {
                return http.send(request.timeout(Duration.ofSeconds(30)).build(), HttpResponse.BodyHandlers.ofString());
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            } catch (InterruptedException e) {
                throw new IllegalStateException(e);
            }
        }
    }
}
