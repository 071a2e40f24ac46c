package idlewright.people.screens;

import idlewright.frame.NotFound;
import idlewright.frame.Outage;
import idlewright.frame.Refused;
import idlewright.frame.Stale;
import idlewright.frame.TooMany;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.dao.ConcurrencyFailureException;
import org.springframework.dao.DataAccessException;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ProblemDetail;
import org.springframework.http.ResponseEntity;
import org.springframework.transaction.TransactionException;
import org.springframework.web.bind.annotation.ExceptionHandler;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.bind.annotation.RestControllerAdvice;
import org.springframework.web.servlet.mvc.method.annotation.ResponseEntityExceptionHandler;

/** What programs are told when something is refused: RFC 9457 problem details. */
@RestControllerAdvice(annotations = RestController.class)
@Order(Ordered.HIGHEST_PRECEDENCE)
class ApiProblems extends ResponseEntityExceptionHandler {

    @ExceptionHandler
    ProblemDetail notFound(NotFound e) {
        return ProblemDetail.forStatusAndDetail(HttpStatus.NOT_FOUND, e.getMessage());
    }

    @ExceptionHandler
    ProblemDetail refused(Refused e) {
        var problem = ProblemDetail.forStatusAndDetail(
                HttpStatus.UNPROCESSABLE_CONTENT, String.join(" ", e.problems().values()));
        Map<String, String> fields = e.problems();
        // What is wrong with the whole stands in the detail alone: it has no field to be named by.
        fields.remove(Refused.WHOLE);
        if (!fields.isEmpty()) {
            problem.setProperty("problems", fields);
        }
        return problem;
    }

    @ExceptionHandler
    ResponseEntity<ProblemDetail> tooMany(TooMany e) {
        return ResponseEntity.status(HttpStatus.TOO_MANY_REQUESTS)
                .header(HttpHeaders.RETRY_AFTER, Long.toString(e.seconds()))
                .body(ProblemDetail.forStatusAndDetail(HttpStatus.TOO_MANY_REQUESTS, e.sentence()));
    }

    @ExceptionHandler
    ProblemDetail stale(Stale e) {
        return ProblemDetail.forStatusAndDetail(HttpStatus.CONFLICT, e.getMessage());
    }

    @ExceptionHandler
    ProblemDetail raced(ConcurrencyFailureException e) {
        return ProblemDetail.forStatusAndDetail(
                HttpStatus.CONFLICT, "This was changed by somebody else in the same moment. Read it again.");
    }

    @ExceptionHandler({DataAccessException.class, TransactionException.class})
    ProblemDetail database(RuntimeException e) {
        Outage outage = Outage.of(e).orElseThrow(() -> e);
        return ProblemDetail.forStatusAndDetail(outage.status(), outage.sentence() + " Try again.");
    }

    /** For refusals that come before any controller. */
    static void write(HttpServletResponse response, HttpStatus status, String detail) throws IOException {
        response.setStatus(status.value());
        response.setContentType(MediaType.APPLICATION_PROBLEM_JSON_VALUE);
        response.setCharacterEncoding(StandardCharsets.UTF_8.name());
        response.getWriter()
                .write("{\"type\":\"about:blank\",\"title\":\"%s\",\"status\":%d,\"detail\":\"%s\"}"
                        .formatted(status.getReasonPhrase(), status.value(), detail));
    }
}
