package idlewright.people.screens;

import idlewright.people.Badge;
import idlewright.people.Sessions;
import idlewright.people.rules.LocalPath;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.servlet.http.HttpSession;
import java.io.IOException;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.AuthenticationException;
import org.springframework.stereotype.Component;

/** Where a person goes on to after signing in, after failing to, and after signing out. */
@Component
class Welcome {

    private final BayCookie bay;
    private final Ways ways;
    private final HeldPosts held;

    Welcome(BayCookie bay, Ways ways, HeldPosts held) {
        this.bay = bay;
        this.ways = ways;
        this.held = held;
    }

    void in(HttpServletRequest request, HttpServletResponse response, Authentication authentication)
            throws IOException {
        Badge badge = (Badge) Objects.requireNonNull(authentication.getPrincipal());
        HttpSession session = request.getSession();
        session.setMaxInactiveInterval((int) Sessions.IDLE.toSeconds());
        session.removeAttribute(Ways.SAID);
        held.rememberWho(badge.person(), request, response);
        if (badge.bay()) {
            bay.renew(request, response);
        }
        String to = held.waitsFor(badge.person(), session)
                ? "/held"
                : LocalPath.of(request.getParameter("to"))
                        .filter(path -> !path.equals("/held"))
                        .orElse(Ways.start(badge.person()));
        response.sendRedirect(request.getContextPath() + to);
    }

    void refused(HttpServletRequest request, HttpServletResponse response, AuthenticationException why)
            throws IOException {
        boolean pin = request.getRequestURI().endsWith("/bay/change");
        ways.say(request, pin ? "pin" : "password", String.valueOf(why.getMessage()));
        response.sendRedirect(request.getContextPath() + Ways.sameDoor(request, pin));
    }

    void out(HttpServletRequest request, HttpServletResponse response, @Nullable Authentication who)
            throws IOException {
        response.sendRedirect(request.getContextPath() + ways.door(request, null));
    }
}
