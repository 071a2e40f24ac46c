package idlewright.proof;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

import idlewright.billing.Authorisations;
import idlewright.billing.Charges;
import idlewright.billing.Estimates;
import idlewright.billing.Invoices;
import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.ground.WithDatabase;
import idlewright.intake.Customers;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.intake.rules.ThreadStamp;
import idlewright.people.Badge;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.people.Shop;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import idlewright.repair.Visit;
import java.math.BigDecimal;
import java.time.Clock;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.function.Supplier;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

/** Which acts write a letter; that letters arrive is in LettersTest. */
@SpringBootTest(properties = {"spring.mail.host=127.0.0.1", "idlewright.letters.every=1h"})
@AutoConfigureMockMvc
@WithDatabase
@DisplayName("A letter is written")
class MailedTest {

    @Autowired
    private MockMvcTester browser;

    @Autowired
    private Tickets tickets;

    @Autowired
    private Customers customers;

    @Autowired
    private Vehicles vehicles;

    @Autowired
    private Estimates estimates;

    @Autowired
    private Authorisations authorisations;

    @Autowired
    private Charges charges;

    @Autowired
    private Invoices invoices;

    @Autowired
    private Shops shops;

    @Autowired
    private People people;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private Clock clock;

    private Person odile;

    @BeforeEach
    void shopWrites() {
        String unique = UUID.randomUUID().toString().substring(0, 8);
        odile = people.hire(
                "Odile " + unique, "odile-" + unique, "a quiet copper kettle", null, Set.of(Role.WRITER, Role.OWNER));
        Shop shop = shops.shop();
        shops.set(
                new Shop(
                        "Finch Lane Motors",
                        "",
                        "555 0100",
                        "desk@finchlane.example",
                        "",
                        shop.currency(),
                        shop.zone(),
                        shop.metric(),
                        shop.locale()),
                shops.sheet());
    }

    @Test
    void withTheLinkOfAnEstimateToWhoAgreedToEmailAndToNobodyElse() {
        TicketNumber byEmail = visit("EMAIL");
        TicketNumber byPhone = visit("PHONE");
        for (TicketNumber number : List.of(byEmail, byPhone)) {
            long estimate = as(() -> {
                tickets.stamp(new SymptomRef(number, 1), ThreadStamp.TRACED, "the sensor reads low");
                return estimates.write(number, List.of(line("Sensor")), null).id();
            });
            post("/estimates/" + estimate + "/link");
        }
        assertThat(letters(byPhone)).isEmpty();
        assertThat(letters(byEmail)).singleElement().satisfies(letter -> {
            assertThat(letter).containsEntry("what", "estimate 1").containsEntry("recipient", "ines@bakery.example");
            assertThat(letter.get("subject").toString())
                    .isEqualTo("Finch Lane Motors: our estimate for your Brightwater Finch");
            assertThat(letter.get("body").toString()).containsPattern("http://localhost/offers/[A-Za-z0-9_-]{22}\n");
        });
    }

    @Test
    void withThePaperOfAnInvoiceAndWithTheLinkOfAFollowUp() {
        TicketNumber number = visit("EMAIL");
        String invoice = as(() -> {
            charges.add(number, line("Sensor"), null);
            tickets.stamp(new SymptomRef(number, 1), ThreadStamp.UNTRACED, "three road tests without it");
            return invoices.issue(number).number();
        });
        post("/invoices/" + invoice + "/letter");
        as(() -> {
            tickets.handBack(number, new BigDecimal("86950"), null, 7);
            return null;
        });
        post("/follow-ups/" + number.value() + "/link");
        assertThat(letters(number))
                .extracting(letter -> letter.get("what"))
                .containsExactly("invoice " + invoice, "follow-up");
        assertThat(letters(number).get(0)).containsEntry("enclosure_name", invoice + ".pdf");
        assertThat((byte[]) letters(number).get(0).get("enclosure")).isEqualTo(as(() -> invoices.pdf(invoice)));
        assertThat(letters(number).get(1).get("body").toString()).contains("http://localhost/answers/");
    }

    private TicketNumber visit(String contactBy) {
        return as(() -> {
            var bakery = customers.add(new Customers.Telling(
                    "Grand Row Bakery", "555 0142", "ines@bakery.example", "4 Grand Row", contactBy, null));
            var van = vehicles.add(bakery.id(), Visit.VAN);
            TicketNumber number =
                    tickets.open(new Tickets.Opening(van.id(), new BigDecimal("86940"), null, null, "SHOW", "YES"));
            tickets.hear(number, "hesitation", "It hesitates.");
            authorisations.agree(
                    number, Agreement.DIAGNOSIS, money("95.00"), "go ahead", Channel.PHONE, "Ines Okafor", null);
            return number;
        });
    }

    private List<Map<String, Object>> letters(TicketNumber number) {
        return jdbc.sql("select * from letter where ticket_number = ? order by id")
                .param(number.value())
                .query()
                .listOfRows();
    }

    private void post(String uri) {
        int generation = jdbc.sql("select generation from person where id = ?")
                .param(odile.id())
                .query(Integer.class)
                .single();
        assertThat(browser.post()
                        .uri(uri)
                        .param("submission", UUID.randomUUID().toString())
                        .with(authentication(new Badge(odile, generation, clock.instant(), null).authentication()))
                        .with(csrf())
                        .exchange())
                .hasStatus(302);
    }

    private static Line line(String what) {
        return new Line(1, LineKind.PART, what, BigDecimal.ONE, money("50.00"), null);
    }

    private static Money money(String amount) {
        return Money.of(amount, "USD");
    }

    private <T> T as(Supplier<T> work) {
        return people.as(odile, work);
    }
}
