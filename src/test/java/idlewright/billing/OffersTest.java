package idlewright.billing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.billing.rules.Prices;
import idlewright.billing.rules.Standing;
import idlewright.frame.MovableClock;
import idlewright.frame.NotFound;
import idlewright.frame.Refused;
import idlewright.ground.WithDatabase;
import idlewright.intake.Customers;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.Whose;
import idlewright.journal.Journal;
import idlewright.journal.rules.Seal;
import idlewright.people.Badge;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.reference.money.Money;
import idlewright.repair.Visit;
import java.math.BigDecimal;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.Executors;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mock.web.MockHttpSession;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.util.StringUtils;

@SpringBootTest
@AutoConfigureMockMvc
@WithDatabase
class OffersTest {

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
    private Offers offers;

    @Autowired
    private Authorisations authorisations;

    @Autowired
    private Rates rates;

    @Autowired
    private Charges charges;

    @Autowired
    private Invoices invoices;

    @Autowired
    private Journal journal;

    @Autowired
    private WorkRates workRates;

    @Autowired
    private People people;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private MovableClock clock;

    private Person wren;
    private TicketNumber number;
    private EstimateView estimate;

    @BeforeEach
    void twoSymptomsAreEstimated() {
        String unique = UUID.randomUUID().toString().substring(0, 8);
        wren = people.hire(
                "Wren " + unique, "wren-" + unique, "a quiet copper kettle", null, Set.of(Role.WRITER, Role.OWNER));
        number = as(() -> {
            var bakery = customers.add(
                    new Customers.Telling("Grand Row Bakery", "555 0142", null, "4 Grand Row", "PHONE", null));
            var van = vehicles.add(bakery.id(), Visit.VAN);
            TicketNumber opened =
                    tickets.open(new Tickets.Opening(van.id(), new BigDecimal("86940"), null, null, "SHOW", "YES"));
            tickets.hear(opened, "hesitation", "It hesitates.");
            tickets.hear(opened, "idle-hunts", "It shakes.");
            authorisations.agree(
                    opened, Agreement.DIAGNOSIS, money("95.00"), "go ahead", Channel.PHONE, "Ines Okafor", null);
            tickets.stamp(new SymptomRef(opened, 1), ThreadStamp.TRACED, "the air-flow sensor reads low");
            tickets.stamp(new SymptomRef(opened, 2), ThreadStamp.TRACED, "an intake hose is split");
            return opened;
        });
        estimate = write(line(1, LineKind.PART, "Air-flow sensor", "190.00"), line(2, LineKind.PART, "Hose", "35.00"));
    }

    @Test
    void showsTheCustomerThePageAndTakesTheAnswerOnce() {
        String secret = link();
        String page = body(browser.get().uri("/offers/" + secret).exchange());
        assertThat(page)
                .contains("It hesitates.", "the air-flow sensor reads low", "Air-flow sensor", "190.00", "225.00")
                .contains("old parts are shown to the customer", "I agree to the work and parts named here")
                .doesNotContain("Grand Row Bakery", "555 0142");

        var empty = answer(secret, Map.of("group-1", "yes", "name", ""));
        // Not the answer to the post but a page of its own: loading it again, or going back, sends nothing.
        assertThat(empty).hasStatus(303).hasRedirectedUrl("/offers/" + secret);
        var session = (MockHttpSession) empty.getRequest().getSession();
        for (int again = 0; again < 2; again++) {
            assertThat(body(browser.get()
                            .uri("/offers/" + secret)
                            .session(session)
                            .exchange()))
                    .contains("Choose yes or no: ", "Enter your name")
                    .containsPattern("value=\"yes\"[^>]*checked");
        }
        assertThat(body(browser.get().uri("/offers/" + secret).exchange()))
                .as("somebody else with the link")
                .doesNotContain("Enter your name", "checked");

        var form = Map.of("group-1", "yes", "group-2", "no", "name", "Ines Okafor");
        assertThat(answer(secret, form)).hasStatus(302);
        assertThat(answer(secret, Map.of("group-1", "no", "group-2", "no", "name", "Somebody Else")))
                .hasStatus(302);
        assertThat(body(browser.get().uri("/offers/" + secret).exchange()))
                .contains(
                        "Agreed: 190.00 USD with tax.",
                        "Of it you agreed to 190.00 USD with tax.",
                        "given by Ines Okafor",
                        "You agreed to this",
                        "You declined this")
                .doesNotContain("Send my answer", "Somebody Else");

        assertThat(staff("/estimates/" + estimate.id())).contains("What was shown and said", "Ines Okafor", "No to: ");
        assertThat(staff("/set-up/consent")).contains("I agree to the work and parts named here");
        var agreements = as(() -> authorisations.of(number));
        assertThat(agreements).hasSize(2).last().satisfies(agreed -> {
            assertThat(agreed.channel()).isEqualTo(Channel.LINK);
            assertThat(agreed.kind()).isEqualTo(Agreement.REPAIR);
            assertThat(agreed.amount()).isEqualTo(money("190.00"));
            assertThat(agreed.byWhom()).isEqualTo("Ines Okafor");
            assertThat(agreed.takenBy()).isEqualTo("the customer");
            assertThat(agreed.words())
                    .startsWith("Yes to: ")
                    .contains(
                            "No to: ",
                            "Air-flow sensor, 1, 190.00",
                            "Hose, 1, 35.00",
                            "Agreed with these words: I agree");
        });
    }

    @Test
    void refusesChargesOfADeclinedGroupUntilItIsAgreedAfterAll() {
        String secret = link();
        offers.answer(secret, Map.of(1, true, 2, false), "Ines Okafor");
        as(() -> {
            var lines = estimates.latest(number).orElseThrow().lines();
            assertThatThrownBy(
                            () -> charges.addFromEstimate(number, lines.get(1).id(), null, null))
                    .hasMessageContaining("The customer declined this");
            assertThatThrownBy(() -> charges.add(number, line(2, LineKind.PART, "Hose", "1.00"), null))
                    .hasMessageContaining("declined");
            assertThat(charges.uncharged(number))
                    .extracting(written -> written.line().what())
                    .containsExactly("Air-flow sensor");
            offers.take(
                    estimate.id(),
                    Agreement.RISE,
                    Set.of(2),
                    money("35.00"),
                    "the hose too, then",
                    Channel.PHONE,
                    "Ines Okafor");
            return charges.addFromEstimate(number, lines.get(1).id(), null, null);
        });
    }

    @Test
    void letsTheBayBeginWithWhatIsWantedAndKeepsInSightWhatIsNot() {
        offers.answer(link(), Map.of(1, true, 2, false), "Ines Okafor");
        assertThat(as(() -> tickets.get(number)).move()).satisfies(move -> {
            assertThat(move.whose()).isEqualTo(Whose.BAY);
            assertThat(move.place()).isEqualTo(1);
            assertThat(move.what()).isEqualTo("Repair it.");
        });
        assertThat(staff("/tickets/" + number)).contains("The customer declined this repair", "End it, not repaired");
        assertThat(StringUtils.countOccurrencesOf(staff("/tickets/" + number), "Agreed, not done yet"))
                .as("of the one that is wanted")
                .isEqualTo(1);
        as(() -> {
            authorisations.agree(
                    number, Agreement.RISE, money("30.00"), "for the clamp too", Channel.PHONE, "Ines Okafor", null);
            return null;
        });
        assertThat(as(() -> tickets.get(number)).symptom(2))
                .as("a rise for something else does not make it wanted")
                .matches(symptom -> as(() -> tickets.get(number)).refused(symptom));
        as(() -> {
            tickets.end(new SymptomRef(number, 2), ThreadStamp.DECLINED, "said no on the page, told it will get worse");
            return null;
        });
        assertThat(as(() -> tickets.get(number)).move().whose()).isEqualTo(Whose.BAY);
    }

    @Test
    void makesItTheCountersMoveWhenAllIsDeclined() {
        String secret = link();
        assertThat(as(() -> tickets.get(number)).move().whose()).isEqualTo(Whose.CUSTOMER);
        offers.answer(secret, Map.of(1, false, 2, false), "Ines Okafor");
        assertThat(as(() -> tickets.get(number)).move().whose()).isEqualTo(Whose.COUNTER);
        assertThat(as(() -> authorisations.of(number))).hasSize(1);
        assertThat(offers.open(secret).state()).isEqualTo(Offers.State.ANSWERED);
        assertThat(staff("/tickets/" + number.value())).contains("The customer declined this repair");
    }

    @Test
    void asksOnANewerEstimateOnlyWhatIsNewAndAgreesToTheDifference() {
        String first = link();
        offers.answer(first, Map.of(1, true, 2, true), "Ines Okafor");
        estimate = write(
                line(1, LineKind.PART, "Air-flow sensor", "190.00"),
                line(2, LineKind.PART, "Hose", "35.00"),
                line(2, LineKind.LABOUR, "Hose renewed", "55.00"));
        assertThat(estimate.groups())
                .extracting(EstimateView.Group::standing)
                .containsExactly(Standing.AGREED_BEFORE, Standing.OPEN);
        assertThat(staff("/estimates/" + estimate.id())).contains("Added: Labour: Hose renewed, 1 h, 55.00");
        String secret = link();
        offers.answer(secret, Map.of(2, true), "Ines Okafor");
        assertThat(as(() -> authorisations.of(number))).last().satisfies(agreed -> {
            assertThat(agreed.kind()).isEqualTo(Agreement.RISE);
            assertThat(agreed.amount()).isEqualTo(money("55.00"));
        });
        assertThat(as(() -> authorisations.agreedForRepair(number))).isEqualTo(money("280.00"));
    }

    @Test
    void lowersWhatMayBeChargedWhereANewerEstimateIsCheaper() {
        offers.answer(link(), Map.of(1, true, 2, true), "Ines Okafor");
        estimate = write(line(1, LineKind.PART, "Air-flow sensor, rebuilt", "120.00"));
        offers.answer(link(), Map.of(1, true), "Ines Okafor");
        assertThat(as(() -> authorisations.of(number))).last().satisfies(agreed -> {
            assertThat(agreed.kind()).isEqualTo(Agreement.INSTEAD);
            assertThat(agreed.amount()).isEqualTo(money("120.00"));
        });
        assertThat(as(() -> authorisations.agreedForRepair(number))).isEqualTo(money("120.00"));
        assertThat(staff("/tickets/" + number))
                .contains("Agreed 120.00 for the repair, instead of what was agreed before");
        as(() -> charges.addFromEstimate(number, estimate.lines().get(0).id(), null, null));
        assertThatThrownBy(() -> as(() -> charges.add(number, line(1, LineKind.PART, "Seal", "95.01"), null)))
                .hasMessageContaining("215.00 is agreed");
    }

    @Test
    void suggestsAtTheCounterTheLowerSumInsteadOfTheOldOne() {
        offers.answer(link(), Map.of(1, true, 2, true), "Ines Okafor");
        write(line(1, LineKind.PART, "Air-flow sensor, rebuilt", "120.00"));
        assertThat(staff("/tickets/" + number + "/authorisations/new"))
                .contains("value=\"120.00\"")
                .containsPattern("value=\"INSTEAD\"[^>]*(checked|selected)");
    }

    @Test
    void suggestsARiseWithoutWhatTheCustomerDeclined() {
        offers.answer(link(), Map.of(1, true, 2, false), "Ines Okafor");
        write(line(1, LineKind.PART, "Air-flow sensor", "250.00"), line(2, LineKind.PART, "Hose", "35.00"));
        // 250.00 less the 190.00 that were agreed; the hose stays declined.
        assertThat(staff("/tickets/" + number + "/authorisations/new"))
                .contains("value=\"60.00\"")
                .containsPattern("value=\"RISE\"[^>]*checked");
    }

    @Test
    void keepsThePaperAsItWasPutToTheCustomer() {
        byte[] before = as(() -> estimates.pdf(estimate.id()));
        as(() -> estimates.offer(estimate.id(), "by phone"));
        byte[] offered = as(() -> estimates.pdf(estimate.id()));
        assertThat(offered).isNotEqualTo(before);
        as(() -> {
            tickets.stamp(new SymptomRef(number, 1), ThreadStamp.TRACED, "another cause after all");
            return null;
        });
        assertThat(as(() -> estimates.pdf(estimate.id()))).isEqualTo(offered);
        assertThat(jdbc.sql("select sha256 from estimate_paper where estimate_id = ?")
                        .param(estimate.id())
                        .query(String.class)
                        .single())
                .isEqualTo(Seal.sha256(offered));
    }

    @Test
    void keepsThePaperOfWhatWasOfferedBeforePapersWereKeptOnceItIsAskedFor() {
        jdbc.sql("update estimate set offered_at = now(), offered_by = 'Wren', offered_how = 'by phone' where id = ?")
                .param(estimate.id())
                .update();
        byte[] asked = as(() -> estimates.pdf(estimate.id()));
        as(() -> {
            tickets.stamp(new SymptomRef(number, 1), ThreadStamp.TRACED, "another cause after all");
            return null;
        });
        assertThat(as(() -> estimates.pdf(estimate.id()))).isEqualTo(asked);
    }

    @Test
    void takesTheHourOfTheKindOfWorkWhereALabourLineHasNoPrice() {
        WorkRates.Card card = as(() -> workRates.card());
        as(() -> {
            workRates.set(
                    List.of(
                            new WorkRates.Kind("Mechanical", null),
                            new WorkRates.Kind("Electrical", new BigDecimal("131.50"))),
                    card.rounding(),
                    card.costRate(),
                    card.version());
            return null;
        });
        assertThat(staff("/tickets/" + number + "/estimates/new"))
                .contains(">Labour: Electrical, 131.50<", "value=\"LABOUR:Electrical\"");
        var post = browser.post()
                .uri("/tickets/" + number + "/estimates")
                .param("submission", UUID.randomUUID().toString());
        String[][] typed = {
            {"LABOUR:Electrical", "Renew the joint", "2", ""},
            {"LABOUR", "Road test", "1", ""},
            {"LABOUR:Electrical", "Goodwill price", "1", "99"},
        };
        for (int i = 0; i < typed.length; i++) {
            String row = "rows[" + i + "].";
            post.param(row + "place", "1")
                    .param(row + "kind", typed[i][0])
                    .param(row + "what", typed[i][1])
                    .param(row + "quantity", typed[i][2])
                    .param(row + "each", typed[i][3]);
        }
        assertThat(post.with(authentication(badge())).with(csrf()).exchange()).hasStatus3xxRedirection();
        Money hour = as(() -> rates.labourRate());
        assertThat(as(() -> estimates.latest(number)).orElseThrow().lines())
                .extracting(written ->
                        written.line().kind() + " " + written.line().each().text())
                .containsExactly("LABOUR 131.50", "LABOUR " + hour.text(), "LABOUR 99.00");
    }

    @Test
    void givesMoreLinesAndKeepsWhatWasTypedAndSaysWhereANumberIsNone() {
        var more = browser.post()
                .uri("/tickets/" + number + "/estimates")
                .param("submission", UUID.randomUUID().toString())
                .param("more", "more")
                .param("rows[0].kind", "LABOUR")
                .param("rows[0].what", "Renew the joint")
                .param("rows[0].quantity", "1h30")
                .with(authentication(badge()))
                .with(csrf())
                .exchange();
        assertThat(more)
                .hasStatusOk()
                .bodyText()
                .contains("value=\"Renew the joint\"", "value=\"1h30\"", "rows[4].what");
        assertThat(as(() -> estimates.of(number))).as("nothing is kept").hasSize(1);
        var wrong = browser.post()
                .uri("/tickets/" + number + "/estimates")
                .param("submission", UUID.randomUUID().toString())
                .param("rows[0].kind", "LABOUR")
                .param("rows[0].what", "Renew the joint")
                .param("rows[0].quantity", "1h30")
                .with(authentication(badge()))
                .with(csrf())
                .exchange();
        assertThat(wrong)
                .hasStatus(422)
                .bodyText()
                .contains("Line 1: Enter a number, like 3.8.", "id=\"f-rows[0]-quantity-wrong\"");
    }

    @Test
    void letsOneAddressGuessOnlySoOften() {
        var answers = new java.util.ArrayList<Integer>();
        for (int i = 0; i < 40; i++) {
            answers.add(guess("203.0.113.77"));
        }
        assertThat(answers.subList(0, 30)).containsOnly(404);
        assertThat(answers.subList(31, 40)).doesNotContain(404);
        assertThat(guess("203.0.113.78")).as("somebody else").isEqualTo(404);
        String secret = link();
        assertThat(browser.get()
                        .uri("/offers/" + secret)
                        .with(request -> {
                            request.setRemoteAddr("203.0.113.77");
                            return request;
                        })
                        .exchange())
                .as("a right secret from there neither")
                .bodyText()
                .contains("Too many tries from here")
                .doesNotContain("Air-flow sensor");
    }

    private int guess(String address) {
        return browser.get()
                .uri("/offers/" + UUID.randomUUID().toString().replace("-", "").substring(0, 22))
                .with(request -> {
                    request.setRemoteAddr(address);
                    return request;
                })
                .exchange()
                .getResponse()
                .getStatus();
    }

    @Test
    void endsALinkByANewerEstimateAndByTime() {
        String secret = link();
        write(line(1, LineKind.PART, "Air-flow sensor", "170.00"));
        assertThat(body(browser.get().uri("/offers/" + secret).exchange()))
                .contains("no longer open")
                .doesNotContain("190.00");
        assertThatThrownBy(() -> offers.answer(secret, Map.of(1, true, 2, true), "Ines Okafor"))
                .isInstanceOf(Refused.class);
        estimate = as(() -> estimates.latest(number)).orElseThrow();
        String newer = link();
        clock.at(clock.instant().plus(Duration.ofDays(31)), () -> {
            assertThat(browser.get().uri("/offers/" + newer).exchange()).hasStatus(404);
            return null;
        });
        assertThatThrownBy(() -> offers.open("AAAAAAAAAAAAAAAAAAAAAA")).isInstanceOf(NotFound.class);
    }

    @Test
    void keepsOnlyADigestOfTheSecret() {
        String secret = link();
        assertThat(secret).matches("[A-Za-z0-9_-]{22}");
        assertThat(jdbc.sql("select seed from offer_link where estimate_id = ?")
                        .param(estimate.id())
                        .query(String.class)
                        .single())
                .isNotEqualTo(secret);
    }

    @Test
    void agreesOnceWhenTwoAnswersComeTogether() throws Exception {
        String secret = link();
        var pool = Executors.newFixedThreadPool(4);
        try {
            var jobs = List.<Callable<Object>>of(
                    () -> both(secret), () -> both(secret), () -> both(secret), () -> both(secret));
            for (var done : pool.invokeAll(jobs)) {
                done.get();
            }
        } finally {
            pool.shutdown();
        }
        assertThat(as(() -> authorisations.agreedForRepair(number))).isEqualTo(money("225.00"));
    }

    @Test
    void callsEverySumWhatItIsWherePricesHoldTheTax() {
        var before = as(rates::card);
        as(() -> {
            rates.set(card(before, "VAT", new BigDecimal("20"), Prices.WITH_TAX, before.version()));
            return null;
        });
        try {
            twoSymptomsAreEstimated();
            String secret = link();
            // By hand: 190.00 and 35.00 hold 31.67 and 5.83 at 20 %; together they hold 37.50.
            assertThat(body(browser.get().uri("/offers/" + secret).exchange()))
                    .contains("225.00 USD with tax. Please say", "Together, VAT within")
                    .contains("VAT 20 % within, on 187.50", "37.50")
                    .doesNotContain("Before tax", "With VAT");
            assertThat(staff("/estimates/" + estimate.id()))
                    .contains("Together, VAT within", "VAT 20 % within, on 187.50")
                    .doesNotContain("Before tax", "With VAT");
            assertThat(staff("/set-up/work-rates")).contains("costs the customer, with tax.");
            offers.answer(secret, Map.of(1, true, 2, false), "Ines Okafor");
            assertThat(as(() -> offers.answers(estimate.id())).get(0).words()).contains("Together, VAT within: 190.00");
        } finally {
            as(() -> {
                rates.set(card(
                        before,
                        before.taxName(),
                        before.taxParts(),
                        before.prices(),
                        rates.card().version()));
                return null;
            });
        }
    }

    @Test
    void keepsTheSumsThatWereAgreedToWhenTheOwnerChangesHowTheShopPrices() {
        var before = as(rates::card);
        as(() -> {
            rates.set(card(before, "VAT", new BigDecimal("20"), Prices.BEFORE_TAX, before.version()));
            return null;
        });
        try {
            twoSymptomsAreEstimated();
            // By hand: 225.00 of parts and 20 % on them.
            offers.answer(link(), Map.of(1, true, 2, true), "Ines Okafor");
            long first = estimate.lines().get(0).id();
            as(() -> charges.addFromEstimate(number, first, null, null));
            as(() -> {
                rates.set(card(before, "VAT", new BigDecimal("20"), Prices.WITH_TAX, before.version() + 1));
                return null;
            });
            assertThat(as(() -> estimates.get(estimate.id())).total().gross()).isEqualTo(money("270.00"));
            assertThat(as(() -> authorisations.agreedForRepair(number))).isEqualTo(money("270.00"));
            assertThat(as(() -> charges.total(number)).gross()).isEqualTo(money("228.00"));
            assertThat(staff("/estimates/" + estimate.id())).contains("With VAT", "270.00");
            assertThat(staff("/tickets/" + number + "/estimates/new")).contains("Prices before tax");
            // What is charged from now on is priced as the ticket is: the shop's hour holds its tax, the ticket's does
            // not.
            Money hour = as(() -> rates.labourRate());
            assertThat(as(() -> rates.labourRate(number)).isMoreThan(hour)).isFalse();
            as(() -> charges.addFromEstimate(number, estimate.lines().get(1).id(), null, null));
            assertThat(as(() -> charges.total(number)).gross()).isEqualTo(money("270.00"));
            var issued = as(() -> {
                tickets.end(new SymptomRef(number, 1), ThreadStamp.DECLINED, "left");
                tickets.end(new SymptomRef(number, 2), ThreadStamp.DECLINED, "left");
                return invoices.issue(number);
            });
            assertThat(issued.total()).isEqualTo(money("270.00"));
            assertThat(issued.terms().withTax()).isFalse();
            assertThat(jdbc.sql("select prices || ' ' || total from invoice where ticket_number = ?")
                            .param(number.value())
                            .query(String.class)
                            .single())
                    .isEqualTo("BEFORE_TAX 270.000");
            var other = as(() -> tickets.open(new Tickets.Opening(
                    tickets.get(number).vehicle().id(), new BigDecimal("86950"), null, null, "SHOW", "YES")));
            assertThat(as(() -> rates.prices(other))).isEqualTo(Prices.WITH_TAX);
        } finally {
            as(() -> {
                rates.set(card(
                        before,
                        before.taxName(),
                        before.taxParts(),
                        before.prices(),
                        rates.card().version()));
                return null;
            });
        }
    }

    @Test
    void refusesAnEstimateThatWasFilledInBeforeThePricesChanged() {
        var fresh = as(() -> tickets.open(new Tickets.Opening(
                tickets.get(number).vehicle().id(), new BigDecimal("86950"), null, null, "SHOW", "YES")));
        var late = browser.post()
                .uri("/tickets/" + fresh + "/estimates")
                .param("submission", UUID.randomUUID().toString())
                .param("prices", "WITH_TAX")
                .param("rows[0].place", "0")
                .param("rows[0].kind", "PART")
                .param("rows[0].what", "Hose")
                .param("rows[0].quantity", "")
                .param("rows[0].each", "35")
                .with(authentication(badge()))
                .with(csrf())
                .exchange();
        assertThat(late).hasStatus(422);
        assertThat(body(late)).contains("The shop’s prices are before tax now", "value=\"35\"");
    }

    @Test
    void asksTheHoursOfLabourAndTakesAnEmptyQuantityOfAPartAsOne() {
        var post = browser.post()
                .uri("/tickets/" + number + "/estimates")
                .param("submission", UUID.randomUUID().toString())
                .param("rows[0].place", "1")
                .param("rows[0].kind", "LABOUR")
                .param("rows[0].what", "Renew the joint")
                .param("rows[0].quantity", "")
                .param("rows[1].place", "1")
                .param("rows[1].kind", "PART")
                .param("rows[1].what", "Joint")
                .param("rows[1].quantity", "")
                .param("rows[1].each", "12");
        var answer = post.with(authentication(badge())).with(csrf()).exchange();
        assertThat(answer).hasStatus(422);
        assertThat(body(answer)).contains("Line 1: enter the hours.").doesNotContain("Line 2:");
    }

    private static Rates.Card card(Rates.Card like, String tax, BigDecimal onParts, Prices prices, int version) {
        return new Rates.Card(
                like.diagnosisFee(),
                like.labourRate(),
                like.partsMarkup(),
                tax,
                like.taxLabour(),
                onParts,
                like.taxFees(),
                like.taxSublet(),
                prices,
                like.rounding(),
                like.series(),
                like.dueDays(),
                like.foot(),
                version);
    }

    @Test
    void writesNoPersonalWordIntoTheJournal() {
        offers.answer(link(), Map.of(1, true, 2, false), "Ines Okafor");
        as(() -> {
            tickets.end(new SymptomRef(number, 2), ThreadStamp.DECLINED, "Ines Okafor wants it left");
            return null;
        });
        assertThat(as(() -> journal.of(number.value())))
                .isNotEmpty()
                .noneSatisfy(entry -> assertThat(entry.toString()).containsAnyOf("Okafor", "go ahead", "Bakery"));
    }

    @Test
    void showsTheRefusalOfAnOfferAtThePage() {
        var nothing = browser.post()
                .uri("/estimates/" + estimate.id() + "/offer")
                .param("submission", UUID.randomUUID().toString())
                .with(authentication(badge()))
                .with(csrf())
                .exchange();
        assertThat(nothing).hasStatus(422);
        assertThat(body(nothing)).contains("Choose how it is put to the customer.", "Estimate 1");
    }

    @Test
    void takesSomethingOffAtTheCounter() {
        offers.answer(link(), Map.of(1, true, 2, false), "Ines Okafor");
        as(() -> charges.addFromEstimate(
                number, estimates.latest(number).orElseThrow().lines().get(0).id(), null, null));
        assertThat(deduct("DISCOUNT_PARTS", "For the long wait", "0")).hasStatus(422);
        assertThat(deduct("PART", "For the long wait", "5")).hasStatus(422);
        assertThat(deduct("DISCOUNT_PARTS", "For the long wait", "500")).hasStatus(422);
        assertThat(deduct("DISCOUNT_PARTS", "For the long wait", "15")).hasStatus(302);
        assertThat(staff("/tickets/" + number.value() + "/invoice"))
                .contains("Discount on parts: For the long wait", "-15.00", "charged 175.00 with tax");
    }

    private MvcTestResult deduct(String kind, String what, String amount) {
        return browser.post()
                .uri("/tickets/" + number.value() + "/deductions")
                .param("submission", UUID.randomUUID().toString())
                .param("kind", kind)
                .param("what", what)
                .param("amount", amount)
                .with(authentication(badge()))
                .with(csrf())
                .exchange();
    }

    private Object both(String secret) {
        offers.answer(secret, Map.of(1, true, 2, true), "Ines Okafor");
        return secret;
    }

    private EstimateView write(Line... lines) {
        return as(() -> estimates.write(number, List.of(lines), null));
    }

    private String link() {
        return as(() -> offers.link(estimate.id())).path().substring("/offers/".length());
    }

    private MvcTestResult answer(String secret, Map<String, String> form) {
        var post = browser.post()
                .uri("/offers/" + secret)
                .param("submission", UUID.randomUUID().toString())
                .with(csrf());
        form.forEach(post::param);
        return post.exchange();
    }

    private String staff(String uri) {
        var answer = browser.get().uri(uri).with(authentication(badge())).exchange();
        assertThat(answer).hasStatusOk();
        return body(answer);
    }

    private org.springframework.security.core.Authentication badge() {
        int generation = jdbc.sql("select generation from person where id = ?")
                .param(wren.id())
                .query(Integer.class)
                .single();
        return new Badge(wren, generation, clock.instant(), null).authentication();
    }

    private static String body(MvcTestResult answer) {
        try {
            return answer.getResponse().getContentAsString();
        } catch (java.io.UnsupportedEncodingException e) {
            throw new IllegalStateException(e);
        }
    }

    private static Line line(int place, LineKind kind, String what, String each) {
        return new Line(place, kind, what, BigDecimal.ONE, money(each), null);
    }

    private static Money money(String amount) {
        return Money.of(amount, "USD");
    }

    private <T> T as(Callable<T> work) {
        return people.as(wren, () -> {
            try {
                return work.call();
            } catch (RuntimeException e) {
                throw e;
            } catch (Exception e) {
                throw new IllegalStateException(e);
            }
        });
    }
}
