package idlewright.ground;

import java.nio.file.Path;
import org.springframework.boot.autoconfigure.AutoConfiguration;
import org.springframework.boot.autoconfigure.condition.ConditionMessage;
import org.springframework.boot.autoconfigure.condition.ConditionOutcome;
import org.springframework.boot.autoconfigure.condition.ConditionalOnMissingBean;
import org.springframework.boot.autoconfigure.condition.SpringBootCondition;
import org.springframework.boot.flyway.autoconfigure.FlywayAutoConfiguration;
import org.springframework.boot.flyway.autoconfigure.FlywayConnectionDetails;
import org.springframework.boot.jdbc.autoconfigure.DataSourceAutoConfiguration;
import org.springframework.boot.jdbc.autoconfigure.JdbcConnectionDetails;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.ConditionContext;
import org.springframework.context.annotation.Conditional;
import org.springframework.core.env.Environment;
import org.springframework.core.type.AnnotatedTypeMetadata;
import org.springframework.util.StringUtils;

/** Without {@code spring.datasource.url} the app brings its own PostgreSQL. */
@AutoConfiguration(before = {DataSourceAutoConfiguration.class, FlywayAutoConfiguration.class})
@Conditional(GroundConfiguration.NoDatabaseNamed.class)
@ConditionalOnMissingBean(JdbcConnectionDetails.class)
public class GroundConfiguration {

    @Bean(destroyMethod = "close")
    PostgresAtHome postgresAtHome(Environment environment) {
        return PostgresAtHome.startIn(Path.of(environment.getProperty("idlewright.home", "./data")));
    }

    @Bean
    JdbcConnectionDetails appLogin(PostgresAtHome postgres) {
        return new Login(postgres.jdbcUrl(), PostgresAtHome.APP, postgres.appPassword()).forTheApp();
    }

    @Bean
    FlywayConnectionDetails ownerLogin(PostgresAtHome postgres) {
        return new Login(postgres.jdbcUrl(), PostgresAtHome.OWNER, postgres.ownerPassword()).forMigrations();
    }

    /** A way into a database; Spring asks for the app's and for the migrations' by two different types. */
    public record Login(String url, String role, String password) {

        public JdbcConnectionDetails forTheApp() {
            return new JdbcConnectionDetails() {
                @Override
                public String getJdbcUrl() {
                    return url;
                }

                @Override
                public String getUsername() {
                    return role;
                }

                @Override
                public String getPassword() {
                    return password;
                }
            };
        }

        public FlywayConnectionDetails forMigrations() {
            return new FlywayConnectionDetails() {
                @Override
                public String getJdbcUrl() {
                    return url;
                }

                @Override
                public String getUsername() {
                    return role;
                }

                @Override
                public String getPassword() {
                    return password;
                }
            };
        }

        @Override
        public String toString() {
            return role + " at " + url;
        }
    }

    static final class NoDatabaseNamed extends SpringBootCondition {
        @Override
        public ConditionOutcome getMatchOutcome(ConditionContext context, AnnotatedTypeMetadata metadata) {
            // An empty value is what compose files hand over for a variable that is not set.
            boolean named = StringUtils.hasText(context.getEnvironment().getProperty("spring.datasource.url"));
            return new ConditionOutcome(!named, ConditionMessage.of(named ? "a database is named" : "none is named"));
        }
    }
}
