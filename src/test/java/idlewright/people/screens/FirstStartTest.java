package idlewright.people.screens;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.ground.WithOwnDatabase;
import idlewright.people.Browser;
import idlewright.people.People;
import idlewright.people.Role;
import idlewright.people.Secrets;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.test.annotation.DirtiesContext;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

@SpringBootTest
@AutoConfigureMockMvc
@WithOwnDatabase
@DirtiesContext
class FirstStartTest {

    @Autowired
    MockMvcTester mvc;

    @Autowired
    People people;

    @Autowired
    Secrets secrets;

    @Test
    void theFirstOwnerIsMadeByWhoReadsTheLogAndThenThePageIsGone() {
        Browser browser = new Browser(mvc);
        assertThat(browser.get("/sign-in").path()).isEqualTo("/first-start");
        assertThat(browser.get("/counter").path()).isEqualTo("/first-start");
        assertThat(browser.get("/css/tokens.css").status()).isEqualTo(200);
        assertThat(browser.get("/first-start").body())
                .contains("printed in its log")
                .doesNotContain("<form method=\"post\"");
        assertThat(browser.get("/first-start?token=guessed").body()).doesNotContain("<form method=\"post\"");

        String token = secrets.seal("first start", "owner");
        assertThat(browser.get("/first-start?token=" + token).body())
                .contains("The owner")
                .contains("name=\"_csrf\"");
        assertThat(begin(browser, "guessed", "a plum ladder in the rain").status())
                .isEqualTo(422);
        assertThat(people.all()).isEmpty();

        var weak = begin(browser, token, "password123");
        assertThat(weak.status()).isEqualTo(422);
        assertThat(weak.body()).contains("value=\"Millrace Motors\"").contains("anybody tries");
        assertThat(people.all()).isEmpty();

        assertThat(begin(browser, token, "a plum ladder in the rain").path()).isEqualTo("/sign-in");
        assertThat(people.all()).singleElement().satisfies(owner -> {
            assertThat(owner.name()).isEqualTo("Odell Marsh");
            assertThat(owner.is(Role.OWNER)).isTrue();
        });
        assertThat(browser.get("/first-start?token=" + token).status()).isEqualTo(404);
        assertThat(begin(browser, token, "another ladder in the rain").status()).isEqualTo(404);
        assertThat(browser.signIn("odell", "a plum ladder in the rain").path()).isEqualTo("/counter");

        String path = "/set-up/people/" + people.all().get(0).id();
        browser.get(path);
        assertThat(browser.post(path + "/retirement").body()).contains("The shop needs an owner.");
        assertThat(people.all()).hasSize(1);
    }

    private static Browser.Page begin(Browser browser, String token, String password) {
        return browser.post(
                "/first-start",
                "token",
                token,
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
                "A4",
                "owner",
                "Odell Marsh",
                "signIn",
                "odell",
                "password",
                password);
    }
}
