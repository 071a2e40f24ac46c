package idlewright.frame;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletRequestWrapper;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.util.Collections;
import java.util.Enumeration;
import java.util.Map;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;
import org.springframework.util.unit.DataSize;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Shows the form again, with what is wrong beside it, when a file is larger than any request may be. The server itself
 * would answer with a bare page, because even its error page asks for a parameter of the form that cannot be read.
 */
@Component
@Order(Ordered.HIGHEST_PRECEDENCE)
class TooLarge extends OncePerRequestFilter {

    static final String MARK = TooLarge.class.getName();

    private final long most;
    private final long large;
    private final Pattern largeAt;

    /**
     * @param most a request may usually have
     * @param large a request may have where logs are brought in
     * @param largeAt the addresses of those
     */
    TooLarge(
            @Value("${idlewright.uploads.most}") DataSize most,
            @Value("${spring.servlet.multipart.max-request-size}") DataSize large,
            @Value("${idlewright.uploads.large-at}") Pattern largeAt) {
        this.most = most.toBytes();
        this.large = large.toBytes();
        this.largeAt = largeAt;
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        String type = request.getContentType();
        boolean upload = type != null && type.startsWith("multipart/");
        String path = request.getRequestURI().substring(request.getContextPath().length());
        boolean log = largeAt.matcher(path).matches();
        if (!upload || path.startsWith("/api/") || request.getContentLengthLong() <= (log ? large : most)) {
            chain.doFilter(request, response);
            return;
        }
        request.setAttribute(MARK, log ? "150 MB" : "25 MB");
        response.setStatus(HttpStatus.CONTENT_TOO_LARGE.value());
        chain.doFilter(new AskedAgain(request), response);
    }

    /** The same address, asked for without anything sent along. */
    private static final class AskedAgain extends HttpServletRequestWrapper {

        AskedAgain(HttpServletRequest request) {
            super(request);
        }

        @Override
        public String getMethod() {
            return "GET";
        }

        @Override
        public @Nullable String getContentType() {
            return null;
        }

        @Override
        public @Nullable String getParameter(String name) {
            return null;
        }

        @Override
        public Map<String, String[]> getParameterMap() {
            return Map.of();
        }

        @Override
        public Enumeration<String> getParameterNames() {
            return Collections.emptyEnumeration();
        }

        @Override
        public String @Nullable [] getParameterValues(String name) {
            return null;
        }
    }
}
