package idlewright.people.screens;

import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Secrets;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.Cookie;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.servlet.http.HttpSession;
import jakarta.servlet.http.Part;
import java.io.IOException;
import java.io.Serializable;
import java.net.URI;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.security.web.access.AccessDeniedHandler;
import org.springframework.security.web.csrf.CsrfException;
import org.springframework.stereotype.Component;
import org.springframework.web.util.WebUtils;

/**
 * Keeps what somebody typed when the form came too late: the session was over, or its token was stale. It waits in the new
 * session for the person who typed it, who is known by a sealed cookie, and is never sent on without a press of a button.
 */
@Component
class HeldPosts implements AccessDeniedHandler {

    static final int MOST = 200_000;

    private static final String HELD = "people.held";
    private static final String WHO = "idlewright-who";
    private static final Set<String> FORMS_OF_THE_DOOR = Set.of("/sign-in", "/bay/change", "/first-start");

    /** A post that came too late; secrets and files are not in it. */
    record Held(String path, Map<String, List<String>> fields, List<String> files, Instant at, long typedBy)
            implements Serializable {

        /** What a person reads: the visible fields by name, as far as something was typed. */
        public List<Line> lines() {
            var lines = new ArrayList<Line>();
            fields.forEach((name, values) -> {
                String said = String.join(", ", values).strip();
                if (!said.isEmpty() && !name.equals("submission") && !name.equals("version") && !name.startsWith("_")) {
                    lines.add(new Line(words(name), said));
                }
            });
            return lines;
        }

        private static String words(String name) {
            String apart = name.replaceAll("([a-z0-9])([A-Z])", "$1 $2").replaceAll("[._\\[\\]-]+", " ");
            return apart.strip().toLowerCase(Locale.ROOT);
        }
    }

    record Line(String field, String said) {}

    private final People people;
    private final Secrets secrets;
    private final Ways ways;
    private final Clock clock;

    HeldPosts(People people, Secrets secrets, Ways ways, Clock clock) {
        this.people = people;
        this.secrets = secrets;
        this.ways = ways;
        this.clock = clock;
    }

    @Override
    public void handle(HttpServletRequest request, HttpServletResponse response, AccessDeniedException why)
            throws IOException, ServletException {
        if (why instanceof CsrfException) {
            cameTooLate(request, response);
        } else {
            response.sendError(HttpStatus.NOT_FOUND.value());
        }
    }

    /** Answers a post that may not be done now: keeps it if one of our own pages sent it, else refuses it. */
    void cameTooLate(HttpServletRequest request, HttpServletResponse response) throws IOException, ServletException {
        String path = request.getRequestURI().substring(request.getContextPath().length());
        if (!sentByUs(request)) {
            response.sendError(HttpStatus.FORBIDDEN.value());
        } else if (path.equals("/sign-out")) {
            endSession(request);
            go(request, response, ways.door(request, null));
        } else if (FORMS_OF_THE_DOOR.contains(path)) {
            again(path, request, response);
        } else if (sentByScript(request)) {
            response.setStatus(
                    people.signedIn().isPresent() ? HttpStatus.FORBIDDEN.value() : HttpStatus.UNAUTHORIZED.value());
        } else {
            keep(path, request, response);
        }
    }

    private void keep(String path, HttpServletRequest request, HttpServletResponse response)
            throws IOException, ServletException {
        Optional<Person> me = people.signedIn();
        Optional<Long> typedBy = me.map(Person::id).or(() -> who(request));
        Map<String, List<String>> fields = fields(request);
        boolean tooMuch = size(fields) > MOST;
        if (typedBy.isEmpty() || tooMuch) {
            ways.say(
                    request,
                    "",
                    tooMuch
                            ? "You were signed out before this was kept, and it is too long to wait here. Copy it with your"
                                    + " browser's back button, then sign in."
                            : "You were signed out before this was kept. Sign in, then send it again.");
            go(request, response, ways.door(request, null));
            return;
        }
        request.getSession().setAttribute(HELD, new Held(path, fields, files(request), clock.instant(), typedBy.get()));
        go(request, response, me.isPresent() ? "/held" : ways.door(request, "/held"));
    }

    Optional<Held> held(@Nullable HttpSession session) {
        return session != null && session.getAttribute(HELD) instanceof Held held
                ? Optional.of(held)
                : Optional.empty();
    }

    boolean waitsFor(Person person, HttpSession session) {
        return held(session).filter(held -> held.typedBy() == person.id()).isPresent();
    }

    void drop(@Nullable HttpSession session) {
        if (session != null) {
            session.removeAttribute(HELD);
        }
    }

    /** Once the held form is on its way to its own handler, it need not wait any longer. */
    void onItsWay(HttpServletRequest request) {
        held(request.getSession(false))
                .filter(held -> request.getRequestURI().equals(request.getContextPath() + held.path()))
                .filter(held -> List.of(String.valueOf(request.getParameter("submission")))
                        .equals(held.fields().get("submission")))
                .ifPresent(held -> drop(request.getSession(false)));
    }

    /** So that a later visitor of this browser does not read what an earlier one typed. */
    void rememberWho(Person person, HttpServletRequest request, HttpServletResponse response) {
        String id = Long.toString(person.id());
        BayCookie.set(WHO, id + "." + secrets.seal("who", id), Duration.ofDays(30), request, response);
    }

    private Optional<Long> who(HttpServletRequest request) {
        Cookie cookie = WebUtils.getCookie(request, WHO);
        String[] halves = cookie == null ? new String[0] : cookie.getValue().split("\\.", 2);
        return halves.length == 2 && halves[0].matches("[0-9]{1,18}") && secrets.sealed("who", halves[0], halves[1])
                ? Optional.of(Long.parseLong(halves[0]))
                : Optional.empty();
    }

    /** The sign-in forms hold nothing worth keeping but the name: they are shown again. */
    private void again(String path, HttpServletRequest request, HttpServletResponse response) throws IOException {
        ways.say(request, "", "This page had been open for too long. Please try once more.");
        if (path.equals("/first-start")) {
            String token = String.valueOf(request.getParameter("token"));
            go(request, response, "/first-start?token=" + token.replaceAll("[^A-Za-z0-9_-]", ""));
        } else {
            go(request, response, Ways.sameDoor(request, path.equals("/bay/change")));
        }
    }

    private static void go(HttpServletRequest request, HttpServletResponse response, String to) throws IOException {
        if (request.getHeader("HX-Request") != null) {
            response.setStatus(HttpStatus.NO_CONTENT.value());
            response.setHeader("HX-Redirect", request.getContextPath() + to);
        } else {
            response.setStatus(HttpStatus.SEE_OTHER.value());
            response.setHeader("Location", request.getContextPath() + to);
        }
    }

    private static void endSession(HttpServletRequest request) {
        HttpSession session = request.getSession(false);
        if (session != null) {
            session.invalidate();
        }
    }

    /** The browser itself says where a form came from; a page of another site cannot forge these headers. */
    private static boolean sentByUs(HttpServletRequest request) {
        String fetchSite = request.getHeader("Sec-Fetch-Site");
        if (fetchSite != null) {
            return fetchSite.equals("same-origin");
        }
        String from = request.getHeader("Origin");
        if (from == null) {
            from = request.getHeader("Referer");
        }
        if (from == null) {
            return false;
        }
        try {
            URI origin = URI.create(from);
            return request.getScheme().equals(origin.getScheme())
                    && request.getServerName().equalsIgnoreCase(origin.getHost())
                    && request.getServerPort() == port(origin);
        } catch (IllegalArgumentException noAddress) {
            return false;
        }
    }

    private static int port(URI origin) {
        if (origin.getPort() >= 0) {
            return origin.getPort();
        }
        return "https".equals(origin.getScheme()) ? 443 : 80;
    }

    /** A script keeps its own copy and wants a plain answer, not a page. */
    static boolean sentByScript(HttpServletRequest request) {
        String mode = request.getHeader("Sec-Fetch-Mode");
        return mode != null && !mode.equals("navigate") && request.getHeader("HX-Request") == null;
    }

    private static Map<String, List<String>> fields(HttpServletRequest request) {
        var fields = new LinkedHashMap<String, List<String>>();
        request.getParameterMap().forEach((name, values) -> {
            if (!name.equals("_csrf") && !isSecret(name)) {
                fields.put(name, new ArrayList<>(List.of(values)));
            }
        });
        return fields;
    }

    private static boolean isSecret(String name) {
        String lower = name.toLowerCase(Locale.ROOT);
        return lower.contains("password") || lower.equals("pin") || lower.equals("pinnow");
    }

    private static long size(Map<String, List<String>> fields) {
        return fields.entrySet().stream()
                .mapToLong(field -> field.getKey().length()
                        + field.getValue().stream().mapToLong(String::length).sum())
                .sum();
    }

    private static List<String> files(HttpServletRequest request) throws IOException, ServletException {
        String type = request.getContentType();
        if (type == null || !type.toLowerCase(Locale.ROOT).startsWith("multipart/form-data")) {
            return List.of();
        }
        return new ArrayList<>(request.getParts().stream()
                .filter(part -> part.getSubmittedFileName() != null)
                .map(Part::getName)
                .distinct()
                .toList());
    }
}
