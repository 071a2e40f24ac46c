package idlewright.ground;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import javax.sql.DataSource;
import org.springframework.beans.factory.SmartInitializingSingleton;
import org.springframework.boot.autoconfigure.AutoConfiguration;
import org.springframework.boot.autoconfigure.condition.ConditionalOnSingleCandidate;
import org.springframework.boot.jdbc.autoconfigure.DataSourceAutoConfiguration;
import org.springframework.context.annotation.Bean;

/** Before the first page is served: would this PostgreSQL keep what it acknowledges through a power cut? */
@AutoConfiguration(after = DataSourceAutoConfiguration.class)
@ConditionalOnSingleCandidate(DataSource.class)
public class DurabilityCheck {

    @Bean
    SmartInitializingSingleton refusesAForgetfulServer(DataSource dataSource) {
        return () -> check(dataSource);
    }

    static void check(DataSource dataSource) {
        try (Connection connection = dataSource.getConnection();
                Statement sql = connection.createStatement()) {
            for (String setting : List.of("fsync", "full_page_writes", "synchronous_commit")) {
                try (ResultSet row = sql.executeQuery("show " + setting)) {
                    row.next();
                    if (row.getString(1).equals("off")) {
                        throw new CannotStart(
                                "The database runs with " + setting + " = off: a power cut could lose readings and "
                                        + "payments that were already acknowledged. Idlewright does not serve from it.",
                                "Set " + setting + " = on in PostgreSQL (for the server and for the app's role), then "
                                        + "start again.");
                    }
                }
            }
        } catch (SQLException e) {
            throw new CannotStart(
                    "The database does not answer: " + e.getMessage(),
                    "See that PostgreSQL is running and that spring.datasource.* name it.",
                    e);
        }
    }
}
