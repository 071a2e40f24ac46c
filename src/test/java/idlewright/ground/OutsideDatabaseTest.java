package idlewright.ground;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.context.ApplicationContext;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.context.DynamicPropertyRegistry;
import org.springframework.test.context.DynamicPropertySource;

/** The shop has a PostgreSQL of its own, with one login for everything. */
@SpringBootTest
@Tag("database")
class OutsideDatabaseTest {

    private static final TestDatabase.Both OUTSIDE = TestDatabase.fresh();

    @DynamicPropertySource
    static void nameIt(DynamicPropertyRegistry properties) {
        properties.add("spring.datasource.url", () -> OUTSIDE.owner().url());
        properties.add("spring.datasource.username", () -> OUTSIDE.owner().role());
        properties.add("spring.datasource.password", () -> OUTSIDE.owner().password());
    }

    @Autowired
    ApplicationContext context;

    @Autowired
    JdbcClient sql;

    @Test
    void theEmbeddedOneKeepsOutOfTheWay() {
        assertThat(context.getBeansOfType(PostgresAtHome.class)).isEmpty();
        assertThat(Path.of(System.getProperty("idlewright.home", "target/test-home"), "postgres"))
                .doesNotExist();
    }

    @Test
    void migrationsAndAppShareTheLogin() {
        assertThat(sql.sql("select current_user").query(String.class).single()).isEqualTo(PostgresAtHome.OWNER);
        assertThat(sql.sql("select count(*) from flyway_schema_history")
                        .query(Long.class)
                        .single())
                .isNotNegative();
    }
}
