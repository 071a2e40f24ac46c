package idlewright.ground;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import javax.sql.DataSource;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.jdbc.core.simple.JdbcClient;

@SpringBootTest
@WithDatabase
class GroundTest {

    @Autowired
    JdbcClient sql;

    @Autowired
    DataSource dataSource;

    @Test
    void theAppLogsInAsARoleThatOwnsNothing() {
        assertThat(sql.sql("select current_user").query(String.class).single()).isEqualTo("idlewright_app");
        assertThat(sql.sql("select count(*) from pg_class where pg_get_userbyid(relowner) = current_user")
                        .query(Long.class)
                        .single())
                .isZero();
        assertThatThrownBy(() -> sql.sql("create table sneaked_in(id int)").update())
                .rootCause()
                .hasMessageContaining("permission denied");
    }

    @Test
    void theServerKeepsWhatItAcknowledges() {
        for (String setting : new String[] {"fsync", "full_page_writes", "synchronous_commit"}) {
            assertThat(sql.sql("show " + setting).query(String.class).single())
                    .as(setting)
                    .isEqualTo("on");
        }
    }
}
