package idlewright.people.screens;

import idlewright.people.ApiKeys;
import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.web.filter.OncePerRequestFilter;

/** Reads the key of a program; whether the handler wants one is the doorkeeper's question. */
class KeyFilter extends OncePerRequestFilter {

    static final String KEY = "KEY";

    private static final String BEARER = "bearer ";

    private final ApiKeys keys;

    KeyFilter(ApiKeys keys) {
        this.keys = keys;
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        String header = request.getHeader("Authorization");
        if (header != null && header.regionMatches(true, 0, BEARER, 0, BEARER.length())) {
            keys.by(header.substring(BEARER.length()).strip()).ifPresent(badge -> {
                var context = SecurityContextHolder.createEmptyContext();
                context.setAuthentication(badge.authentication(KEY));
                SecurityContextHolder.setContext(context);
            });
        }
        chain.doFilter(request, response);
    }
}
