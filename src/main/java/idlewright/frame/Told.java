package idlewright.frame;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.dao.ConcurrencyFailureException;
import org.springframework.dao.DataAccessException;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ProblemDetail;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.transaction.TransactionException;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.ExceptionHandler;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.multipart.MaxUploadSizeExceededException;

/** Says in plain words what went wrong and what to do, for all that no screen answers itself. */
@ControllerAdvice(annotations = Controller.class)
class Told {

    private static final Logger log = LoggerFactory.getLogger(Told.class);

    @ExceptionHandler
    @ResponseStatus(HttpStatus.NOT_FOUND)
    String notFound(NotFound e, Model model) {
        return say(
                model,
                "Not here",
                e.getMessage(),
                "Look at the number again, or search for it at the top of the page.");
    }

    @ExceptionHandler
    @ResponseStatus(HttpStatus.UNPROCESSABLE_CONTENT)
    String refused(Refused e, Model model) {
        return say(
                model,
                "This could not be done",
                String.join(" ", e.problems().values()),
                "Go back; nothing was changed.");
    }

    /** A page for a person, problem details for a program that asks for JSON; both know how long to wait. */
    @ExceptionHandler
    Object tooMany(TooMany e, HttpServletRequest request, HttpServletResponse response, Model model) {
        response.setHeader(HttpHeaders.RETRY_AFTER, Long.toString(e.seconds()));
        String accept = request.getHeader(HttpHeaders.ACCEPT);
        if (accept != null && accept.contains("json") && !accept.contains("html")) {
            return ResponseEntity.status(HttpStatus.TOO_MANY_REQUESTS)
                    .contentType(MediaType.APPLICATION_PROBLEM_JSON)
                    .body(ProblemDetail.forStatusAndDetail(HttpStatus.TOO_MANY_REQUESTS, e.sentence()));
        }
        response.setStatus(HttpStatus.TOO_MANY_REQUESTS.value());
        return say(
                model,
                "Please wait a little",
                e.sentence(),
                "Nothing is lost: what you typed is still in the page before this one.");
    }

    @ExceptionHandler
    @ResponseStatus(HttpStatus.CONFLICT)
    String stale(Stale e, Model model) {
        model.addAttribute("stale", e);
        return "frame/stale";
    }

    @ExceptionHandler
    @ResponseStatus(HttpStatus.CONFLICT)
    String raced(ConcurrencyFailureException e, Model model) {
        return say(
                model,
                "Somebody else saved first",
                "This was changed at another terminal in the same moment.",
                "Go back, look at what it says now, and send yours again if it still holds.");
    }

    @ExceptionHandler
    @ResponseStatus(HttpStatus.UNPROCESSABLE_CONTENT)
    String otherPayload(Once.OtherPayload e, Model model) {
        return say(model, "Sent before", e.getMessage(), "The first one was kept. Open the page again to add another.");
    }

    @ExceptionHandler
    @ResponseStatus(HttpStatus.BAD_REQUEST)
    String noKey(Once.NoKey e, Model model) {
        return say(model, "This form is not complete", e.getMessage(), "");
    }

    @ExceptionHandler
    @ResponseStatus(HttpStatus.CONTENT_TOO_LARGE)
    String tooLarge(MaxUploadSizeExceededException e, Model model) {
        return say(model, "The file is too large", "A file may have 25 MB at most.", "Choose a smaller one.");
    }

    @ExceptionHandler({DataAccessException.class, TransactionException.class})
    String database(RuntimeException e, Model model, HttpServletResponse response) {
        Outage outage = Outage.of(e).orElseThrow(() -> e);
        log.error("{} {}", outage.sentence(), e.getMessage());
        response.setStatus(outage.status().value());
        return say(model, "Not kept yet", outage.sentence(), outage.advice());
    }

    private static String say(Model model, String heading, String sentence, String advice) {
        model.addAttribute("heading", heading);
        model.addAttribute("sentence", sentence);
        model.addAttribute("advice", advice);
        return "frame/told";
    }
}
