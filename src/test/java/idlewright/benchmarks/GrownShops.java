package idlewright.benchmarks;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;
import static org.springframework.security.test.web.servlet.setup.SecurityMockMvcConfigurers.springSecurity;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;

import idlewright.Idlewright;
import idlewright.ground.PostgresAtHome;
import idlewright.journal.Journal;
import idlewright.people.ApiKeys;
import idlewright.people.Badge;
import idlewright.people.People;
import idlewright.people.Person;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Proxy;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.function.BiFunction;
import javax.sql.DataSource;
import org.aopalliance.intercept.MethodInterceptor;
import org.flywaydb.core.Flyway;
import org.springframework.aop.Advisor;
import org.springframework.aop.support.DefaultPointcutAdvisor;
import org.springframework.aop.support.NameMatchMethodPointcut;
import org.springframework.beans.factory.config.BeanDefinition;
import org.springframework.beans.factory.config.BeanPostProcessor;
import org.springframework.boot.SpringApplication;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Role;
import org.springframework.jdbc.datasource.lookup.AbstractRoutingDataSource;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.security.core.Authentication;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.setup.MockMvcBuilders;
import org.springframework.web.context.WebApplicationContext;

/**
 * Invented shops of several sizes in one PostgreSQL, and one app that looks at whichever is asked for: so the same warm code
 * meets them in turn. The folder keeps them, and the next run only brings them up to the newest migration.
 */
final class GrownShops implements AutoCloseable {

    private static final Set<idlewright.people.Role> ROLES =
            Set.of(idlewright.people.Role.OWNER, idlewright.people.Role.WRITER, idlewright.people.Role.TECHNICIAN);

    private static final String KEY = "iw_the-key-of-the-benchmarks";

    private final PostgresAtHome postgres;
    private final Path home;
    private final Map<Integer, DataSource> byTickets = new LinkedHashMap<>();
    private ConfigurableApplicationContext app;
    private MockMvc browser;
    private Authentication badge;

    GrownShops(Path folder, int... sizes) throws Exception {
        home = Files.createDirectories(folder.resolve("database")).toAbsolutePath();
        postgres = PostgresAtHome.startIn(home);
        try {
            migrate("idlewright");
            for (int tickets : sizes) {
                fill(tickets);
                migrate(name(tickets));
            }
            start(folder, sizes);
        } catch (Exception e) {
            postgres.close();
            throw e;
        }
    }

    private void start(Path folder, int[] sizes) throws SQLException {
        Shown.shops = this;
        app = SpringApplication.run(new Class<?>[] {Idlewright.class, Shown.class}, new String[] {
            "--spring.datasource.url=" + url(name(sizes[0])),
            "--spring.datasource.username=" + PostgresAtHome.APP,
            "--spring.datasource.password=" + postgres.appPassword(),
            "--spring.flyway.enabled=false",
            "--idlewright.home=" + folder.resolve("app").toAbsolutePath(),
            "--server.port=0",
            "--management.server.port=0"
        });
        for (int tickets : sizes) {
            byTickets.put(tickets, pool(tickets));
        }
        Shown.routes.setTargetDataSources(new LinkedHashMap<>(byTickets));
        Shown.routes.initialize();
        browser = MockMvcBuilders.webAppContextSetup((WebApplicationContext) app)
                .apply(springSecurity())
                .build();
        badge = new Badge(new Person(2, "Tamsin Vale", ROLES), 0, Instant.now(), null).authentication();
        for (int tickets : sizes) {
            admit(tickets);
        }
    }

    /** The program that asks over the API, in a shop that does not know it yet. */
    private void admit(int tickets) throws SQLException {
        visit(tickets);
        if (ask(tickets, "select 1 from api_key").isEmpty()) {
            bean(People.class)
                    .as(
                            ((Badge) badge.getPrincipal()).person(),
                            () -> bean(ApiKeys.class).keep("benchmark", KEY));
        }
    }

    private DataSource pool(int tickets) {
        var pool = new com.zaxxer.hikari.HikariDataSource();
        pool.setJdbcUrl(url(name(tickets)));
        pool.setUsername(PostgresAtHome.APP);
        pool.setPassword(postgres.appPassword());
        pool.setMaximumPoolSize(4);
        pool.addDataSourceProperty("reWriteBatchedInserts", "true");
        return pool;
    }

    /** All that the app asks the database from now on is asked of the shop with so many tickets. */
    void visit(int tickets) {
        Shown.routes.now = tickets;
    }

    <T> T bean(Class<T> type) {
        return app.getBean(type);
    }

    MockMvc browser() {
        return browser;
    }

    Authentication badge() {
        return badge;
    }

    <T> T bean(String name, Class<T> type) {
        return app.getBean(name, type);
    }

    /** From now on the journal notes nothing, to see what it costs. */
    void keepNoJournal(boolean none) {
        Shown.noJournal = none;
    }

    /** A statement with how its parameters were set. */
    record Sent(String sql, List<Object[]> parameters) {

        void fill(PreparedStatement statement) throws ReflectiveOperationException {
            for (Object[] set : parameters) {
                ((java.lang.reflect.Method) set[0]).invoke(statement, (Object[]) set[1]);
            }
        }
    }

    interface Work {
        void run() throws Exception;
    }

    /** The statements that the work sends, done three times first: badge and shop's card are then known. */
    List<Sent> sent(Work work) throws Exception {
        for (int i = 0; i < 3; i++) {
            work.run();
        }
        var sent = new ArrayList<Sent>();
        Shown.routes.sent = sent;
        try {
            work.run();
        } finally {
            Shown.routes.sent = null;
        }
        return sent;
    }

    DataSource database(int tickets) {
        return byTickets.get(tickets);
    }

    int port() {
        return Integer.parseInt(app.getEnvironment().getProperty("local.server.port", "0"));
    }

    MockHttpServletResponse page(String url) throws Exception {
        var request = get(java.net.URI.create(url));
        MockHttpServletResponse answer = browser.perform(
                        url.startsWith("/api/")
                                ? request.header("Authorization", "Bearer " + KEY)
                                : request.with(authentication(badge)))
                .andReturn()
                .getResponse();
        if (answer.getStatus() != 200 && answer.getStatus() != 302) {
            throw new IllegalStateException(url + " answers " + answer.getStatus());
        }
        return answer;
    }

    /** One column of what a query gives, as text. */
    List<String> ask(int tickets, String sql) throws SQLException {
        try (Connection connection = byTickets.get(tickets).getConnection();
                Statement statement = connection.createStatement();
                ResultSet rows = statement.executeQuery(sql)) {
            var all = new ArrayList<String>();
            while (rows.next()) {
                all.add(rows.getString(1));
            }
            return all;
        }
    }

    private void fill(int tickets) throws SQLException, IOException {
        String name = name(tickets);
        try (Connection root =
                        DriverManager.getConnection(url("postgres"), "idlewright_root", read("db.root.password"));
                Statement sql = root.createStatement()) {
            try (ResultSet there = sql.executeQuery("select 1 from pg_database where datname = '" + name + "'")) {
                if (there.next()) {
                    return;
                }
            }
            sql.execute("drop database if exists half_done");
            sql.execute("create database half_done template idlewright owner " + PostgresAtHome.OWNER);
            long start = System.nanoTime();
            try (Connection owner = DriverManager.getConnection(
                            url("half_done"), PostgresAtHome.OWNER, postgres.ownerPassword());
                    Statement fill = owner.createStatement()) {
                fill.execute(story().replace("${tickets}", String.valueOf(tickets)));
                fill.execute("vacuum analyze");
            }
            sql.execute("alter database half_done rename to " + name);
            System.out.printf(
                    Locale.ROOT, "%,d tickets written in %.0f s%n", tickets, (System.nanoTime() - start) / 1e9);
        }
    }

    private static String story() throws IOException {
        try (var in = GrownShops.class.getResourceAsStream("/benchmarks/ten-years.sql")) {
            return new String(in.readAllBytes(), UTF_8);
        }
    }

    private void migrate(String database) {
        Flyway.configure()
                .dataSource(url(database), PostgresAtHome.OWNER, postgres.ownerPassword())
                .placeholders(Map.of("appRole", PostgresAtHome.APP))
                .load()
                .migrate();
    }

    private static String name(int tickets) {
        return "shop_" + tickets;
    }

    private String url(String database) {
        return postgres.jdbcUrl().replaceFirst("/[^/?]+(\\?.*)?$", "/" + database);
    }

    private String read(String file) {
        try {
            return Files.readString(home.resolve(file), UTF_8).strip();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Override
    public void close() {
        app.close();
        postgres.close();
    }

    /** Puts the chooser of shops in front of the app's own connections. Not annotated: tests scan this package. */
    static class Shown {

        private static GrownShops shops;
        private static Routes routes;
        private static volatile boolean noJournal;

        @Bean
        @Role(BeanDefinition.ROLE_INFRASTRUCTURE)
        static Advisor journalOrNot() {
            var notes = new NameMatchMethodPointcut();
            notes.setMappedName("note");
            notes.setClassFilter(type -> Journal.class.isAssignableFrom(type));
            return new DefaultPointcutAdvisor(notes, (MethodInterceptor) call -> noJournal ? null : call.proceed());
        }

        @Bean
        static BeanPostProcessor shopsInTurn() {
            return new BeanPostProcessor() {
                @Override
                public Object postProcessAfterInitialization(Object bean, String name) {
                    if (!(bean instanceof DataSource source) || shops == null) {
                        return bean;
                    }
                    routes = new Routes();
                    routes.setDefaultTargetDataSource(source);
                    routes.setTargetDataSources(Map.of());
                    routes.afterPropertiesSet();
                    return routes;
                }
            };
        }
    }

    private static final class Routes extends AbstractRoutingDataSource {

        private volatile Integer now;
        private volatile List<Sent> sent;

        @Override
        public Connection getConnection() throws SQLException {
            Connection connection = super.getConnection();
            return sent == null ? connection : watched(connection, sent);
        }

        private static Connection watched(Connection connection, List<Sent> sent) {
            return (Connection) watch(Connection.class, connection, (made, given) -> {
                if (!(made instanceof PreparedStatement statement)) {
                    return made;
                }
                var one = new Sent(String.valueOf(given[0]), new ArrayList<>());
                sent.add(one);
                return Proxy.newProxyInstance(
                        GrownShops.class.getClassLoader(),
                        new Class<?>[] {PreparedStatement.class},
                        (p, method, set) -> {
                            if (method.getName().startsWith("set") && set != null && set.length >= 2) {
                                one.parameters().add(new Object[] {method, set});
                            }
                            return invoke(method, statement, set);
                        });
            });
        }

        private static Object watch(Class<?> type, Object whom, BiFunction<Object, Object[], Object> seen) {
            return Proxy.newProxyInstance(
                    GrownShops.class.getClassLoader(), new Class<?>[] {type}, (p, method, given) -> {
                        Object made = invoke(method, whom, given);
                        return method.getName().equals("prepareStatement") ? seen.apply(made, given) : made;
                    });
        }

        private static Object invoke(java.lang.reflect.Method method, Object whom, Object[] given) throws Throwable {
            try {
                return method.invoke(whom, given);
            } catch (InvocationTargetException e) {
                throw e.getCause();
            }
        }

        @Override
        protected Object determineCurrentLookupKey() {
            return now;
        }
    }
}
