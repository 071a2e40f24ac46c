package idlewright.journey;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Locator;
import idlewright.demo.Cast;
import idlewright.people.For;
import idlewright.people.Public;
import idlewright.people.Role;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.boot.webmvc.error.ErrorController;
import org.springframework.context.ApplicationContext;
import org.springframework.core.annotation.AnnotatedElementUtils;
import org.springframework.web.bind.annotation.RequestMethod;
import org.springframework.web.method.HandlerMethod;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;

/** Every page of the house by everybody who may open it: accessible, whole on a narrow screen, silent in the console. */
@InTheDemoShop
@DisplayName("In the demo shop")
class EveryRouteIT {

    /** No pages: files to keep, pieces of a page, and doors that only lead on. */
    private static final Set<String> NO_PAGES = Set.of(
            "/",
            "/bay/change",
            "/bay/technician",
            "/claims.csv",
            "/cores.csv",
            "/customers/{id:\\d+}/export",
            "/exhibits/{id:\\d+}",
            "/exhibits/{id:\\d+}/picture",
            "/find/suggestions",
            "/first-start",
            "/held",
            "/vehicles/vin-check");

    private static Chromium chromium;
    private static final Map<Role, Desk> DESKS = new LinkedHashMap<>();
    private static Desk stranger;
    private static Examples examples;

    /** Two roles often see the very same page; it need not be looked at twice. */
    private static final Set<String> SEEN = new HashSet<>();

    private static final Map<String, Set<String>> TITLES = new TreeMap<>();

    @Autowired
    private ApplicationContext house;

    @Autowired
    @Qualifier("requestMappingHandlerMapping")
    private RequestMappingHandlerMapping mapping;

    @LocalServerPort
    private int port;

    @BeforeAll
    static void opens() {
        chromium = Chromium.start();
    }

    @AfterAll
    static void closes() {
        if (chromium != null) {
            chromium.close();
        }
    }

    @TestFactory
    Stream<DynamicTest> everyRoute() {
        signIn();
        var routes = new TreeMap<String, HandlerMethod>();
        mapping.getHandlerMethods().forEach((info, handler) -> {
            if (handler.getBeanType().getName().startsWith("idlewright.")
                    && !ErrorController.class.isAssignableFrom(handler.getBeanType())
                    && info.getMethodsCondition().getMethods().contains(RequestMethod.GET)) {
                info.getPatternValues().stream()
                        .filter(route -> !route.startsWith("/api/"))
                        .forEach(route -> routes.put(route, handler));
            }
        });
        return Stream.concat(
                routes.entrySet().stream()
                        .map(route -> DynamicTest.dynamicTest(
                                route.getKey(), () -> isLookedAt(route.getKey(), route.getValue()))),
                Stream.of(
                        DynamicTest.dynamicTest("every page has a title of its own", EveryRouteIT::titlesDiffer),
                        DynamicTest.dynamicTest("a full shop is pictured", this::isPictured)));
    }

    private void signIn() {
        if (examples != null) {
            return;
        }
        examples = new Examples(house);
        stranger = chromium.sits("a stranger", chromium.desk(), Desk.Hand.MOUSE, port);
        // The role with the most buttons first: what the others see is mostly a part of it.
        Map.of(Role.TECHNICIAN, Cast.TAMSIN, Role.WRITER, Cast.WREN, Role.OWNER, Cast.ODILE)
                .forEach((role, member) -> DESKS.put(
                        role,
                        chromium.sits(member.name(), chromium.desk(), Desk.Hand.MOUSE, port)
                                .signsIn(member.signIn(), member.password())));
    }

    private void isLookedAt(String route, HandlerMethod handler) {
        List<String> places = examples.of(route);
        if (route.equals("/bay/change") || route.equals("/bay/technician")) {
            isLookedAtInTheBay(route);
            return;
        }
        assertThat(places)
                .as("There is no example for " + route + ". Say in Examples where it can be looked at.")
                .isNotEmpty();
        var wrong = new ArrayList<String>();
        for (Desk desk : desksOf(handler)) {
            for (String place : places) {
                if (NO_PAGES.contains(route)
                        || route.endsWith(".pdf")
                        || route.endsWith(".csv")
                        || route.endsWith(".xml")
                        || route.endsWith(".zip")) {
                    int status = desk.page.context().request().get(place).status();
                    if (status != (route.equals("/first-start") ? 404 : 200)) {
                        wrong.add(place + ": " + status);
                    }
                } else {
                    wrong.addAll(look(desk, place));
                }
            }
        }
        if (!NO_PAGES.contains(route)
                && !route.endsWith(".pdf")
                && !route.endsWith(".xml")
                && !route.endsWith(".csv")
                && !route.endsWith(".zip")) {
            wrong.addAll(sendsEmpty(desksOf(handler).get(0), places.get(0)));
        }
        assertThat(wrong).as(route).isEmpty();
    }

    private List<String> look(Desk desk, String place) {
        int status = desk.page.navigate(place).status();
        if (status != 200) {
            return List.of(desk + " at " + place + ": " + status);
        }
        TITLES.computeIfAbsent(desk.page.title(), title -> new TreeSet<>())
                .add(desk.page.url().replaceAll("[?#].*", ""));
        return whole(desk, desk + " at " + place);
    }

    private List<String> whole(Desk desk, String at) {
        var wrong = new ArrayList<String>();
        int headings = desk.page.locator("h1").count();
        if (headings != 1) {
            wrong.add(at + ": " + headings + " first headings");
        }
        if (!desk.page.title().endsWith(" - Idlewright")) {
            wrong.add(at + ": title " + desk.page.title());
        }
        String look = (String) desk.page.evaluate("""
                () => document.getElementById('main').outerHTML.replace(/value="[^"]*"/g, '').replace(/\\d+/g, '0')""");
        if (SEEN.add(look)) {
            desk.sticksOutWhenNarrow().forEach(what -> wrong.add(at + " at 320 px: " + what));
            desk.breaks().forEach(what -> wrong.add(at + " breaks " + what));
        }
        desk.complaints().forEach(complaint -> wrong.add(at + " in the console: " + complaint));
        desk.complaints().clear();
        return wrong;
    }

    /** The first form of the page without anything in it: what is wrong is said on top and beside each field. */
    private List<String> sendsEmpty(Desk desk, String place) {
        desk.page.navigate(place);
        Locator forms = desk.page.locator("#main form[method=post]:not([action*='sign-out'])");
        for (Locator form : forms.all()) {
            if (form.locator("input:not([type=hidden]), textarea, select").count() == 0) {
                continue;
            }
            form.evaluate("""
                    form => { for (let up = form; up; up = up.parentElement) if (up.tagName === 'DETAILS') up.open = true;
                      for (const field of form.elements) {
                        if (field.type === 'radio' || field.type === 'checkbox') field.checked = false;
                        else if (field.type === 'hidden' || field.tagName === 'BUTTON' || field.type === 'file') continue;
                        else field.value = ''; } }""");
            desk.press(form.locator("button:not([type=button])"));
            var wrong = new ArrayList<String>();
            String at = desk + " sends nothing from " + place;
            if (desk.page.locator("[data-problems]").count() > 0) {
                wrong.addAll(problems(desk, at));
            }
            wrong.addAll(whole(desk, at));
            return wrong;
        }
        return List.of();
    }

    private static List<String> problems(Desk desk, String at) {
        var wrong = new ArrayList<String>();
        if (!desk.page.title().startsWith("Error: ")) {
            wrong.add(at + ": the title does not say Error");
        }
        for (Locator line : desk.page.locator("[data-problems] a").all()) {
            String target = line.getAttribute("href").substring(1);
            if (target.equals("f-")) {
                continue;
            }
            Locator field = desk.page.locator("[id='" + target + "']");
            if (field.count() != 1) {
                wrong.add(at + ": “" + line.innerText() + "” leads to #" + target + ", which stands here "
                        + field.count() + " times");
            } else if (!(Boolean) field.evaluate("""
                    (field, words) => { const told = [field, field.closest('fieldset')].filter(e => e)
                        .flatMap(e => (e.getAttribute('aria-describedby') ?? '').split(' '))
                        .map(id => document.getElementById(id)?.textContent.trim());
                      return !field.matches('input, textarea, select') || told.includes(words); }""", line.innerText().strip())) {
                wrong.add(at + ": #" + target + " is not described by “" + line.innerText() + "”");
            }
        }
        return wrong;
    }

    /** At a terminal the door of the bay is a page. */
    private void isLookedAtInTheBay(String route) {
        Desk bay = chromium.sits("the bay", chromium.bay(), Desk.Hand.FINGER, port);
        try (bay) {
            bay.signsIn(Cast.ODILE.signIn(), Cast.ODILE.password()).opens("/set-up/terminals");
            bay.types("Make this browser a bay terminal", "Bay " + route.length())
                    .presses("Enrol this browser");
            bay.presses("Sign out");
            assertThat(look(bay, route)).isEmpty();
            bay.followsAbout(Cast.TAMSIN.name());
            assertThat(whole(bay, route + " with a name chosen")).isEmpty();
        }
    }

    private static void titlesDiffer() {
        var same = new HashMap<>(TITLES);
        // The same door under two addresses.
        same.remove("Change technician - Idlewright");
        same.values().removeIf(places -> places.size() == 1);
        assertThat(same).isEmpty();
    }

    /** A counter with one car on it tells little, and known good begins with eight. */
    private void isPictured() {
        try (Desk office = chromium.sits("the office", chromium.office(), Desk.Hand.MOUSE, port)) {
            office.signsIn(Cast.ODILE.signIn(), Cast.ODILE.password());
            office.opens("/counter").picture("counter").pictureNarrow("counter-narrow");
            office.opens("/comebacks?months=18").reads("How soon").picture("comebacks", 1600);
            office.opens("/known-good").reads("From eight");
            office.opens("/known-good?family=BW22").reads("Known good").picture("known-good", 1600);
        }
    }

    private static List<Desk> desksOf(HandlerMethod handler) {
        For sign = AnnotatedElementUtils.findMergedAnnotation(handler.getMethod(), For.class);
        if (sign == null && !AnnotatedElementUtils.hasAnnotation(handler.getMethod(), Public.class)) {
            sign = AnnotatedElementUtils.findMergedAnnotation(handler.getBeanType(), For.class);
        }
        if (sign == null) {
            return List.of(stranger);
        }
        List<Role> may = Arrays.asList(sign.value());
        return Stream.of(Role.TECHNICIAN, Role.WRITER, Role.OWNER)
                .filter(may::contains)
                .map(DESKS::get)
                .toList();
    }
}
