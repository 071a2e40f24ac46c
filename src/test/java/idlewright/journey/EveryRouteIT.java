package idlewright.journey;

import static org.assertj.core.api.Assertions.assertThat;

import com.deque.html.axecore.playwright.AxeBuilder;
import com.deque.html.axecore.results.Rule;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Response;
import idlewright.demo.Cast;
import idlewright.ground.TestDatabase;
import idlewright.intake.TicketNumber;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.proof.AnswerLinks;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.flyway.autoconfigure.FlywayConnectionDetails;
import org.springframework.boot.jdbc.autoconfigure.JdbcConnectionDetails;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.test.context.TestConfiguration;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.context.ApplicationContext;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Import;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.annotation.DirtiesContext;
import org.springframework.test.context.ActiveProfiles;
import org.springframework.web.method.HandlerMethod;

/** Every page, by every role that may open it, as people with poor sight, no mouse or a small screen meet it. */
@SpringBootTest(webEnvironment = SpringBootTest.WebEnvironment.RANDOM_PORT)
@ActiveProfiles("demo")
@Import(EveryRouteIT.EmptyDatabase.class)
@DirtiesContext
@DisplayName("Every route")
class EveryRouteIT {

    private static final List<String> STANDARDS =
            List.of("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice");

    /** Pages that the demo shop cannot show, each with its reason; they are tested where they can be. */
    private static final Set<String> ELSEWHERE = Set.of(
            "/first-start", // gone as soon as there is an owner: FirstStartTest
            "/held" // only after a lost session: DoorsTest
            );

    private static Chromium chromium;

    @Autowired
    private ApplicationContext house;

    @Autowired
    private JdbcClient sql;

    @Autowired
    private People people;

    @Autowired
    private AnswerLinks links;

    @LocalServerPort
    private int port;

    private final List<String> problems = new ArrayList<>();

    @BeforeAll
    static void openTheBrowser() {
        chromium = Chromium.start();
    }

    @AfterAll
    static void closeTheBrowser() {
        if (chromium != null) {
            chromium.close();
        }
    }

    @Test
    @DisplayName("is within reach of everybody, filled, on a small screen and with errors")
    void isWithinReachOfEverybody() {
        Routes routes = Routes.of(house);
        Map<Role, Desk> desks = new EnumMap<>(Role.class);
        desks.put(Role.WRITER, seat(Cast.WREN));
        desks.put(Role.TECHNICIAN, seat(Cast.TAMSIN));
        desks.put(Role.OWNER, seat(Cast.ODILE));
        var missed = new TreeSet<String>();
        var forms = new ArrayList<String[]>();
        for (Map.Entry<String, HandlerMethod> route : routes.pages().entrySet()) {
            String pattern = route.getKey();
            if (ELSEWHERE.contains(pattern)) {
                continue;
            }
            String address = pattern.startsWith("/answers/")
                    ? answerPage()
                    : routes.address(pattern).orElse(null);
            if (address == null) {
                missed.add(pattern);
                continue;
            }
            Set<Role> roles = Routes.roles(route.getValue());
            boolean first = true;
            for (Role role : roles.isEmpty() ? Set.of(Role.OWNER) : new TreeSet<>(roles)) {
                Page page = desks.get(role).page;
                // The bar differs by role, the page does not: what a role alone sees is looked at on that role's own
                // pages.
                if (open(page, role, pattern, address) && first) {
                    look(page, role + " " + pattern + " " + address);
                    narrow(page, pattern + " " + address);
                    if (page.locator("main form[method=post] :is(input[type=text], textarea)")
                                    .count()
                            > 0) {
                        forms.add(new String[] {role.name(), pattern, address});
                    }
                }
                first = false;
            }
        }
        for (String[] form : forms) {
            Page page = desks.get(Role.valueOf(form[0])).page;
            if (sentEmpty(page, form[2])) {
                look(page, form[0] + " " + form[1] + " sent empty");
            }
        }
        assertThat(missed).as("pages without an address in the demo shop").isEmpty();
        assertThat(problems)
                .as("what was found on %d pages", routes.pages().size())
                .isEmpty();
    }

    private Desk seat(Cast.Member member) {
        Desk desk = chromium.sits(member.name(), chromium.desk(), Desk.Hand.MOUSE, port);
        Page page = desk.page;
        page.navigate("/sign-in");
        page.fill("main input[name=name]", member.signIn());
        page.fill("main input[type=password]", member.password());
        page.click("main button[type=submit]");
        page.waitForURL(url -> !url.contains("/sign-in"));
        page.onConsoleMessage(message -> {
            if (message.type().equals("error") && !message.text().contains("status of 4")) {
                problems.add(page.url() + " says in the console: " + message.text());
            }
        });
        return desk;
    }

    private String answerPage() {
        Person wren = people.all().stream()
                .filter(person -> person.name().equals(Cast.WREN.name()))
                .findFirst()
                .orElseThrow();
        int ticket = sql.sql("select ticket_number from stamp where kind = 'HANDED_BACK' order by id desc limit 1")
                .query(Integer.class)
                .single();
        return people.as(wren, () -> links.make(new TicketNumber(ticket)).path());
    }

    private boolean open(Page page, Role role, String pattern, String address) {
        Response answer = page.navigate(address);
        if (answer.status() >= 400) {
            problems.add("%s %s (%s) answers %d".formatted(role, pattern, address, answer.status()));
            return false;
        }
        return true;
    }

    private void look(Page page, String what) {
        for (Rule violation : new AxeBuilder(page).withTags(STANDARDS).analyze().getViolations()) {
            problems.add(what + ": " + violation.getId() + ", " + violation.getHelp() + ", "
                    + violation.getNodes().stream()
                            .limit(2)
                            .map(node -> node.getHtml().length() > 160
                                    ? node.getHtml().substring(0, 160)
                                    : node.getHtml())
                            .collect(Collectors.joining(" | ")));
        }
        if (page.locator("h1").count() != 1) {
            problems.add(what + ": has " + page.locator("h1").count() + " main headings");
        }
        if (!page.title().endsWith("Idlewright")) {
            problems.add(what + ": is titled “" + page.title() + "”");
        }
    }

    private void narrow(Page page, String what) {
        var before = page.viewportSize();
        page.setViewportSize(320, 800);
        Object over = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth");
        if (((Number) over).intValue() > 0) {
            Object widest = page.evaluate(
                    "[...document.querySelectorAll('main *')].filter(e => e.getBoundingClientRect().right > 321 && !e.closest('.scroll')).slice(0, 2).map(e => e.outerHTML.slice(0, 120)).join(' | ')");
            problems.add(what + ": sticks out by " + over + " px at 320: " + widest);
        }
        page.setViewportSize(before.width, before.height);
    }

    private static boolean sentEmpty(Page page, String address) {
        Response at = page.navigate(address);
        if (at.status() >= 400 || page.locator("main form[method=post]").count() == 0) {
            return false;
        }
        page.evaluate(
                "document.querySelectorAll('main form[method=post] :is(input[type=text], input[type=tel], input[type=email], textarea)').forEach(e => { e.value = ''; })");
        Response answer = page.waitForNavigation(
                () -> page.evaluate(
                        "(() => { const f = [...document.querySelectorAll('main form[method=post]')].find(f => f.querySelector('input[type=text], textarea')); const d = f.closest('details'); if (d) d.open = true; f.requestSubmit(f.querySelector('button')); })()"));
        return answer != null && answer.status() == 422;
    }

    @TestConfiguration
    static class EmptyDatabase {

        private static final TestDatabase.Both EMPTY = TestDatabase.fresh();

        @Bean
        JdbcConnectionDetails appLogin() {
            return EMPTY.app().forTheApp();
        }

        @Bean
        FlywayConnectionDetails ownerLogin() {
            return EMPTY.owner().forMigrations();
        }
    }
}
