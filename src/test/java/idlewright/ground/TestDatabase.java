package idlewright.ground;

import static java.nio.charset.StandardCharsets.UTF_8;

import idlewright.ground.GroundConfiguration.Login;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.atomic.AtomicInteger;
import org.springframework.boot.flyway.autoconfigure.FlywayConnectionDetails;
import org.springframework.boot.jdbc.autoconfigure.JdbcConnectionDetails;
import org.springframework.boot.test.context.TestConfiguration;
import org.springframework.context.annotation.Bean;
import org.testcontainers.DockerClientFactory;
import org.testcontainers.postgresql.PostgreSQLContainer;
import org.testcontainers.utility.DockerImageName;

/**
 * The PostgreSQL the tests run on: one server for the whole test JVM, started when first asked for.
 *
 * <p>{@code -Dtest.database=embedded|container|auto} chooses; auto takes a container where a Docker engine answers and has
 * the image ({@code TESTCONTAINERS_POSTGRES_IMAGE}), else the embedded one in {@code target/test-home-*}.
 */
@TestConfiguration(proxyBeanMethods = false)
public class TestDatabase {

    private static final String SECRET = "for-tests-only";
    private static final AtomicInteger DATABASES = new AtomicInteger();

    @Bean
    JdbcConnectionDetails testAppLogin() {
        return app().forTheApp();
    }

    @Bean
    FlywayConnectionDetails testOwnerLogin() {
        return owner().forMigrations();
    }

    /** The app's login into the database that all tests share. */
    public static Login app() {
        return Server.IT.app();
    }

    /** The owner's login into the database that all tests share. */
    public static Login owner() {
        return Server.IT.owner();
    }

    /** A new empty database on the same server, for a test that must be alone; both roles may enter. */
    public static Both fresh() {
        String name = "alone_" + DATABASES.incrementAndGet() + "_"
                + ProcessHandle.current().pid();
        Login root = Server.IT.root();
        run(
                root,
                "create database " + name + " owner " + PostgresAtHome.OWNER,
                "grant connect on database " + name + " to " + PostgresAtHome.APP);
        return new Both(into(name, owner()), into(name, app()));
    }

    /** The two logins into one database. */
    public record Both(Login owner, Login app) {}

    private static Login into(String database, Login login) {
        return new Login(login.url().replaceFirst("/[^/?]+(\\?.*)?$", "/" + database), login.role(), login.password());
    }

    private static void run(Login login, String... statements) {
        try (Connection connection = DriverManager.getConnection(login.url(), login.role(), login.password());
                Statement sql = connection.createStatement()) {
            for (String statement : statements) {
                sql.execute(statement);
            }
        } catch (SQLException e) {
            throw new IllegalStateException(e);
        }
    }

    private record Server(Login owner, Login app, Login root) {

        static final Server IT = start();

        private static Server start() {
            String wanted = System.getProperty("test.database", "auto");
            return switch (wanted) {
                case "embedded" -> embedded("as asked");
                case "container" -> container();
                case "auto" -> automatic();
                default ->
                    throw new IllegalArgumentException(
                            "-Dtest.database is " + wanted + "; it may be embedded, container or auto");
            };
        }

        private static Server automatic() {
            // Asking Testcontainers where no engine can be takes seconds and prints pages.
            boolean socket = System.getenv("DOCKER_HOST") != null || Files.exists(Path.of("/var/run/docker.sock"));
            if (!socket || !DockerClientFactory.instance().isDockerAvailable()) {
                return embedded("no Docker engine answers");
            }
            try {
                return container();
            } catch (RuntimeException e) {
                return embedded("the Docker engine has no use of the image: " + e.getMessage());
            }
        }

        private static Server container() {
            String image =
                    Objects.requireNonNullElse(System.getenv("TESTCONTAINERS_POSTGRES_IMAGE"), "postgres:15-alpine");
            PostgreSQLContainer container = new PostgreSQLContainer(
                            DockerImageName.parse(image).asCompatibleSubstituteFor("postgres"))
                    .withDatabaseName("idlewright")
                    .withUsername("idlewright_root")
                    .withPassword(SECRET)
                    // Testcontainers would switch fsync off, and the app refuses to serve from such a server.
                    .withCommand("postgres");
            container.start();
            Runtime.getRuntime().addShutdownHook(new Thread(container::stop));
            Login root = new Login(container.getJdbcUrl(), container.getUsername(), container.getPassword());
            run(
                    root,
                    "create role " + PostgresAtHome.OWNER + " login password '" + SECRET + "'",
                    "create role " + PostgresAtHome.APP + " login password '" + SECRET + "'",
                    "alter database idlewright owner to " + PostgresAtHome.OWNER);
            say("container of " + image);
            return new Server(
                    new Login(root.url(), PostgresAtHome.OWNER, SECRET),
                    new Login(root.url(), PostgresAtHome.APP, SECRET),
                    root);
        }

        private static Server embedded(String why) {
            Path target = Path.of("target").toAbsolutePath();
            Path engine = target.resolve("postgres-engine");
            sweep(target, engine);
            Path home = target.resolve("test-home-" + ProcessHandle.current().pid());
            PostgresAtHome postgres = PostgresAtHome.startIn(home, engine);
            Runtime.getRuntime().addShutdownHook(new Thread(() -> {
                postgres.close();
                delete(home);
            }));
            say("embedded PostgreSQL " + postgres.version() + " (" + why + ")");
            return new Server(
                    new Login(postgres.jdbcUrl(), PostgresAtHome.OWNER, postgres.ownerPassword()),
                    new Login(postgres.jdbcUrl(), PostgresAtHome.APP, postgres.appPassword()),
                    new Login(postgres.jdbcUrl(), "idlewright_root", read(home.resolve("db.root.password"))));
        }

        /** Stops and clears away what killed test runs left behind. */
        private static void sweep(Path target, Path engine) {
            for (Path left : homesIn(target)) {
                try (Home free = Home.occupy(left)) {
                    PostgresAtHome.stopOrphan(Engine.under(engine), free.at("postgres"));
                } catch (CannotStart stillRunning) {
                    continue;
                }
                delete(left);
            }
        }

        private static List<Path> homesIn(Path target) {
            try (var all = Files.list(target)) {
                return all.filter(path -> path.getFileName().toString().matches("test-home-\\d+"))
                        .toList();
            } catch (IOException e) {
                return List.of();
            }
        }

        private static void delete(Path folder) {
            try {
                Engine.deleteAll(folder);
            } catch (IOException e) {
                System.err.println("Left over: " + folder + " (" + e + ")");
            }
        }

        private static String read(Path file) {
            try {
                return Files.readString(file, UTF_8).strip();
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }

        private static void say(String what) {
            System.out.println("Tests run on: " + what);
        }
    }
}
