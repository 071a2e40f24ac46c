package idlewright.people.screens;

import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.people.rules.LocalPath;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpSession;
import java.io.Serializable;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.web.util.UriUtils;

/** The doors' addresses, and what the next one says to who comes back to it. */
@Component
class Ways {

    static final String SAID = "people.said";

    /** What the next sign-in page says, and the name typed before. */
    record Said(String field, String sentence, String name) implements Serializable {

        Map<String, String> problems() {
            var problems = new LinkedHashMap<String, String>();
            problems.put(field, sentence);
            return problems;
        }
    }

    private final BayCookie bay;

    Ways(BayCookie bay) {
        this.bay = bay;
    }

    /** The door of this browser: the change by PIN at a bay terminal, the sign-in page elsewhere. */
    String door(HttpServletRequest request, @Nullable String to) {
        return andThen(bay.terminal(request).isPresent() ? "/bay/change" : "/sign-in", to);
    }

    /** The form page again that was just sent, without its secrets. */
    static String sameDoor(HttpServletRequest request, boolean pin) {
        String to = LocalPath.of(request.getParameter("to")).orElse(null);
        String back = andThen(pin ? "/bay/change" : "/sign-in", to);
        String person = request.getParameter("person");
        return pin && person != null && person.matches("[0-9]{1,18}")
                ? back + (to == null ? "?" : "&") + "person=" + person
                : back;
    }

    /** The door with the page that is to be opened after it. */
    static String andThen(String door, @Nullable String to) {
        return to == null
                ? door
                : door + "?to="
                        + UriUtils.encodeQueryParam(to, StandardCharsets.UTF_8).replace("&", "%26");
    }

    void say(HttpServletRequest request, String field, String sentence) {
        String name = Objects.requireNonNullElse(request.getParameter("name"), "");
        request.getSession()
                .setAttribute(SAID, new Said(field, sentence, name.length() > 80 ? name.substring(0, 80) : name));
    }

    static Optional<Said> said(@Nullable HttpSession session) {
        if (session == null || !(session.getAttribute(SAID) instanceof Said said)) {
            return Optional.empty();
        }
        session.removeAttribute(SAID);
        return Optional.of(said);
    }

    /** Where the day begins for this person. */
    static String start(Person person) {
        return person.is(Role.OWNER) || person.is(Role.WRITER) ? "/counter" : "/bay";
    }
}
