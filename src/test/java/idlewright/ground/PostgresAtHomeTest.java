package idlewright.ground;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.postgresql.ds.PGSimpleDataSource;

/** Real servers in homes of their own, killed in the ways a shop's machine would do it. */
class PostgresAtHomeTest {

    private static final Path ENGINE = Path.of("target/postgres-engine");

    @TempDir
    Path tmp;

    private Path home;
    private final List<AutoCloseable> running = new ArrayList<>();

    private PostgresAtHome start() {
        home = tmp.resolve("home");
        PostgresAtHome postgres = PostgresAtHome.startIn(home, ENGINE);
        running.add(postgres);
        return postgres;
    }

    @AfterEach
    void stopAll() throws Exception {
        for (AutoCloseable one : running) {
            one.close();
        }
    }

    @Test
    void keepsItsDataBetweenRuns() throws Exception {
        try (PostgresAtHome first = start()) {
            owner(first, "create table kept(words text)");
            owner(first, "insert into kept values ('idles rough when cold')");
        }
        assertThat(ask(start(), "select words from kept")).isEqualTo("idles rough when cold");
    }

    @Test
    void startsAtOnceAfterTheAppWasKilledTwice() throws Exception {
        for (int round = 1; round <= 2; round++) {
            killAnAppThatInserted("'round " + round + "'");
        }
        assertThat(ask(start(), "select string_agg(words, ', ' order by words) from kept"))
                .isEqualTo("'round 1', 'round 2'");
    }

    /** Starts this very class in a JVM of its own and kills that as soon as its row is acknowledged. */
    private void killAnAppThatInserted(String words) throws IOException {
        home = tmp.resolve("home");
        Process app = new ProcessBuilder(
                        Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                        "-cp",
                        System.getProperty("java.class.path"),
                        PostgresAtHomeTest.class.getName(),
                        home.toString(),
                        words)
                .redirectErrorStream(true)
                .start();
        List<String> said = new ArrayList<>();
        try (BufferedReader out = new BufferedReader(new InputStreamReader(app.getInputStream(), UTF_8))) {
            for (String line = out.readLine(); line != null && !line.equals("acknowledged"); line = out.readLine()) {
                said.add(line);
            }
            assertThat(app.isAlive())
                    .as("the app that is to be killed; it said %s", said)
                    .isTrue();
            app.destroyForcibly().onExit().join();
        }
    }

    /** The app that gets killed. */
    public static void main(String[] homeAndWords) throws Exception {
        PostgresAtHome postgres = PostgresAtHome.startIn(Path.of(homeAndWords[0]), ENGINE);
        owner(postgres, "create table if not exists kept(words text)");
        owner(postgres, "insert into kept values ($words$" + homeAndWords[1] + "$words$)");
        System.out.println("acknowledged");
        Thread.currentThread().join();
    }

    @Test
    void servesAgainOnTheSamePortAfterTheServerWasKilled() throws Exception {
        PostgresAtHome postgres = start();
        owner(postgres, "create table kept(words text)");
        owner(postgres, "insert into kept values ('acknowledged')");
        String before = postgres.jdbcUrl();

        ProcessHandle postmaster = ProcessHandle.of(
                        Long.parseLong(Files.readAllLines(home.resolve("postgres/postmaster.pid"))
                                .get(0)
                                .strip()))
                .orElseThrow();
        Stream.concat(postmaster.descendants(), Stream.of(postmaster)).toList().forEach(ProcessHandle::destroyForcibly);
        postmaster.onExit().join();

        await().atMost(Duration.ofSeconds(20))
                .ignoreExceptions()
                .untilAsserted(() ->
                        assertThat(ask(postgres, "select words from kept")).isEqualTo("acknowledged"));
        assertThat(postgres.jdbcUrl()).isEqualTo(before);
    }

    @Test
    void startsThoughTheOldProcessNumberIsSomeoneElsesNow() throws Exception {
        start().close();
        Files.writeString(
                home.resolve("postgres/postmaster.pid"),
                ProcessHandle.current().pid() + "\n" + home.resolve("postgres") + "\n1\n5432\n\n127.0.0.1\n");
        assertThat(ask(start(), "select 1")).isEqualTo("1");
    }

    @Test
    void refusesASecondAppOnTheSameHome() {
        start();
        assertThatThrownBy(this::start)
                .isInstanceOf(CannotStart.class)
                .hasMessageContaining(
                        "Another Idlewright (process " + ProcessHandle.current().pid() + ") is already using " + home);
    }

    @Test
    void refusesDataOfAnotherMajorVersion() throws Exception {
        start().close();
        Files.writeString(home.resolve("postgres.major"), "17\n");
        assertThatThrownBy(this::start).isInstanceOf(CannotStart.class).hasMessageContaining("belong to PostgreSQL 17");
        Files.writeString(home.resolve("postgres.major"), "18\n");
        assertThat(ask(start(), "select 1")).isEqualTo("1");
    }

    @Test
    void wantsThePasswordAndListensOnThisMachineOnly() throws Exception {
        PostgresAtHome postgres = start();
        assertThatThrownBy(() -> DriverManager.getConnection(postgres.jdbcUrl(), PostgresAtHome.APP, "guessed"))
                .isInstanceOf(SQLException.class)
                .hasMessageContaining("password authentication failed");
        assertThat(ask(postgres, "show listen_addresses")).isEqualTo("127.0.0.1");
        assertThat(ask(postgres, "show data_checksums")).isEqualTo("on");
    }

    @Test
    void makesNewPasswordsWorkWhenTheirFilesAreGone() throws Exception {
        start().close();
        Files.delete(home.resolve("db.password"));
        Files.delete(home.resolve("db.owner.password"));
        assertThat(ask(start(), "select current_user")).isEqualTo("idlewright_app");
    }

    @Test
    void closesTheHomeToOthers() throws Exception {
        start();
        assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(home)))
                .isEqualTo("rwx------");
        for (String secret : List.of("db.url", "db.password", "db.owner.password", "db.root.password")) {
            assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(home.resolve(secret))))
                    .as(secret)
                    .isEqualTo("rw-------");
        }
    }

    @Test
    void doesNotServeFromAServerThatMayForget() throws Exception {
        PostgresAtHome postgres = start();
        PGSimpleDataSource app = new PGSimpleDataSource();
        app.setUrl(postgres.jdbcUrl());
        app.setUser(PostgresAtHome.APP);
        app.setPassword(postgres.appPassword());
        DurabilityCheck.check(app);
        try (Connection own = app.getConnection();
                Statement sql = own.createStatement()) {
            sql.execute("alter role idlewright_app set synchronous_commit = off");
        }
        assertThatThrownBy(() -> DurabilityCheck.check(app))
                .isInstanceOf(CannotStart.class)
                .hasMessageContaining("synchronous_commit = off: a power cut could lose");
    }

    private static void owner(PostgresAtHome postgres, String statement) throws SQLException {
        try (Connection connection = DriverManager.getConnection(
                        postgres.jdbcUrl(), PostgresAtHome.OWNER, postgres.ownerPassword());
                Statement sql = connection.createStatement()) {
            sql.execute(statement);
            sql.execute("grant usage on schema public to " + PostgresAtHome.APP);
            sql.execute("grant select on all tables in schema public to " + PostgresAtHome.APP);
        }
    }

    private static String ask(PostgresAtHome postgres, String query) throws SQLException {
        try (Connection connection =
                        DriverManager.getConnection(postgres.jdbcUrl(), PostgresAtHome.APP, postgres.appPassword());
                Statement sql = connection.createStatement();
                ResultSet row = sql.executeQuery(query)) {
            row.next();
            return row.getString(1);
        }
    }
}
