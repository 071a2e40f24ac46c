package idlewright.journey;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import idlewright.ground.WithDatabase;
import idlewright.people.Browser;
import idlewright.people.ByKey;
import idlewright.people.For;
import idlewright.people.Public;
import idlewright.people.Role;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.lang.annotation.Annotation;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.error.ErrorController;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.context.ApplicationContext;
import org.springframework.core.annotation.AnnotatedElementUtils;
import org.springframework.http.HttpMethod;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.web.bind.annotation.RequestMethod;
import org.springframework.web.method.HandlerMethod;
import org.springframework.web.servlet.mvc.method.RequestMappingInfo;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;

/** Who may go where: what the handlers' signs say, what {@code roles.txt} says by hand, and what really happens. */
@SpringBootTest
@AutoConfigureMockMvc
@WithDatabase
@DisplayName("Every route")
class RolesTest {

    /** The order of the columns that a person reads. */
    private static final List<Role> ROLES = List.of(Role.WRITER, Role.TECHNICIAN, Role.OWNER);

    @Autowired
    private ApplicationContext house;

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private RequestMappingHandlerMapping mapping;

    @Test
    @DisplayName("stands in roles.txt with those who may go there, and nothing else stands there")
    void standsInTheTableWithThoseWhoMay() {
        assertThat(bySigns().entrySet().stream().map(RolesTest::line))
                .as("src/test/resources/roles.txt is kept by hand: decide who may, then write it down")
                .containsExactlyElementsOf(
                        byHand().entrySet().stream().map(RolesTest::line).toList());
    }

    @Test
    @DisplayName("lets in whom the table names and is not there for anybody else")
    void letsInWhomTheTableNamesAndIsNotThereForAnybodyElse() {
        Crew.of(house);
        Map<String, Browser> people = new TreeMap<>();
        people.put("nobody", new Browser(mvc));
        people.put("writer", signedIn("wren"));
        people.put("technician", signedIn("tamsin"));
        people.put("owner", signedIn("odile"));
        var surprises = new TreeMap<String, String>();
        byHand().forEach((route, who) -> people.forEach((name, browser) -> {
            String wanted = wanted(who, name, route);
            String found = answer(browser, route);
            // The bay's door sends a browser that is no terminal on to the sign-in page.
            boolean doorToDoor = who.equals("public") && found.equals("to the door");
            if (!found.equals(wanted) && !doorToDoor) {
                surprises.put(name + " at " + route, found + " instead of " + wanted);
            }
        }));
        assertThat(surprises).isEmpty();
    }

    private static String wanted(String who, String name, String route) {
        if (who.equals("public")) {
            return "in";
        }
        if (who.equals("key")) {
            return "key wanted";
        }
        if (name.equals("nobody")) {
            return route.contains(" /api/") ? "key wanted" : "to the door";
        }
        return List.of(who.split(" ")).contains(name) ? "in" : "not there";
    }

    /** A form without its submission key is refused before anything is done, so every post may be tried. */
    private String answer(Browser browser, String route) {
        HttpMethod method = HttpMethod.valueOf(route.substring(0, route.indexOf(' ')));
        String path = filled(route.substring(route.indexOf(' ') + 1));
        var page = method.equals(HttpMethod.GET) ? browser.get(path) : browser.post(path, "submission", "none");
        if (page.status() == 401) {
            return "key wanted";
        }
        if (page.status() / 100 == 3 && page.location().contains("/sign-in")) {
            return "to the door";
        }
        boolean byTheDoorkeeper =
                page.status() == 404 && "Not Found".equals(page.response().getErrorMessage());
        boolean unsaid = page.status() == 404 && page.body().isEmpty();
        return byTheDoorkeeper || unsaid ? "not there" : "in";
    }

    /** What is asked for need not exist: whether somebody may ask is decided before. */
    static String filled(String pattern) {
        return pattern.replaceAll("\\{(secret|token)[^/]*", "AAAAAAAAAAAAAAAAAAAAAA")
                .replaceAll("\\{code:[^/]*?\\}(?=\\.|/|$)", "D-999999-1-v1")
                .replaceAll("\\{number:[^/]*A-Z[^/]*?\\}(?=\\.|/|$)", "A-99999")
                .replaceAll("\\{key:own-[^/]*?\\}(?=/|$)", "own-999999")
                .replaceAll("\\{[^/}]*(\\{[^}]*\\}[^/}]*)*\\}", "999999");
    }

    private Browser signedIn(String name) {
        Browser browser = new Browser(mvc);
        browser.signIn(name, Crew.PASSWORD);
        browser.get("/me");
        return browser;
    }

    private Map<String, String> bySigns() {
        var routes = new TreeMap<String, String>();
        mapping.getHandlerMethods().forEach((info, handler) -> {
            if (handler.getBeanType().getName().startsWith("idlewright.")
                    && !ErrorController.class.isAssignableFrom(handler.getBeanType())) {
                routes(info).forEach(route -> routes.put(route, sign(handler)));
            }
        });
        return routes;
    }

    static Stream<String> routes(RequestMappingInfo info) {
        return info.getPatternValues().stream()
                .flatMap(pattern -> info.getMethodsCondition().getMethods().stream()
                        .map(RequestMethod::name)
                        .map(method -> method + " " + pattern));
    }

    private static String sign(HandlerMethod handler) {
        Optional<Annotation> sign = Stream.of(handler.getMethod(), handler.getBeanType())
                .flatMap(place -> Stream.of(For.class, Public.class, ByKey.class)
                        .map(kind -> (Annotation) AnnotatedElementUtils.findMergedAnnotation(place, kind)))
                .filter(Objects::nonNull)
                .findFirst();
        return sign.map(found -> found instanceof For only
                        ? ROLES.stream()
                                .filter(Arrays.asList(only.value())::contains)
                                .map(role -> role.name().toLowerCase(Locale.ROOT))
                                .collect(Collectors.joining(" "))
                        : found instanceof Public ? "public" : "key")
                .orElse("nobody");
    }

    private static Map<String, String> byHand() {
        try (var table = RolesTest.class.getResourceAsStream("/roles.txt")) {
            assertThat(table).as("roles.txt").isNotNull();
            return new String(table.readAllBytes(), UTF_8)
                    .lines()
                    .filter(line -> !line.isBlank() && !line.startsWith("#"))
                    .map(line -> line.split("\\s+->\\s+"))
                    .collect(Collectors.toMap(
                            halves -> halves[0].replaceAll("\\s+", " "),
                            halves -> halves[1].equals("staff") ? "writer technician owner" : halves[1],
                            (first, second) -> first + " and again " + second,
                            TreeMap::new));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static String line(Map.Entry<String, String> route) {
        return route.getKey() + " -> " + route.getValue();
    }
}
