package idlewright.proof;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

import idlewright.bench.Bench;
import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.KeyState;
import idlewright.bench.rules.Motion;
import idlewright.billing.Authorisations;
import idlewright.billing.Invoices;
import idlewright.billing.Rates;
import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.ground.WithDatabase;
import idlewright.intake.SymptomRef;
import idlewright.intake.Tickets;
import idlewright.people.Badge;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.reference.money.Money;
import idlewright.repair.Findings;
import idlewright.repair.Labours;
import idlewright.repair.Visit;
import idlewright.repair.rules.Pay;
import java.math.BigDecimal;
import java.time.Clock;
import java.util.List;
import java.util.UUID;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.context.annotation.Import;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mock.web.MockHttpSession;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

@SpringBootTest
@AutoConfigureMockMvc
@WithDatabase
@Import(Visit.class)
@DisplayName("The pages of the proof")
class ProofPagesTest {

    private static final Conditions KEY_ON =
            new Conditions(KeyState.KEY_ON_ENGINE_OFF, null, null, null, null, Motion.PARKED, null, null);

    @Autowired
    MockMvcTester browser;

    @Autowired
    Visit visit;

    @Autowired
    People people;

    @Autowired
    Authorisations authorisations;

    @Autowired
    Rates rates;

    @Autowired
    Bench bench;

    @Autowired
    Findings findings;

    @Autowired
    Labours labours;

    @Autowired
    Invoices invoices;

    @Autowired
    Tickets tickets;

    @Autowired
    JdbcClient sql;

    @Autowired
    Clock clock;

    Person odile;
    SymptomRef thread;

    @BeforeEach
    void openAVisit() {
        odile = visit.hire(Role.TECHNICIAN, Role.WRITER, Role.OWNER);
        thread = people.as(odile, () -> {
            SymptomRef heard = visit.open("It hesitates when I pull out of the yard.");
            authorisations.agree(
                    heard.ticket(),
                    Agreement.DIAGNOSIS,
                    Money.rounded(new BigDecimal("400"), rates.currency()),
                    "Go ahead.",
                    Channel.PHONE,
                    "Ines Grand",
                    null);
            return heard;
        });
        measure(false, "12.4", "10.9");
        people.as(odile, () -> {
            findings.decide(thread, "air-sensor-supply", "green joint", "Renew the joint");
            labours.add(thread, "Renewed the joint", new BigDecimal("0.5"), new Pay.ByHand(rates.labourRate()));
            labours.done(thread, "The joint was renewed.");
            return null;
        });
    }

    @Test
    void showBeforeAndAfterSideBySideAndProveIt() {
        assertThat(get(thread.url() + "/proof"))
                .hasStatusOk()
                .bodyText()
                .contains(
                        "Not proved yet",
                        "not read again",
                        "/bay/" + thread.ticket() + "/tests/sensor-supply?after=true&amp;place=1",
                        "End it by road test only");
        assertThat(get("/bay/" + thread.ticket() + "/tests/sensor-supply?after=true&place=1"))
                .hasStatusOk();
        measure(true, "12.4", "12.36");
        assertThat(get(thread.url() + "/proof"))
                .bodyText()
                .contains("The measurements prove it", "1.5 V", "outside, high", "within", "It is proved");
        assertThat(post(
                        thread.url() + "/proof",
                        "how",
                        "measured",
                        "codes",
                        "NOT_RECORDED",
                        "monitors",
                        "READY",
                        "roadTest",
                        "GONE"))
                .hasStatus(422)
                .bodyText()
                .contains("Record the codes with their freeze frames first");
        assertThat(post(thread.url() + "/proof", "how", "measured"))
                .hasStatus(422)
                .bodyText()
                .contains("Say what became of the codes.");
        assertThat(post(
                        thread.url() + "/proof",
                        "how",
                        "measured",
                        "codes",
                        "NONE_STORED",
                        "monitors",
                        "READY",
                        "roadTest",
                        "GONE"))
                .hasRedirectedUrl(thread.ticket().url());
        assertThat(get(thread.ticket().url())).bodyText().contains("Proved by the same test", "monitors: all ready");
        assertThat(get(thread.url() + "/proof"))
                .bodyText()
                .contains("Proved by the same test.")
                .doesNotContain("It is proved");
    }

    @Test
    void letTheCustomerAnswerWithoutSigningIn() {
        handBack();
        String followUp = "/follow-ups/" + thread.ticket();
        assertThat(get("/follow-ups")).hasStatusOk().bodyText().contains("Coming", "by phone, 555 0142");
        assertThat(get(followUp)).hasStatusOk().bodyText().contains("Did it stay away?", "Make a link");
        assertThat(post(followUp + "/link")).hasRedirectedUrl(followUp);
        String page = body(get(followUp));
        assertThat(page).contains("class=\"qr\"");
        String link = page.replaceAll("(?s).*(/answers/[A-Za-z0-9_-]{22}).*", "$1");
        var asked = browser.get().uri(link).exchange();
        assertThat(asked)
                .hasStatusOk()
                .bodyText()
                .contains("How is your", "And now?")
                .doesNotContain("Ines", "555 0142");
        assertThat(asked).hasHeader("Referrer-Policy", "no-referrer");
        var nothing = stranger(link, "words", "Only on Mondays");
        assertThat(nothing).hasStatus(303).hasRedirectedUrl(link);
        assertThat(browser.get().uri(link).session((MockHttpSession)
                        nothing.getRequest().getSession()))
                .bodyText()
                .contains("Choose an answer", "Only on Mondays");
        assertThat(stranger(link, "outcome-1", "RETURNED", "words", "Since <Tuesday>."))
                .hasRedirectedUrl(link);
        assertThat(browser.get().uri(link)).bodyText().contains("Thank you, your answer is with us.");
        assertThat(get(followUp)).bodyText().contains("The customer answered by link.", "Since &lt;Tuesday&gt;.");
        assertThat(post(followUp, "byLink", "true", "outcome-1", "RETURNED", "note", "Since Tuesday."))
                .hasRedirectedUrl(followUp);
        assertThat(get(followUp)).bodyText().contains("the customer, by link", "Open the comeback");
        var opened = post(followUp + "/symptoms/1/comeback", "words", "Since Tuesday.", "distance", "87500");
        assertThat(opened).hasStatus3xxRedirection();
        String comeback = String.valueOf(opened.getResponse().getRedirectedUrl());
        assertThat(get(comeback)).bodyText().contains("comeback of");
        assertThat(get(thread.ticket().url())).bodyText().contains("To ticket", "Say why");
        assertThat(get(thread.url() + "/return")).hasStatusOk().bodyText().contains("wrong diagnosis");
        assertThat(post(thread.url() + "/return", "reason", "WORKMANSHIP", "words", "The joint was not sealed."))
                .hasRedirectedUrl(thread.ticket().url());
        assertThat(browser.get().uri(link)).bodyText().contains("There is nothing left to ask.");
    }

    @Test
    void openNoAnswerPageForAGuess() {
        assertThat(browser.get().uri("/answers/AAAAAAAAAAAAAAAAAAAAAA")).hasStatus(404);
        assertThat(browser.get().uri("/answers/short")).hasStatus(404);
    }

    @Test
    void areForThoseWhoAskTheCustomers() {
        handBack();
        Person tamsin = visit.hire(Role.TECHNICIAN);
        assertThat(browser.get().uri("/follow-ups").with(as(tamsin))).hasStatus(404);
        assertThat(browser.get().uri(thread.url() + "/return").with(as(tamsin))).hasStatus(404);
        assertThat(browser.get().uri(thread.url() + "/proof").with(as(tamsin))).hasStatusOk();
    }

    private void handBack() {
        measure(true, "12.4", "12.36");
        post(
                thread.url() + "/proof",
                "how",
                "measured",
                "codes",
                "NONE_STORED",
                "monitors",
                "READY",
                "roadTest",
                "GONE");
        people.as(odile, () -> {
            invoices.issue(thread.ticket());
            tickets.handBack(thread.ticket(), new BigDecimal("86950"), null, 7);
            return null;
        });
    }

    private void measure(boolean after, String battery, String supply) {
        people.as(odile, () -> {
            long id = bench.start(thread.ticket(), "sensor-supply", after, List.of(1), KEY_ON, null);
            bench.keep(id, "battery", battery, "V");
            bench.keep(id, "supply", supply, "V");
            bench.finish(id);
            return null;
        });
    }

    private MvcTestResult get(String url) {
        return browser.get().uri(java.net.URI.create(url)).with(as(odile)).exchange();
    }

    private MvcTestResult post(String url, String... fields) {
        return send(url, as(odile), fields);
    }

    private MvcTestResult stranger(String url, String... fields) {
        return send(url, request -> request, fields);
    }

    private MvcTestResult send(String url, RequestPostProcessor who, String... fields) {
        var request = browser.post()
                .uri(url)
                .with(csrf())
                .with(who)
                .param("submission", UUID.randomUUID().toString());
        for (int i = 0; i < fields.length; i += 2) {
            request = request.param(fields[i], fields[i + 1]);
        }
        return request.exchange();
    }

    private static String body(MvcTestResult result) {
        try {
            return result.getResponse().getContentAsString();
        } catch (java.io.UnsupportedEncodingException e) {
            throw new IllegalStateException(e);
        }
    }

    private RequestPostProcessor as(Person person) {
        var generation = sql.sql("select generation from person where id = ?")
                .param(person.id())
                .query(Integer.class)
                .single();
        return authentication(new Badge(person, generation, clock.instant(), null).authentication());
    }
}
