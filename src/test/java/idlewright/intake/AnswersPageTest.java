package idlewright.intake;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.ground.WithDatabase;
import idlewright.people.Browser;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import java.math.BigDecimal;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

@SpringBootTest
@AutoConfigureMockMvc
@WithDatabase
@DisplayName("The questions of a second symptom")
class AnswersPageTest {

    private static final String PASSWORD = "a quiet copper kettle";

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private People people;

    @Autowired
    private Customers customers;

    @Autowired
    private Vehicles vehicles;

    @Autowired
    private Tickets tickets;

    private TicketNumber number;
    private Browser browser;

    @BeforeEach
    void twoSymptomsAreHeard() {
        String signIn = "wren-" + UUID.randomUUID().toString().substring(0, 8);
        Person wren = people.hire("Wren", signIn, PASSWORD, null, Set.of(Role.WRITER, Role.OWNER));
        number = people.as(wren, () -> {
            long baker = customers
                    .add(new Customers.Telling("Grand Row Bakery", "555 0142", null, null, "PHONE", null))
                    .id();
            long van = vehicles.add(
                            baker,
                            new Vehicles.Telling(
                                    null,
                                    "AP " + signIn.substring(5).toUpperCase(java.util.Locale.ROOT),
                                    "Brightwater",
                                    "Finch",
                                    2019,
                                    "BW-" + signIn,
                                    new BigDecimal("2.2"),
                                    4,
                                    "PETROL",
                                    "NATURAL",
                                    "HOT_FILM",
                                    "MANUAL",
                                    "km"))
                    .id();
            TicketNumber opened =
                    tickets.open(new Tickets.Opening(van, new BigDecimal("86940"), null, null, "SHOW", "YES"));
            tickets.answer(
                    tickets.hear(opened, "hesitation", "It hesitates."),
                    Map.of("since", "two weeks", "engine", "cold", "often", "every day", "phase", "tip-in"));
            tickets.hear(opened, "rough-idle", "It shakes.");
            return opened;
        });
        browser = new Browser(mvc);
        browser.signIn(signIn, PASSWORD);
    }

    @Test
    void offerWhatIsTheSameFactAndFillItInWhenAsked() {
        String page = number.url() + "/symptoms/2/answers";
        assertThat(browser.get(page).body())
                .contains("Said already of the other symptom", "<b>two weeks</b>", "<b>cold</b>", "(Hesitates)")
                // How often and in which phase differ from symptom to symptom.
                .doesNotContain("<b>every day</b>", "<b>tip-in</b>", "value=\"two weeks\"");
        assertThat(tickets.get(number).symptom(2).answers()).isEmpty();

        String filled = browser.get(page + "?same=true").body();
        assertThat(filled)
                .contains("Filled in below as for the other symptom", "value=\"two weeks\"")
                .containsPattern("name=\"q-engine\" value=\"cold\"[^>]*checked")
                .doesNotContainPattern("name=\"q-often\"[^>]*checked");
        assertThat(tickets.get(number).symptom(2).answers())
                .as("nothing is kept unseen")
                .isEmpty();

        browser.post(page, "q-since", "two weeks", "q-engine", "both");
        assertThat(tickets.get(number).symptom(2).answers())
                .extracting(TicketView.Answer::answer)
                .containsExactlyInAnyOrder("two weeks", "both");
    }

    @Test
    void keepWhatIsAnsweredHereAlready() {
        String page = number.url() + "/symptoms/2/answers";
        browser.get(page);
        browser.post(page, "q-since", "yesterday");
        assertThat(browser.get(page + "?same=true").body())
                .contains("value=\"yesterday\"")
                .doesNotContain("value=\"two weeks\"");
    }
}
