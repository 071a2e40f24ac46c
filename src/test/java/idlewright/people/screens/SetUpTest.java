package idlewright.people.screens;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.ground.WithDatabase;
import idlewright.people.Browser;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.people.Shops;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.regex.Pattern;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

@SpringBootTest
@AutoConfigureMockMvc
@WithDatabase
class SetUpTest {

    private static final AtomicInteger NUMBER = new AtomicInteger();
    private static final String PASSWORD = "three loose hose clamps";

    @Autowired
    MockMvcTester mvc;

    @Autowired
    People people;

    @Autowired
    Shops shops;

    @Autowired
    JdbcClient jdbc;

    String names;
    Person owner;
    Browser browser;

    @BeforeEach
    void anOwnerSignsIn() {
        names = "s" + ProcessHandle.current().pid() + "-" + NUMBER.incrementAndGet() + "-";
        owner = people.hire("Odell " + names, names + "owner", PASSWORD, null, Set.of(Role.OWNER));
        browser = new Browser(mvc);
        browser.signIn(names + "owner", PASSWORD);
    }

    @Test
    void theIndexListsWhatEachRoomOffers() {
        assertThat(browser.get("/set-up").body())
                .contains("/set-up/shop", "/set-up/people", "/set-up/terminals", "/set-up/api-keys");
    }

    @Test
    void aNewPersonIsOnTheListAndCanSignIn() {
        browser.get("/set-up/people/new");
        var done = browser.post(
                "/set-up/people",
                "name",
                "Wren " + names,
                "signIn",
                names + "Wren",
                "password",
                PASSWORD,
                "roles",
                "WRITER",
                "roles",
                "TECHNICIAN",
                "pin",
                "4071");
        assertThat(done.path()).isEqualTo("/set-up/people");
        assertThat(browser.get("/set-up/people").body())
                .contains("Wren " + names + " works here now.")
                .contains(names + "wren")
                .contains("service writer, technician")
                .contains("password, PIN");
        assertThat(new Browser(mvc).signIn(names + "wren", PASSWORD).path()).isEqualTo("/counter");
    }

    @Test
    void aFormWithMistakesSaysWhatToDoAndKeepsWhatWasTypedButNoSecrets() {
        browser.get("/set-up/people/new");
        var page = browser.post(
                "/set-up/people",
                "name",
                "Wren",
                "signIn",
                names + "owner",
                "password",
                "password123",
                "pin",
                "1111",
                "roles",
                "TECHNICIAN");
        assertThat(page.status()).isEqualTo(422);
        assertThat(page.body())
                .contains("Somebody has this sign-in name already.")
                .contains("one of the first passwords anybody tries")
                .contains("This PIN is guessed at once.")
                .contains("value=\"" + names + "owner\"")
                .contains("aria-invalid=\"true\"")
                .doesNotContain("password123")
                .doesNotContain("1111");
        assertThat(browser.post("/set-up/people").body())
                .contains("Give a name", "Say what this person does here.", "Give a password");
    }

    @Test
    void ofTwoChangesFromTheSameFormTheSecondSeesBoth() {
        Person wren = people.hire("Wren " + names, names + "wren", PASSWORD, null, Set.of(Role.WRITER));
        String path = "/set-up/people/" + wren.id();
        String version = version(browser.get(path).body());
        assertThat(browser.post(
                                path,
                                "version",
                                version,
                                "name",
                                "Wren One " + names,
                                "signIn",
                                names + "wren",
                                "roles",
                                "WRITER")
                        .path())
                .isEqualTo(path);
        var second = browser.post(
                path, "version", version, "name", "Wren Two " + names, "signIn", names + "wren", "roles", "WRITER");
        assertThat(second.status()).isEqualTo(409);
        assertThat(people.get(wren.id()).name()).isEqualTo("Wren One " + names);
    }

    @Test
    void aChangeOfRoleEndsTheOpenSession() {
        Person wren = people.hire("Wren " + names, names + "wren", PASSWORD, null, Set.of(Role.OWNER));
        Browser hers = new Browser(mvc);
        hers.signIn(names + "wren", PASSWORD);
        assertThat(hers.get("/set-up/people").status()).isEqualTo(200);
        String path = "/set-up/people/" + wren.id();
        String version = version(browser.get(path).body());
        browser.post(path, "version", version, "name", "Wren " + names, "signIn", names + "wren", "roles", "WRITER");
        assertThat(hers.get("/set-up/people").path()).startsWith("/sign-in");
        hers.signIn(names + "wren", PASSWORD);
        assertThat(hers.get("/set-up/people").status()).isEqualTo(404);
    }

    @Test
    void theOwnerGivesANewPasswordAndANewPin() {
        Person tamsin = people.hire("Tamsin " + names, names + "tamsin", PASSWORD, "2580", Set.of(Role.TECHNICIAN));
        String path = "/set-up/people/" + tamsin.id();
        browser.get(path);
        assertThat(browser.post(path + "/password", "password", "tamsin 1").status())
                .isEqualTo(422);
        browser.get(path);
        browser.post(path + "/password", "password", "a plum ladder in the rain");
        assertThat(new Browser(mvc).signIn(names + "tamsin", PASSWORD).path()).isEqualTo("/sign-in");
        assertThat(new Browser(mvc)
                        .signIn(names + "tamsin", "a plum ladder in the rain")
                        .path())
                .isEqualTo("/bay");
        browser.get(path);
        assertThat(browser.post(path + "/pin", "pin", "4071").path()).isEqualTo(path);
    }

    @Test
    void somebodyWhoLeftCannotSignInAndIsStillNamed() {
        Person wren = people.hire("Wren " + names, names + "wren", PASSWORD, null, Set.of(Role.WRITER));
        browser.get("/set-up/people/" + wren.id());
        browser.post("/set-up/people/" + wren.id() + "/retirement");
        Browser hers = new Browser(mvc);
        assertThat(hers.get(hers.signIn(names + "wren", PASSWORD).path()).body())
                .contains("do not belong together");
        assertThat(browser.get("/set-up/people").body())
                .contains("Wren " + names)
                .contains("until ");
        assertThat(people.get(wren.id()).name()).isEqualTo("Wren " + names);
        assertThat(people.all()).noneMatch(person -> person.id() == wren.id());
    }

    @Test
    void iChangeMyOwnPasswordAndGoOnWhileMyOtherSessionsEnd() {
        Browser elsewhere = new Browser(mvc);
        elsewhere.signIn(names + "owner", PASSWORD);
        browser.get("/me");
        var wrong =
                browser.post("/me/password", "passwordNow", "not this one", "password", "a plum ladder in the rain");
        assertThat(wrong.status()).isEqualTo(422);
        assertThat(wrong.body()).contains("This is not your password of now.");
        assertThat(browser.post("/me/password", "passwordNow", PASSWORD, "password", "a plum ladder in the rain")
                        .path())
                .isEqualTo("/me");
        assertThat(browser.get("/me").body()).contains("Your new password holds from now on.");
        assertThat(elsewhere.get("/me").path()).startsWith("/sign-in");
    }

    @Test
    void aKeyIsShownOnce() {
        browser.get("/set-up/api-keys");
        assertThat(browser.post("/set-up/api-keys", "name", "books " + names).path())
                .isEqualTo("/set-up/api-keys");
        var shown = Pattern.compile("iw_[A-Za-z0-9_-]{43}")
                .matcher(browser.get("/set-up/api-keys").body());
        assertThat(shown.find()).isTrue();
        assertThat(browser.get("/set-up/api-keys").body())
                .contains("books " + names)
                .contains(shown.group().substring(42))
                .doesNotContain(shown.group());
    }

    @Test
    void theShopsCardIsKeptAndShownEverywhere() {
        String version = version(browser.get("/set-up/shop").body());
        var bad = browser.post(
                "/set-up/shop",
                "version",
                version,
                "name",
                "Millrace Motors",
                "email",
                "nonsense",
                "currency",
                "EUR",
                "zone",
                "Europe/Dublin",
                "units",
                "metric",
                "language",
                "en-IE",
                "sheet",
                "A4");
        assertThat(bad.status()).isEqualTo(422);
        assertThat(bad.body()).contains("value=\"Millrace Motors\"").contains("e-mail address like");
        var done = browser.post(
                "/set-up/shop",
                "version",
                version,
                "name",
                "Millrace Motors",
                "currency",
                "EUR",
                "zone",
                "Europe/Dublin",
                "units",
                "metric",
                "language",
                "en-IE",
                "sheet",
                "A4");
        assertThat(done.path()).isEqualTo("/set-up/shop");
        assertThat(shops.shop().name()).isEqualTo("Millrace Motors");
        assertThat(shops.shop().zone().getId()).isEqualTo("Europe/Dublin");
        assertThat(jdbc.sql("select currency from shop").query(String.class).single())
                .isEqualTo("EUR");
        assertThat(browser.post(
                                "/set-up/shop",
                                "version",
                                version,
                                "name",
                                "Other",
                                "currency",
                                "EUR",
                                "zone",
                                "Europe/Dublin",
                                "units",
                                "metric",
                                "language",
                                "en-IE",
                                "sheet",
                                "A4")
                        .status())
                .isEqualTo(409);
    }

    @Test
    void aFormSentTwiceHiresOnce() {
        browser.get("/set-up/people/new");
        String key = UUID.randomUUID().toString();
        for (int i = 0; i < 2; i++) {
            assertThat(browser.post(
                                    "/set-up/people",
                                    "name",
                                    "Wren " + names,
                                    "signIn",
                                    names + "twice",
                                    "password",
                                    PASSWORD,
                                    "roles",
                                    "WRITER",
                                    "submission",
                                    key)
                            .path())
                    .isEqualTo("/set-up/people");
        }
        assertThat(jdbc.sql("select count(*) from person where sign_in = ?")
                        .param(names + "twice")
                        .query(Integer.class)
                        .single())
                .isEqualTo(1);
    }

    private static String version(String body) {
        var found = Pattern.compile("name=\"version\" value=\"(-?[0-9]+)\"").matcher(body);
        assertThat(found.find()).isTrue();
        return found.group(1);
    }
}
