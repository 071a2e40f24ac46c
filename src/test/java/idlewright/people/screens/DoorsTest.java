package idlewright.people.screens;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.frame.MovableClock;
import idlewright.ground.WithDatabase;
import idlewright.people.ApiKeys;
import idlewright.people.Browser;
import idlewright.people.ByKey;
import idlewright.people.For;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Public;
import idlewright.people.Role;
import idlewright.people.Staff;
import idlewright.people.Terminals;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.context.annotation.Import;
import org.springframework.http.HttpMethod;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Controller;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseBody;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;

@SpringBootTest
@AutoConfigureMockMvc
@WithDatabase
@Import({DoorsTest.SpecimenScreen.class, DoorsTest.SpecimenApi.class})
class DoorsTest {

    private static final AtomicInteger NUMBER = new AtomicInteger();
    private static final String PASSWORD = "three loose hose clamps";
    private static final String PIN = "2580";

    @Autowired
    MockMvcTester mvc;

    @Autowired
    People people;

    @Autowired
    Staff staff;

    @Autowired
    Terminals terminals;

    @Autowired
    ApiKeys keys;

    @Autowired
    JdbcClient jdbc;

    @Autowired
    MovableClock clock;

    @Autowired
    RequestMappingHandlerMapping handlerMapping;

    String names;
    Person owner;
    Person writer;
    Person technician;

    @BeforeEach
    void hireThree() {
        names = "p" + ProcessHandle.current().pid() + "-" + NUMBER.incrementAndGet() + "-";
        owner = hire("owner", Set.of(Role.OWNER));
        writer = hire("writer", Set.of(Role.WRITER));
        technician = hire("technician", Set.of(Role.TECHNICIAN));
    }

    @AfterEach
    void letTimeGoOn() {
        clock.hold(null);
    }

    // deny by default

    @Test
    void everyHandlerOfTheHouseCarriesASign() {
        assertThat(handlerMapping.getHandlerMethods().entrySet().stream()
                        .filter(entry ->
                                entry.getValue().getBeanType().getName().startsWith("idlewright."))
                        .filter(entry -> !entry.getValue().getBeanType().equals(SpecimenScreen.class))
                        .filter(entry -> Doorkeeper.signOn(entry.getValue()).isEmpty())
                        .map(entry -> entry.getKey() + " " + entry.getValue()))
                .isEmpty();
    }

    @Test
    void aHandlerWithoutASignIsNotReachable() {
        Browser browser = signedIn("owner");
        assertThat(browser.get("/specimen/unsigned").status()).isEqualTo(404);
        assertThat(new Browser(mvc).get("/specimen/unsigned").status()).isEqualTo(404);
    }

    @Test
    void anUnknownAddressAndAForbiddenOneLookTheSame() {
        Browser browser = signedIn("technician");
        assertThat(browser.get("/set-up/people").status())
                .isEqualTo(browser.get("/no/such/page").status())
                .isEqualTo(404);
    }

    @Test
    void staticFilesAreOpenAndOtherFilesAreNot() {
        assertThat(new Browser(mvc).get("/css/tokens.css").status()).isEqualTo(200);
        assertThat(new Browser(mvc).get("/application.properties").status()).isEqualTo(404);
        assertThat(new Browser(mvc).get("/css/../application.properties").status())
                .isNotEqualTo(200);
    }

    @ParameterizedTest
    @CsvSource({
        "/set-up,                 200, 200, 404",
        "/set-up/shop,            200, 404, 404",
        "/set-up/people,          200, 404, 404",
        "/set-up/people/new,      200, 404, 404",
        "/set-up/people/{person}, 200, 404, 404",
        "/set-up/terminals,       200, 200, 404",
        "/set-up/api-keys,        200, 404, 404",
        "/me,                     200, 200, 200"
    })
    void eachRoleReachesItsOwnPages(String path, int asOwner, int asWriter, int asTechnician) {
        String real = path.replace("{person}", String.valueOf(writer.id()));
        assertThat(signedIn("owner").get(real).status()).isEqualTo(asOwner);
        assertThat(signedIn("writer").get(real).status()).isEqualTo(asWriter);
        assertThat(signedIn("technician").get(real).status()).isEqualTo(asTechnician);
        assertThat(new Browser(mvc).get(real).path()).isEqualTo("/sign-in?to=" + real);
    }

    @ParameterizedTest
    @CsvSource({
        "/set-up/shop",
        "/set-up/people",
        "/set-up/people/1",
        "/set-up/people/1/password",
        "/set-up/people/1/pin",
        "/set-up/people/1/retirement",
        "/set-up/api-keys",
        "/set-up/api-keys/1/retirement"
    })
    void onlyTheOwnerSetsUp(String path) {
        for (String who : List.of("writer", "technician")) {
            Browser browser = signedIn(who);
            browser.get("/me");
            assertThat(browser.post(path).status()).as(who).isEqualTo(404);
        }
    }

    // signing in

    @Test
    void aRightPasswordOpensTheDeskAndChangesTheSession() {
        Browser browser = new Browser(mvc);
        browser.get("/sign-in");
        String before = browser.sessionId();
        var page = browser.post("/sign-in", "name", " " + names.toUpperCase() + "WRITER", "password", PASSWORD);
        assertThat(page.path()).isEqualTo("/counter");
        assertThat(browser.sessionId()).isNotEqualTo(before);
        assertThat(browser.get("/me").body()).contains(writer.name()).contains("service writer");
    }

    @Test
    void afterSigningInThePageAskedForComes() {
        Browser browser = new Browser(mvc);
        String door = browser.get("/specimen?word=a%26b").path();
        assertThat(browser.get(door).body()).contains("value=\"/specimen?word=a%26b\"");
        assertThat(browser.post(
                                "/sign-in",
                                "name",
                                names + "writer",
                                "password",
                                PASSWORD,
                                "to",
                                "/specimen?word=a%26b")
                        .path())
                .isEqualTo("/specimen?word=a%26b");
    }

    @Test
    void neverSendsSomebodyOnToAnotherSite() {
        Browser browser = new Browser(mvc);
        browser.get("/sign-in");
        assertThat(browser.post("/sign-in", "name", names + "writer", "password", PASSWORD, "to", "//elsewhere.example")
                        .path())
                .isEqualTo("/counter");
    }

    @Test
    void saysTheSameForAWrongPasswordAndAnUnknownName() {
        Browser browser = new Browser(mvc);
        for (String name : List.of(names + "writer", names + "nobody")) {
            var answer = browser.signIn(name, "not the password");
            assertThat(browser.get(answer.path()).body())
                    .contains("This name and password do not belong together")
                    .contains("value=\"" + name + "\"");
        }
        assertThat(browser.get("/me").path()).startsWith("/sign-in");
    }

    @Test
    void stopsGuessingAfterTenTriesInAQuarterOfAnHourWithoutLockingAnotherDeskOut() {
        Browser guesser = new Browser(mvc).from("192.0.2.7");
        int heard = 0;
        for (int minute = 0; minute < 15; minute++) {
            clock.hold(clock.instant().plus(Duration.ofMinutes(1)));
            for (int i = 0; i < 3; i++) {
                var answer = guesser.signIn(names + "writer", "guess number " + i);
                if (guesser.get(answer.path()).body().contains("do not belong together")) {
                    heard++;
                }
            }
        }
        assertThat(heard).isBetween(6, 10);
        var answer = guesser.signIn(names + "writer", PASSWORD);
        assertThat(guesser.get(answer.path()).body()).contains("Too many tries here");
        assertThat(new Browser(mvc)
                        .from("192.0.2.8")
                        .signIn(names + "writer", PASSWORD)
                        .path())
                .isEqualTo("/counter");
        clock.hold(clock.instant().plus(Duration.ofMinutes(16)));
        assertThat(guesser.signIn(names + "writer", PASSWORD).path()).isEqualTo("/counter");
    }

    @Test
    void signingOutEndsTheSessionOnTheServer() {
        Browser browser = signedIn("writer");
        browser.get("/me");
        assertThat(browser.post("/sign-out").path()).isEqualTo("/sign-in");
        assertThat(browser.get("/me").path()).startsWith("/sign-in");
    }

    @Test
    void aSessionEndsWhenItsPersonLeavesOrGetsANewPasswordOrItsDayIsOver() {
        Browser leaving = signedIn("technician");
        Browser renewed = signedIn("writer");
        Browser tired = signedIn("owner");
        people.as(owner, () -> {
            staff.retire(technician.id());
            staff.newPassword(writer.id(), "another loose hose clamp");
            return null;
        });
        assertThat(leaving.get("/me").path()).startsWith("/sign-in");
        assertThat(renewed.get("/me").path()).startsWith("/sign-in");
        clock.hold(clock.instant().plus(Duration.ofHours(13)));
        assertThat(tired.get("/me").path()).startsWith("/sign-in");
    }

    @Test
    void passwordsAndPinsAreKeptAsArgon2idOnly() {
        Map<String, Object> row = jdbc.sql("select password_hash, pin_hash from person where id = ?")
                .param(technician.id())
                .query()
                .singleRow();
        assertThat(row.get("password_hash").toString()).startsWith("$argon2id$").doesNotContain(PASSWORD);
        assertThat(row.get("pin_hash").toString()).startsWith("$argon2id$");
    }

    // the bay

    @Test
    void aTechnicianChangesByPinAtAnEnrolledTerminalAndIsATechnicianOnly() {
        Person both = hire("both", Set.of(Role.OWNER, Role.TECHNICIAN));
        Browser bay = enrolled();
        assertThat(bay.get("/specimen/bay").path()).isEqualTo("/bay/change?to=/specimen/bay");
        assertThat(bay.get("/bay/change").body())
                .contains(both.name())
                .contains(technician.name())
                .doesNotContain(writer.name());
        assertThat(bay.get("/bay/change?person=" + both.id() + "&to=/specimen/bay")
                        .body())
                .contains("PIN of");
        String before = bay.sessionId();
        var in = bay.post("/bay/change", "person", "" + both.id(), "pin", PIN, "to", "/specimen/bay");
        assertThat(in.path()).isEqualTo("/specimen/bay");
        assertThat(bay.sessionId()).isNotEqualTo(before);
        assertThat(bay.get("/specimen/bay").body()).isEqualTo(both.name() + " [TECHNICIAN] bay");
        assertThat(bay.get("/set-up/people").status()).isEqualTo(404);

        bay.get("/bay/technician?person=" + technician.id());
        bay.post("/bay/change", "person", "" + technician.id(), "pin", PIN);
        assertThat(bay.get("/specimen/bay").body()).startsWith(technician.name());
    }

    @Test
    void aWrongPinIsRefusedAndGuessingStops() {
        Browser bay = enrolled();
        String last = "";
        for (int i = 0; i < 7; i++) {
            bay.get("/bay/change?person=" + technician.id());
            last = bay.get(bay.post("/bay/change", "person", "" + technician.id(), "pin", "9" + i + "31")
                            .path())
                    .body();
            if (i == 0) {
                assertThat(last).contains("This is not the right PIN");
            }
        }
        assertThat(last).contains("Too many tries here");
        Person other = hire("other", Set.of(Role.TECHNICIAN));
        bay.get("/bay/change");
        assertThat(bay.post("/bay/change", "person", "" + other.id(), "pin", PIN)
                        .path())
                .isEqualTo("/bay");
    }

    @Test
    void aPinOpensNothingAtABrowserThatIsNotATerminal() {
        Browser browser = new Browser(mvc);
        browser.get("/sign-in");
        var answer = browser.post("/bay/change", "person", "" + technician.id(), "pin", PIN);
        assertThat(browser.get(answer.path()).path()).startsWith("/sign-in");
        assertThat(browser.get("/me").path()).startsWith("/sign-in");
    }

    @Test
    void aRetiredTerminalEndsItsSessionsAndTakesNoPin() {
        Browser bay = enrolled();
        bay.get("/bay/change?person=" + technician.id());
        bay.post("/bay/change", "person", "" + technician.id(), "pin", PIN);
        assertThat(bay.get("/specimen/bay").status()).isEqualTo(200);
        people.as(owner, () -> {
            terminals.all().stream()
                    .filter(t -> t.name().equals("Bay " + names))
                    .forEach(t -> terminals.retire(t.id()));
            return null;
        });
        assertThat(bay.get("/specimen/bay").path()).startsWith("/sign-in");
    }

    @Test
    void onlyTheHashOfATerminalsTokenIsKept() {
        Browser bay = enrolled();
        String token = bay.cookies().get("idlewright-terminal").getValue();
        assertThat(bay.cookies().get("idlewright-terminal").isHttpOnly()).isTrue();
        assertThat(jdbc.sql("select count(*) from terminal where token_hash = sha256(convert_to(?, 'UTF8'))")
                        .param(token)
                        .query(Integer.class)
                        .single())
                .isEqualTo(1);
    }

    // programs

    @Test
    void aProgramWithAKeyActsInTheNameOfItsMaker() {
        String key = people.as(owner, () -> keys.make("books " + names));
        var page = new Browser(mvc).get("/api/specimen", "Authorization", "Bearer " + key);
        assertThat(page.status()).isEqualTo(200);
        assertThat(page.body()).contains(owner.name()).contains("books");
        assertThat(page.response().getCookies()).isEmpty();
        assertThat(jdbc.sql(
                                "select count(*) from api_key where key_hash = sha256(convert_to(?, 'UTF8')) and used_at is not null")
                        .param(key)
                        .query(Integer.class)
                        .single())
                .isEqualTo(1);
    }

    @Test
    void aProgramWithoutARightKeyIsToldWhatToSend() {
        var none = new Browser(mvc).get("/api/specimen");
        assertThat(none.status()).isEqualTo(401);
        assertThat(none.response().getHeader("WWW-Authenticate")).isEqualTo("Bearer realm=\"idlewright\"");
        assertThat(none.response().getContentType()).startsWith("application/problem+json");
        assertThat(none.body()).contains("\"status\":401");

        String key = people.as(owner, () -> keys.make("gone " + names));
        people.as(owner, () -> {
            keys.all().stream().filter(k -> k.name().equals("gone " + names)).forEach(k -> keys.retire(k.id()));
            return null;
        });
        var retired = new Browser(mvc).get("/api/specimen", "Authorization", "Bearer " + key);
        assertThat(retired.status()).isEqualTo(401);
        assertThat(retired.response().getHeader("WWW-Authenticate")).contains("invalid_token");
    }

    @Test
    void aSessionOpensNoProgramsDoorAndAKeyNoPage() {
        assertThat(signedIn("owner").get("/api/specimen").status()).isEqualTo(401);
        String key = people.as(owner, () -> keys.make("pages " + names));
        assertThat(new Browser(mvc)
                        .get("/set-up/people", "Authorization", "Bearer " + key)
                        .path())
                .startsWith("/sign-in");
        assertThat(new Browser(mvc)
                        .get("/api/nothing", "Authorization", "Bearer " + key)
                        .body())
                .contains("\"status\":404");
    }

    @Test
    void aRefusalIsAProblemInTheApi() {
        String key = people.as(owner, () -> keys.make("refused " + names));
        var page = new Browser(mvc).get("/api/specimen/refused", "Authorization", "Bearer " + key);
        assertThat(page.status()).isEqualTo(422);
        assertThat(page.response().getContentType()).startsWith("application/problem+json");
        assertThat(page.body()).contains("rpm").contains("Give the speed.");
    }

    // forms

    @Test
    void aFormOfAnotherSiteIsRefusedAndNotHeld() {
        Browser browser = signedIn("writer");
        var page = browser.send(
                HttpMethod.POST,
                "/specimen",
                new String[] {"Origin", "https://elsewhere.example", "Sec-Fetch-Site", "cross-site"},
                new String[] {"word", "sneaked in"});
        assertThat(page.status()).isEqualTo(403);
        assertThat(browser.get("/held").path()).isEqualTo("/counter");
    }

    @Test
    void whatWasTypedBeforeTheSessionEndedWaitsForItsPerson() {
        Browser browser = signedIn("writer");
        browser.get("/specimen");
        browser.sessionExpires();
        String key = "0b1f9b6e-2f6c-4a53-9b52-8a7f0e0c1d" + (10 + NUMBER.incrementAndGet() % 90);
        var late = browser.post(
                "/specimen", "word", "hesitates <b>at</b> tip-in", "password", "secret", "submission", key);
        assertThat(late.path()).isEqualTo("/sign-in?to=/held");

        assertThat(browser.signIn(names + "writer", PASSWORD).path()).isEqualTo("/held");
        var held = browser.get("/held").body();
        assertThat(held)
                .contains("You were signed out before this was kept")
                .contains("hesitates &lt;b&gt;at&lt;/b&gt; tip-in")
                .contains("action=\"/specimen\"")
                .contains(key)
                .doesNotContain("secret");
        assertThat(browser.post("/specimen", "word", "hesitates <b>at</b> tip-in", "submission", key)
                        .path())
                .isEqualTo("/specimen?word=kept");
        assertThat(browser.get("/held").path()).isEqualTo("/counter");
    }

    @Test
    void whatOneTypedIsNotShownToTheNext() {
        Browser browser = signedIn("writer");
        browser.get("/specimen");
        browser.sessionExpires();
        browser.post("/specimen", "word", "for my eyes only");
        assertThat(browser.signIn(names + "owner", PASSWORD).path()).isEqualTo("/counter");
        assertThat(browser.get("/held").body())
                .doesNotContain("for my eyes only")
                .contains(writer.name());
    }

    @Test
    void aStaleTokenInALiveSessionShowsWhatWasTypedAtOnce() {
        Browser browser = signedIn("writer");
        browser.get("/specimen");
        browser.staleToken();
        assertThat(browser.post("/specimen", "word", "stalls when hot").path()).isEqualTo("/held");
        assertThat(browser.get("/held").body()).contains("stalls when hot");
        assertThat(browser.post("/held/throwing-away").path()).isEqualTo("/counter");
        assertThat(browser.get("/held").path()).isEqualTo("/counter");
    }

    @Test
    void neitherAStrangersFormNorAHugeOneIsHeld() {
        Browser stranger = new Browser(mvc);
        assertThat(stranger.post("/specimen", "word", "anything").path()).isEqualTo("/sign-in");
        Browser browser = signedIn("writer");
        browser.get("/specimen");
        browser.staleToken();
        browser.post("/specimen", "word", "x".repeat(HeldPosts.MOST + 1));
        assertThat(browser.get("/held").path()).isEqualTo("/counter");
    }

    @Test
    void aSignInPageThatLayOpenTooLongAsksOnceMore() {
        Browser browser = new Browser(mvc);
        browser.get("/sign-in");
        browser.sessionExpires();
        var answer = browser.post("/sign-in", "name", names + "writer", "password", PASSWORD);
        assertThat(browser.get(answer.path()).body())
                .contains("open for too long")
                .contains("value=\"" + names + "writer\"");
        assertThat(browser.post("/sign-in", "name", names + "writer", "password", PASSWORD)
                        .path())
                .isEqualTo("/counter");
    }

    @Test
    void aFragmentAskedForAfterTheSessionEndedSendsTheWholePageToTheDoor() {
        var answer = new Browser(mvc).get("/specimen", "HX-Request", "true");
        assertThat(answer.status()).isEqualTo(204);
        assertThat(answer.response().getHeader("HX-Redirect")).isEqualTo("/sign-in");
    }

    // headers

    @Test
    void everyAnswerCarriesTheHeadersThatKeepABrowserSafe() {
        String key = people.as(owner, () -> keys.make("headers " + names));
        Stream.of(
                        new Browser(mvc).get("/sign-in"),
                        new Browser(mvc).get("/no/such/page"),
                        signedIn("owner").get("/set-up"),
                        new Browser(mvc).get("/css/tokens.css"),
                        new Browser(mvc).get("/api/specimen", "Authorization", "Bearer " + key))
                .forEach(page -> {
                    var response = page.response();
                    assertThat(response.getHeader("Content-Security-Policy"))
                            .contains(
                                    "default-src 'self'",
                                    "frame-ancestors 'none'",
                                    "base-uri 'none'",
                                    "form-action 'self'")
                            .doesNotContain("unsafe");
                    assertThat(response.getHeader("X-Content-Type-Options")).isEqualTo("nosniff");
                    assertThat(response.getHeader("Referrer-Policy")).isEqualTo("same-origin");
                    assertThat(response.getHeader("Permissions-Policy")).contains("camera=()");
                    assertThat(response.getHeader("Cross-Origin-Opener-Policy")).isEqualTo("same-origin");
                    assertThat(response.getHeader("X-Frame-Options")).isEqualTo("DENY");
                });
    }

    private Person hire(String what, Set<Role> roles) {
        return people.hire(
                what + " of " + names, names + what, PASSWORD, roles.contains(Role.TECHNICIAN) ? PIN : null, roles);
    }

    private Browser signedIn(String what) {
        Browser browser = new Browser(mvc);
        assertThat(browser.signIn(names + what, PASSWORD).status()).isEqualTo(302);
        return browser;
    }

    private Browser enrolled() {
        Browser browser = signedIn("owner");
        browser.get("/set-up/terminals");
        assertThat(browser.post("/set-up/terminals", "name", "Bay " + names).path())
                .isEqualTo("/set-up/terminals");
        browser.get("/set-up/terminals");
        browser.post("/sign-out");
        return browser;
    }

    @Controller
    static class SpecimenScreen {

        private final People people;

        SpecimenScreen(People people) {
            this.people = people;
        }

        @GetMapping("/specimen/unsigned")
        @ResponseBody
        String unsigned() {
            return "nobody reads this";
        }

        @For({Role.WRITER, Role.OWNER})
        @GetMapping("/specimen")
        @ResponseBody
        String page() {
            return "specimen";
        }

        @For({Role.WRITER, Role.OWNER})
        @PostMapping("/specimen")
        String keep(@RequestParam String word, Model model) {
            return "redirect:/specimen?word=kept";
        }

        @For(Role.TECHNICIAN)
        @GetMapping("/specimen/bay")
        @ResponseBody
        String bay() {
            var badge = people.badge().orElseThrow();
            return badge.person().name() + " " + badge.person().roles() + (badge.bay() ? " bay" : "");
        }
    }

    @RestController
    static class SpecimenApi {

        private final People people;

        SpecimenApi(People people) {
            this.people = people;
        }

        @ByKey
        @GetMapping("/api/specimen")
        Map<String, String> specimen() {
            return Map.of("as", people.me().name());
        }

        @ByKey
        @GetMapping("/api/specimen/refused")
        Map<String, String> refused() {
            throw idlewright.frame.Refused.at("rpm", "Give the speed.");
        }

        @Public
        @GetMapping("/api/specimen/open")
        String open() {
            return "open";
        }
    }
}
