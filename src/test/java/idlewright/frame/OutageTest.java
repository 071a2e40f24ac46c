package idlewright.frame;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.ConnectException;
import java.sql.SQLException;
import java.sql.SQLTransientConnectionException;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.orm.jpa.JpaSystemException;
import org.springframework.transaction.CannotCreateTransactionException;
import org.springframework.transaction.TransactionSystemException;

@DisplayName("When the database cannot serve")
class OutageTest {

    @ParameterizedTest(name = "{0} is told as {1}")
    @CsvSource({"53100,FULL", "53300,AWAY", "08006,AWAY", "08001,AWAY", "57P01,AWAY", "57P03,AWAY"})
    @DisplayName("its own code says why (PostgreSQL's manual, appendix A)")
    void itsOwnCodeSaysWhy(String state, Outage outage) {
        var e = new JpaSystemException(new RuntimeException("could not execute", new SQLException("no", state)));
        assertThat(Outage.of(e)).contains(outage);
    }

    @Test
    void aPoolWithoutAConnectionIsAway() {
        assertThat(Outage.of(
                        new TransactionSystemException("commit", new SQLTransientConnectionException("timed out"))))
                .contains(Outage.AWAY);
        assertThat(Outage.of(new JpaSystemException(
                        new RuntimeException("Unable to rollback", new SQLException("Connection is closed")))))
                .contains(Outage.AWAY);
        assertThat(Outage.of(new CannotCreateTransactionException("begin", new ConnectException("refused"))))
                .contains(Outage.AWAY);
    }

    @ParameterizedTest(name = "{0} is an answer")
    @CsvSource({"23505", "42501", "22001", "40P01"})
    void whatTheDatabaseRefusesIsNoOutage(String state) {
        assertThat(Outage.of(new JpaSystemException(new RuntimeException(new SQLException("no", state)))))
                .isEmpty();
    }
}
