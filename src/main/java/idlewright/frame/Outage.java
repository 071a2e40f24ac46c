package idlewright.frame;

import java.sql.SQLException;
import java.util.Optional;
import org.springframework.core.NestedExceptionUtils;
import org.springframework.dao.DataAccessResourceFailureException;
import org.springframework.http.HttpStatus;
import org.springframework.transaction.CannotCreateTransactionException;

/** Why the database could not serve, though nobody did anything wrong. */
public enum Outage {
    FULL(
            HttpStatus.INSUFFICIENT_STORAGE,
            "The disk of the database is full, so nothing more can be kept.",
            "Make room on it. What you typed is still in the page before this one: go back and send it again then."),
    AWAY(
            HttpStatus.SERVICE_UNAVAILABLE,
            "The database does not answer just now.",
            "What you typed is still in the page before this one: go back and send it again in a moment. It is kept once,"
                    + " however often it is sent.");

    private final HttpStatus status;
    private final String sentence;
    private final String advice;

    Outage(HttpStatus status, String sentence, String advice) {
        this.status = status;
        this.sentence = sentence;
        this.advice = advice;
    }

    public HttpStatus status() {
        return status;
    }

    public String sentence() {
        return sentence;
    }

    public String advice() {
        return advice;
    }

    /** By what lies at the bottom of an exception; empty when the database did answer, and refused. */
    public static Optional<Outage> of(Exception e) {
        Throwable root = NestedExceptionUtils.getMostSpecificCause(e);
        // What the server answers bears a code; without one the pool speaks of a connection that is gone.
        boolean poolSpeaks = root instanceof SQLException gone && gone.getSQLState() == null;
        String state = root instanceof SQLException sql && sql.getSQLState() != null ? sql.getSQLState() : "";
        // PostgreSQL's error codes, appendix A of its manual: disk full; connection, resources, operator's stop.
        if (state.equals("53100")) {
            return Optional.of(FULL);
        }
        boolean away = poolSpeaks
                || state.startsWith("08")
                || state.startsWith("53")
                || state.startsWith("57P")
                || e instanceof CannotCreateTransactionException
                || e instanceof DataAccessResourceFailureException;
        return away ? Optional.of(AWAY) : Optional.empty();
    }
}
