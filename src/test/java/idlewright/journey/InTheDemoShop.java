package idlewright.journey;

import idlewright.ground.TestDatabase;
import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;
import org.junit.jupiter.api.Tag;
import org.springframework.boot.flyway.autoconfigure.FlywayConnectionDetails;
import org.springframework.boot.jdbc.autoconfigure.JdbcConnectionDetails;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.test.context.TestConfiguration;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Import;
import org.springframework.test.context.ActiveProfiles;

/** The house with the demo shop in it, made once in a database of its own and served on a free port. */
@Target(ElementType.TYPE)
@Retention(RetentionPolicy.RUNTIME)
@Tag("database")
@SpringBootTest(webEnvironment = SpringBootTest.WebEnvironment.RANDOM_PORT)
@ActiveProfiles("demo")
@Import(InTheDemoShop.Alone.class)
@interface InTheDemoShop {

    /** Where nobody worked before. */
    @TestConfiguration(proxyBeanMethods = false)
    class Alone {

        private static final TestDatabase.Both EMPTY = TestDatabase.fresh();

        @Bean
        JdbcConnectionDetails appLogin() {
            return EMPTY.app().forTheApp();
        }

        @Bean
        FlywayConnectionDetails ownerLogin() {
            return EMPTY.owner().forMigrations();
        }
    }
}
