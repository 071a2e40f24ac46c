package idlewright.people.screens;

import idlewright.people.Terminal;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpMethod;
import org.springframework.security.authentication.AbstractAuthenticationToken;
import org.springframework.security.authentication.BadCredentialsException;
import org.springframework.security.core.Authentication;
import org.springframework.security.web.authentication.AbstractAuthenticationProcessingFilter;
import org.springframework.security.web.servlet.util.matcher.PathPatternRequestMatcher;

/** Takes the PIN typed on {@code /bay/change}; only at an enrolled terminal. */
class PinFilter extends AbstractAuthenticationProcessingFilter {

    private final BayCookie bay;

    PinFilter(BayCookie bay) {
        super(PathPatternRequestMatcher.withDefaults().matcher(HttpMethod.POST, "/bay/change"));
        this.bay = bay;
    }

    @Override
    public Authentication attemptAuthentication(HttpServletRequest request, HttpServletResponse response) {
        Terminal terminal = bay.terminal(request)
                .orElseThrow(() -> new BadCredentialsException("This browser is not a bay terminal."));
        String person = Objects.requireNonNullElse(request.getParameter("person"), "");
        if (!person.matches("[0-9]{1,18}")) {
            throw new BadCredentialsException("Choose your name first.");
        }
        String digits = Objects.requireNonNullElse(request.getParameter("pin"), "");
        return Objects.requireNonNull(getAuthenticationManager())
                .authenticate(new Pin(terminal, Long.parseLong(person), digits));
    }

    /** A PIN before it is checked. */
    static final class Pin extends AbstractAuthenticationToken {

        private final transient Terminal terminal;
        private final long person;
        private final transient String digits;

        Pin(Terminal terminal, long person, String digits) {
            super(List.of());
            this.terminal = terminal;
            this.person = person;
            this.digits = digits;
        }

        Terminal terminal() {
            return terminal;
        }

        long person() {
            return person;
        }

        String digits() {
            return digits;
        }

        @Override
        public Object getCredentials() {
            return digits;
        }

        @Override
        public Object getPrincipal() {
            return person;
        }

        @Override
        public boolean equals(@Nullable Object other) {
            return this == other;
        }

        @Override
        public int hashCode() {
            return Long.hashCode(person);
        }
    }
}
