package idlewright.people.screens;

import idlewright.people.Terminal;
import idlewright.people.Terminals;
import jakarta.servlet.http.Cookie;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.time.Duration;
import java.util.Optional;
import org.springframework.http.HttpHeaders;
import org.springframework.http.ResponseCookie;
import org.springframework.stereotype.Component;
import org.springframework.web.util.WebUtils;

/** The long-lived cookie that makes a browser a bay terminal. */
@Component
class BayCookie {

    private static final String NAME = "idlewright-terminal";

    /** Browsers keep no cookie longer than this; it is renewed at every change of technician. */
    private static final Duration LONG = Duration.ofDays(400);

    private final Terminals terminals;

    BayCookie(Terminals terminals) {
        this.terminals = terminals;
    }

    Optional<Terminal> terminal(HttpServletRequest request) {
        Cookie cookie = WebUtils.getCookie(request, NAME);
        return cookie == null ? Optional.empty() : terminals.at(cookie.getValue());
    }

    void give(String token, HttpServletRequest request, HttpServletResponse response) {
        set(NAME, token, LONG, request, response);
    }

    void renew(HttpServletRequest request, HttpServletResponse response) {
        Cookie cookie = WebUtils.getCookie(request, NAME);
        if (cookie != null) {
            give(cookie.getValue(), request, response);
        }
    }

    static void set(String name, String value, Duration age, HttpServletRequest request, HttpServletResponse response) {
        ResponseCookie cookie = ResponseCookie.from(name, value)
                .httpOnly(true)
                .secure(request.isSecure())
                .sameSite("Lax")
                .path("/")
                .maxAge(age)
                .build();
        response.addHeader(HttpHeaders.SET_COOKIE, cookie.toString());
    }
}
