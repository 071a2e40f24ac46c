package idlewright.ground;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * A PostgreSQL of the app's own, its data kept in the home folder between runs.
 *
 * <p>It listens on loopback only, wants a password (scram), and syncs every commit to the disk. A server left behind by a
 * killed app is stopped first; a server that dies while the app lives is started again on the same port.
 */
public final class PostgresAtHome implements AutoCloseable {

    /** Owns the database and its tables; migrations run as this role. */
    public static final String OWNER = "idlewright_owner";
    /** What the app itself logs in as; owns nothing. */
    public static final String APP = "idlewright_app";

    private static final String ROOT = "idlewright_root";
    private static final String DATABASE = "idlewright";
    private static final Logger log = LoggerFactory.getLogger(PostgresAtHome.class);
    private static final Pattern PORT = Pattern.compile("127\\.0\\.0\\.1:(\\d+)");
    private static final int REVIVALS_A_MINUTE = 5;

    private final Home home;
    private final Engine engine;
    private final Path data;
    private final String rootPassword;
    private final String ownerPassword;
    private final String appPassword;
    private final Deque<Instant> revivals = new ArrayDeque<>();
    private CompletableFuture<Void> watching = CompletableFuture.completedFuture(null);
    private int port;
    private boolean closing;

    private PostgresAtHome(Home home, Engine engine) {
        this.home = home;
        this.engine = engine;
        this.data = home.at("postgres");
        refuseOtherMajor();
        boolean fresh = !Files.exists(data.resolve("PG_VERSION"));
        if (!fresh && home.read("db.root.password").isEmpty()) {
            throw new CannotStart(
                    "The file db.root.password is missing in " + home.folder() + ", though there are data beside it.",
                    "Put that file back from your backup; without it the database does not let the app in.");
        }
        rootPassword = home.secret("db.root.password");
        ownerPassword = home.secret("db.owner.password");
        appPassword = home.secret("db.password");
        if (fresh) {
            makeCluster();
        }
        stopOrphan(engine, data);
        start(lastPort());
        letIn();
        home.write("db.url", jdbcUrl() + "?user=" + APP);
    }

    /** Starts PostgreSQL in that home folder, making folder and database at the first time. */
    public static PostgresAtHome startIn(Path home) {
        return startIn(home, home.resolve("engine"));
    }

    /** The same with the programs unpacked elsewhere, so that several homes can share them. */
    public static PostgresAtHome startIn(Path folder, Path engine) {
        Instant begun = Instant.now();
        Home home = Home.occupy(folder);
        try {
            PostgresAtHome postgres = new PostgresAtHome(
                    home, Engine.under(engine.toAbsolutePath().normalize()));
            log.info(
                    "PostgreSQL is ready on 127.0.0.1:{}, data in {} (version {}, {} ms)",
                    postgres.port,
                    postgres.data,
                    postgres.engine.version(),
                    Duration.between(begun, Instant.now()).toMillis());
            return postgres;
        } catch (RuntimeException e) {
            home.close();
            throw e;
        }
    }

    private void refuseOtherMajor() {
        Optional<String> kept = home.read("postgres.major");
        if (kept.isPresent() && !kept.get().equals(engine.major())) {
            throw new CannotStart(
                    "The data in " + data + " belong to PostgreSQL " + kept.get() + ", but this Idlewright brings "
                            + engine.version() + ".",
                    "Start the Idlewright that wrote them, export the data there, and import them here; see "
                            + "docs/operations.md.");
        }
    }

    private void makeCluster() {
        Path part = home.at("postgres.part");
        try {
            Engine.deleteAll(part);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        Engine.Outcome made = engine.run(
                "initdb",
                List.of(
                        "--pgdata=" + part,
                        "--username=" + ROOT,
                        "--pwfile=" + home.at("db.root.password"),
                        "--auth=scram-sha-256",
                        "--encoding=UTF8",
                        "--locale-provider=builtin",
                        "--builtin-locale=C.UTF-8",
                        "--locale=C",
                        "--data-checksums"));
        if (!made.good()) {
            throw new CannotStart(
                    "The database could not be made in " + part + ": " + lastLines(made.text()),
                    "See that there are 100 MB free there; then start again.");
        }
        home.write("postgres.major", engine.major());
        try {
            // A folder of that name without PG_VERSION holds nothing; a start cut short here begins anew.
            Engine.deleteAll(data);
            Files.move(part, data, StandardCopyOption.ATOMIC_MOVE);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Stops the server that a killed app left behind in that data folder, if there is one. */
    static void stopOrphan(Engine engine, Path data) {
        Optional<ProcessHandle> left = postmaster(data);
        if (left.isEmpty()) {
            return;
        }
        log.info(
                "A PostgreSQL (process {}) was left behind in {}; stopping it first",
                left.get().pid(),
                data);
        if (!stop(engine, data, "fast", 8)) {
            // Safe: what was acknowledged is in the write-ahead log, the next start replays it.
            stop(engine, data, "immediate", 5);
        }
    }

    private static boolean stop(Engine engine, Path data, String how, int seconds) {
        return engine.run("pg_ctl", List.of("stop", "-D", data.toString(), "-m", how, "-w", "-t", "" + seconds, "-s"))
                .good();
    }

    /** The living server of that data folder; a stale process number is cleared away. */
    private static Optional<ProcessHandle> postmaster(Path data) {
        Path file = data.resolve("postmaster.pid");
        try {
            List<String> lines = Files.exists(file) ? Files.readAllLines(file, UTF_8) : List.of();
            if (lines.isEmpty() || !lines.get(0).strip().matches("\\d+")) {
                return Optional.empty();
            }
            Optional<ProcessHandle> alive =
                    ProcessHandle.of(Long.parseLong(lines.get(0).strip())).filter(ProcessHandle::isAlive);
            if (alive.isPresent() && !Engine.serves(alive.get(), data)) {
                // After a reboot the number may be anyone's, and PostgreSQL would refuse to start because of it.
                Files.deleteIfExists(file);
                return Optional.empty();
            }
            return alive;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private int lastPort() {
        Matcher matcher = PORT.matcher(home.read("db.url").orElse(""));
        return matcher.find() ? Integer.parseInt(matcher.group(1)) : 0;
    }

    private void start(int wantedPort) {
        Path serverLog = home.at("postgres.log");
        Instant giveUp = Instant.now().plusSeconds(60);
        int tried = 0;
        while (true) {
            int candidate = tried == 0 && free(wantedPort) ? wantedPort : anyFree();
            tried++;
            try {
                if (Files.exists(serverLog)) {
                    Files.move(serverLog, home.at("postgres.log.1"), StandardCopyOption.REPLACE_EXISTING);
                }
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
            Engine.Outcome outcome = engine.run(
                    "pg_ctl",
                    List.of(
                            "start",
                            "-D",
                            data.toString(),
                            "-l",
                            serverLog.toString(),
                            "-w",
                            "-t",
                            "60",
                            "-s",
                            "-o",
                            options(candidate)));
            if (outcome.good()) {
                port = candidate;
                watch();
                return;
            }
            String said = tail(serverLog);
            // The port was taken meanwhile, or backends of a killed server are still on their way out.
            boolean passing = said.contains("Address already in use")
                    || said.contains("is still in use")
                    || said.contains("could not create any TCP/IP sockets");
            if (!passing || Instant.now().isAfter(giveUp)) {
                throw new CannotStart(
                        "PostgreSQL did not start on the data in " + data + ". It said: "
                                + lastLines(said.isEmpty() ? outcome.text() : said),
                        "The whole of it is in " + serverLog + ". The data are untouched.");
            }
        }
    }

    private static String options(int port) {
        List<String> settings = List.of(
                "port=" + port,
                "listen_addresses=127.0.0.1",
                "unix_socket_directories=",
                "fsync=on",
                "full_page_writes=on",
                "synchronous_commit=on",
                "password_encryption=scram-sha-256",
                "max_connections=100",
                "timezone=UTC",
                "log_timezone=UTC",
                "log_checkpoints=off");
        List<String> words = new ArrayList<>();
        for (String setting : settings) {
            words.add("-c");
            words.add(setting);
        }
        return String.join(" ", words);
    }

    private static boolean free(int port) {
        if (port == 0) {
            return false;
        }
        try (ServerSocket socket = new ServerSocket(port, 1, InetAddress.getLoopbackAddress())) {
            return socket.isBound();
        } catch (IOException taken) {
            return false;
        }
    }

    private static int anyFree() {
        try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            return socket.getLocalPort();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private void watch() {
        postmaster(data).ifPresent(process -> watching = process.onExit().thenRunAsync(this::revive));
    }

    private synchronized void revive() {
        if (closing) {
            return;
        }
        Instant now = Instant.now();
        revivals.removeIf(earlier -> earlier.isBefore(now.minusSeconds(60)));
        if (revivals.size() >= REVIVALS_A_MINUTE) {
            log.error("PostgreSQL ended {} times within a minute; it is left alone now", revivals.size() + 1);
            return;
        }
        revivals.add(now);
        log.warn("PostgreSQL ended without being asked to; starting it again on port {}", port);
        try {
            int before = port;
            start(port);
            if (port != before) {
                log.error("Port {} was taken meanwhile; PostgreSQL is on {} now. Restart Idlewright.", before, port);
                home.write("db.url", jdbcUrl() + "?user=" + APP);
            }
        } catch (CannotStart e) {
            log.error("{} {}", e.getMessage(), e.remedy());
        }
    }

    /** Sees to it that both roles and the database are there and that the kept passwords open them. */
    private void letIn() {
        if (opens(OWNER, ownerPassword) && opens(APP, appPassword)) {
            return;
        }
        try (Connection root = connect("postgres", ROOT, rootPassword);
                Statement sql = root.createStatement()) {
            for (String role : List.of(OWNER, APP)) {
                if (!any(sql, "select 1 from pg_roles where rolname = '" + role + "'")) {
                    sql.execute("create role " + role + " login");
                }
            }
            sql.execute("alter role " + OWNER + " password '" + ownerPassword + "'");
            sql.execute("alter role " + APP + " password '" + appPassword + "'");
            if (!any(sql, "select 1 from pg_database where datname = '" + DATABASE + "'")) {
                sql.execute("create database " + DATABASE + " owner " + OWNER);
            }
            sql.execute("revoke all on database " + DATABASE + " from public");
            sql.execute("grant connect on database " + DATABASE + " to " + APP);
        } catch (SQLException e) {
            throw new CannotStart(
                    "The database in " + data + " does not let the app in: " + e.getMessage(),
                    "Put the db.*.password files back that belong to these data.",
                    e);
        }
    }

    private static boolean any(Statement sql, String query) throws SQLException {
        try (ResultSet rows = sql.executeQuery(query)) {
            return rows.next();
        }
    }

    private boolean opens(String role, String password) {
        try (Connection connection = connect(DATABASE, role, password)) {
            return connection.isValid(2);
        } catch (SQLException refused) {
            return false;
        }
    }

    private Connection connect(String database, String role, String password) throws SQLException {
        return DriverManager.getConnection("jdbc:postgresql://127.0.0.1:" + port + "/" + database, role, password);
    }

    /** Where the app's database is, without a login. */
    public String jdbcUrl() {
        return "jdbc:postgresql://127.0.0.1:" + port + "/" + DATABASE;
    }

    public String ownerPassword() {
        return ownerPassword;
    }

    public String appPassword() {
        return appPassword;
    }

    /** Full version of the server, such as 18.6. */
    public String version() {
        return engine.version();
    }

    private static String tail(Path file) {
        try {
            return Files.exists(file) ? Files.readString(file, UTF_8) : "";
        } catch (IOException e) {
            return e.toString();
        }
    }

    private static String lastLines(String text) {
        List<String> lines = text.lines().toList();
        return String.join(" / ", lines.subList(Math.max(0, lines.size() - 4), lines.size()));
    }

    /** Stops the server: open connections are cut, everything acknowledged is kept. */
    @Override
    public void close() {
        synchronized (this) {
            if (closing) {
                return;
            }
            closing = true;
            watching.cancel(false);
        }
        if (!stop(engine, data, "fast", 20)) {
            stop(engine, data, "immediate", 10);
        }
        home.close();
        log.info("PostgreSQL is stopped");
    }
}
