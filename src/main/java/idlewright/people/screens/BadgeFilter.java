package idlewright.people.screens;

import idlewright.people.People;
import idlewright.people.Sessions;
import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.web.filter.OncePerRequestFilter;

/** Ends a session whose badge does not hold any more, before anything is done in its name. */
class BadgeFilter extends OncePerRequestFilter {

    private final Sessions sessions;
    private final People people;

    BadgeFilter(Sessions sessions, People people) {
        this.sessions = sessions;
        this.people = people;
    }

    @Override
    protected boolean shouldNotFilter(HttpServletRequest request) {
        return Doorkeeper.isStatic(request);
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        if (people.badge().filter(badge -> !sessions.holds(badge)).isPresent()) {
            SecurityContextHolder.clearContext();
            var session = request.getSession(false);
            if (session != null) {
                session.invalidate();
            }
        }
        chain.doFilter(request, response);
    }
}
