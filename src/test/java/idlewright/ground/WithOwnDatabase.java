package idlewright.ground;

import java.lang.annotation.ElementType;
import java.lang.annotation.Inherited;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;
import org.junit.jupiter.api.Tag;
import org.springframework.boot.flyway.autoconfigure.FlywayConnectionDetails;
import org.springframework.boot.jdbc.autoconfigure.JdbcConnectionDetails;
import org.springframework.boot.test.context.TestConfiguration;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Import;

/** Beside {@code @SpringBootTest}: the context has an empty database of its own, for what needs one or would fill the common one. */
@Target(ElementType.TYPE)
@Retention(RetentionPolicy.RUNTIME)
@Inherited
@Tag("database")
@Import(WithOwnDatabase.Alone.class)
public @interface WithOwnDatabase {

    /** The two logins into it; made once for each context. */
    @TestConfiguration(proxyBeanMethods = false)
    class Alone {

        private final TestDatabase.Both empty = TestDatabase.fresh();

        @Bean
        JdbcConnectionDetails appLogin() {
            return empty.app().forTheApp();
        }

        @Bean
        FlywayConnectionDetails ownerLogin() {
            return empty.owner().forMigrations();
        }
    }
}
