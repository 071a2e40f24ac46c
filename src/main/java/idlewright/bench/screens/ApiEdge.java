package idlewright.bench.screens;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.servlet.http.HttpServletResponseWrapper;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.UUID;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.stereotype.Component;
import org.springframework.web.filter.OncePerRequestFilter;
import org.springframework.web.multipart.MultipartException;

/**
 * The outermost skin of {@code /api}: whatever goes wrong before or behind a controller leaves as problem details of RFC
 * 9457. It stands before the firewall and the upload limits, whose refusals would become a page for people otherwise.
 */
@Component
@Order(Ordered.HIGHEST_PRECEDENCE)
class ApiEdge extends OncePerRequestFilter {

    private static final Logger log = LoggerFactory.getLogger(ApiEdge.class);

    @Override
    protected boolean shouldNotFilter(HttpServletRequest request) {
        String path = request.getRequestURI().substring(request.getContextPath().length());
        return !path.equals("/api") && !path.startsWith("/api/");
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        try {
            chain.doFilter(request, new Skin(response));
        } catch (ServletException | IOException | RuntimeException e) {
            if (response.isCommitted()) {
                throw e;
            }
            if (hasMultipartTrouble(e)) {
                response.reset();
                write(response, HttpStatus.BAD_REQUEST, "The multipart form is not well formed.");
                return;
            }
            String reference = UUID.randomUUID().toString().substring(0, 8);
            log.error("A call of the API failed, reference {}", reference, e);
            response.reset();
            write(
                    response,
                    HttpStatus.INTERNAL_SERVER_ERROR,
                    "This failed here, not with you. The log has it under reference " + reference + ".");
        }
    }

    private static boolean hasMultipartTrouble(Throwable e) {
        for (Throwable cause = e; cause != null; cause = cause.getCause()) {
            if (cause instanceof MultipartException) {
                return true;
            }
        }
        return false;
    }

    private static void write(HttpServletResponse response, HttpStatus status, String detail) throws IOException {
        response.setStatus(status.value());
        response.setContentType(MediaType.APPLICATION_PROBLEM_JSON_VALUE);
        response.setCharacterEncoding(StandardCharsets.UTF_8.name());
        response.getWriter()
                .write("{\"type\":\"about:blank\",\"title\":\"%s\",\"status\":%d,\"detail\":\"%s\"}"
                        .formatted(status.getReasonPhrase(), status.value(), detail));
    }

    /** Answers where the server would look for an error page. */
    private static final class Skin extends HttpServletResponseWrapper {

        Skin(HttpServletResponse response) {
            super(response);
        }

        @Override
        public void sendError(int code) throws IOException {
            HttpStatus known = HttpStatus.resolve(code);
            HttpStatus status = known == null ? HttpStatus.INTERNAL_SERVER_ERROR : known;
            resetBuffer();
            write((HttpServletResponse) getResponse(), status, detail(status));
            flushBuffer();
        }

        /** The message may name classes; it stays here. */
        @Override
        public void sendError(int code, String message) throws IOException {
            sendError(code);
        }

        private static String detail(HttpStatus status) {
            return switch (status) {
                case BAD_REQUEST -> "The request is not well formed.";
                case NOT_FOUND -> "There is nothing here.";
                case METHOD_NOT_ALLOWED -> "This address takes another method; see Allow, or /api/openapi.json.";
                case NOT_ACCEPTABLE -> "Answers are JSON; send Accept: application/json.";
                case CONTENT_TOO_LARGE -> "A log may have 150 MB at most, any other body 4 MB.";
                case UNSUPPORTED_MEDIA_TYPE -> "The content type does not fit this call; see /api/openapi.json.";
                default -> status.is5xxServerError() ? "This failed here, not with you." : "The request was refused.";
            };
        }
    }
}
