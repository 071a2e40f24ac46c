package idlewright.repair;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

import idlewright.billing.Authorisations;
import idlewright.billing.Estimates;
import idlewright.billing.Rates;
import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.ground.WithDatabase;
import idlewright.intake.SymptomRef;
import idlewright.people.Badge;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.reference.money.Money;
import idlewright.repair.rules.Check;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.math.BigDecimal;
import java.time.Clock;
import java.util.List;
import java.util.UUID;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.context.annotation.Import;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mock.web.MockMultipartFile;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

@SpringBootTest
@AutoConfigureMockMvc
@WithDatabase
@Import(Visit.class)
@DisplayName("The pages of the repair")
class RepairPagesTest {

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
    Estimates estimates;

    @Autowired
    JdbcClient sql;

    @Autowired
    Clock clock;

    Person tamsin;
    SymptomRef thread;

    @BeforeEach
    void openAVisit() {
        visit.hire(Role.OWNER);
        tamsin = visit.hire(Role.TECHNICIAN);
        thread = people.as(tamsin, () -> visit.open("It hesitates when I pull out of the yard."));
        people.as(
                tamsin,
                () -> authorisations.agree(
                        thread.ticket(),
                        Agreement.DIAGNOSIS,
                        Money.rounded(new BigDecimal("400"), rates.currency()),
                        "Go ahead.",
                        Channel.PHONE,
                        "Ines Grand",
                        null));
    }

    @Test
    void walkFromTheCauseToAFinalPart() throws Exception {
        assertThat(get(thread.url() + "/findings/new"))
                .hasStatusOk()
                .bodyText()
                .contains("The likeliest first", "Air metering: Air-flow sensor reads too low");
        assertThat(post(thread.url() + "/findings", "other", "air-sensor-low"))
                .hasStatus(422)
                .bodyText()
                .contains("Say what you saw, like: filter oil on the film.");
        assertThat(post(
                        thread.url() + "/findings",
                        "other",
                        "air-sensor-low",
                        "words",
                        "filter oil <b>",
                        "correction",
                        "Replace it"))
                .hasRedirectedUrl("/bay/" + thread.ticket());
        assertThat(get(thread.url() + "/swaps/new"))
                .hasStatusOk()
                .bodyText()
                .contains("old parts are shown to the customer");
        assertThat(post(thread.url() + "/swaps", "what", "air-flow sensor", "number", "AF-2210-8"))
                .hasStatus(422)
                .bodyText()
                .contains("value=\"AF-2210-8\"", "Choose where the old part is.", "Choose how it is charged.");
        var started = post(
                thread.url() + "/swaps",
                "what",
                "air-flow sensor",
                "oldNumber",
                "AF-2210-7",
                "condition",
                "oil film",
                "went",
                "KEPT",
                "number",
                "AF-2210-8",
                "maker",
                "Halden",
                "serial",
                "L-77",
                "supplier",
                "Marlow Parts",
                "trial",
                "final",
                "cost",
                "100",
                "pay",
                "hand");
        String swap = String.valueOf(started.getResponse().getRedirectedUrl());
        assertThat(swap).startsWith("/swaps/");
        assertThat(get(swap)).hasStatusOk().bodyText().contains("different number", "AF-2210-7", "AF-2210-8");
        assertThat(post(swap + "/final")).hasStatus(422).bodyText().contains("The numbers differ", "id=\"f-ground\"");
        assertThat(post(swap + "/number", "kind", "consent", "reason", "no longer made"))
                .hasStatus(422)
                .bodyText()
                .contains("Say who agreed to it");
        assertThat(post(swap + "/number", "kind", "supersession", "source", "Halden list"))
                .hasRedirectedUrl(swap);
        assertThat(get(swap + "/checks"))
                .hasStatusOk()
                .bodyText()
                .contains("Seal in place", "it has none", "The maker's procedure");
        assertThat(post(swap + "/checks", "check-CLAMPS", "NO"))
                .hasStatus(422)
                .bodyText()
                .contains("Clamps: say in a few words what is not as it should be");
        assertThat(post(swap + "/checks", answers())).hasRedirectedUrl(swap);
        assertThat(photograph(swap)).hasRedirectedUrl(swap);
        assertThat(get(swap)).bodyText().contains("/picture?size=small", "alt=\"old air-flow sensor");
        assertThat(post(swap + "/final")).hasRedirectedUrl("/bay/" + thread.ticket());
        assertThat(get(swap + "/checks")).hasRedirectedUrl(swap);
        assertThat(get(thread.ticket().url()))
                .hasStatusOk()
                .bodyText()
                .contains("Air-flow sensor replaced", "AF-2210-8 by Halden, lot L-77", "filter oil &lt;b&gt;");
        assertThat(get("/find?q=af22108")).hasStatusOk().bodyText().contains("AF-2210-8, air-flow sensor");
        assertThat(sql.sql("select each from charge where ticket_number = ?")
                        .param(thread.ticket().value())
                        .query(BigDecimal.class)
                        .single())
                .isEqualByComparingTo("130.00");
    }

    @Test
    void standInTheBaysFrameForATechnicianAndInTheDesksForTheCounter() {
        var writer = visit.hire(Role.WRITER);
        for (String page : List.of(thread.url() + "/causes", "/clocks", "/me")) {
            assertThat(get(page))
                    .hasStatusOk()
                    .bodyText()
                    .contains("<body class=\"bay\"", "Sign out", tamsin.name() + ", your own page");
        }
        assertThat(get(thread.url() + "/causes", writer))
                .hasStatusOk()
                .bodyText()
                .contains("aria-label=\"Rooms\"")
                .doesNotContain("<body class=\"bay\"");
        assertThat(get("/me")).bodyText().contains("At a bay terminal you sign in with your name and a PIN");
    }

    @Test
    void tellTheBayAndTheCounterThatAnotherNumberWasFittedThanAgreed() {
        post(thread.url() + "/findings", "other", "air-sensor-low", "words", "filter oil", "correction", "Replace it");
        var writer = visit.hire(Role.WRITER);
        long estimate = people.as(
                writer,
                () -> estimates
                        .write(
                                thread.ticket(),
                                List.of(new Line(
                                        1,
                                        LineKind.PART,
                                        "Air-flow sensor",
                                        BigDecimal.ONE,
                                        Money.rounded(new BigDecimal("186"), rates.currency()),
                                        "AF-2210-7")),
                                null)
                        .id());
        long line =
                people.as(writer, () -> estimates.get(estimate).lines().get(0).id());
        String swap = fit("AF-2210-8", "line-" + line);
        assertThat(get(swap))
                .hasStatusOk()
                .bodyText()
                .contains(
                        "Not the number that was agreed.",
                        "Air-flow sensor: AF-2210-7 was agreed, AF-2210-8 is fitted.");
        assertThat(get("/bay/" + thread.ticket()))
                .bodyText()
                .contains("Go on: swap of the sensor", "href=\"" + swap + "\"");
        assertThat(get("/estimates/" + estimate, writer))
                .bodyText()
                .contains("A part with another number was fitted.", "AF-2210-8 is fitted.", swap);
        assertThat(get(thread.ticket().url(), writer))
                .bodyText()
                .contains("Another part number than agreed", "Look at the estimate");
        assertThat(get(fit("AF 2210 7", "line-" + line))).bodyText().doesNotContain("Not the number that was agreed.");
    }

    private String fit(String number, String pay) {
        return String.valueOf(post(
                        thread.url() + "/swaps",
                        "what",
                        "sensor",
                        "oldNumber",
                        "AF-2210-7",
                        "condition",
                        "oil film",
                        "went",
                        "KEPT",
                        "number",
                        number,
                        "maker",
                        "Halden",
                        "supplier",
                        "Marlow Parts",
                        "trial",
                        "final",
                        "pay",
                        pay)
                .getResponse()
                .getRedirectedUrl());
    }

    @Test
    void beginTheEstimateWithWhatTheBayPlanned() {
        post(thread.url() + "/findings", "other", "air-sensor-low", "words", "filter oil", "correction", "Clean <it>");
        assertThat(get(thread.ticket().url() + "/estimates/new", visit.hire(Role.WRITER)))
                .hasStatusOk()
                .bodyText()
                .contains("name=\"rows[0].what\" value=\"Clean &lt;it&gt;\"");
    }

    @Test
    void tellTheFeeOfTheDiagnosisBesideItsAmount() {
        SymptomRef fresh = people.as(tamsin, () -> visit.open("It stalls."));
        String fee = people.as(tamsin, () -> rates.diagnosisFee().text());
        assertThat(get(fresh.ticket().url() + "/authorisations/new", visit.hire(Role.WRITER)))
                .hasStatusOk()
                .bodyText()
                .contains("shop&#39;s fee of " + fee + " for finding the cause")
                .doesNotContain("for what is ticked");
    }

    @Test
    void leadFromADoubtfulVinToAmendingIt() {
        long customer = sql.sql("select customer_id from ticket where number = ?")
                .param(thread.ticket().value())
                .query(Long.class)
                .single();
        var kept = browser.post()
                .uri("/customers/" + customer + "/vehicles")
                .with(csrf())
                .with(as(visit.hire(Role.WRITER)))
                .param("submission", UUID.randomUUID().toString())
                .param("make", "Halden")
                .param("model", "Otter")
                .param("vin", "1M8GDM9A5KP042788")
                .param("fuel", "PETROL")
                .param("aspiration", "NATURAL")
                .param("metering", "UNKNOWN")
                .param("gearbox", "UNKNOWN")
                .param("distanceUnit", "km")
                .exchange();
        // 49 CFR 565.15: the check digit of 1M8GDM9A_KP042788 is X
        assertThat(kept)
                .hasStatus3xxRedirection()
                .flash()
                .hasEntrySatisfying(
                        "notice",
                        said -> assertThat((String) said).contains("should be X but is 5: read the number again."))
                .hasEntrySatisfying("noticeUrl", url -> assertThat((String) url).matches("/vehicles/\\d+/amending"));
    }

    @Test
    void findTheOpenTicketBeforeTheCar() {
        String plate = "QX " + thread.ticket().value();
        sql.sql("update vehicle set plate = ? where id = (select vehicle_id from ticket where number = ?)")
                .param(plate)
                .param(thread.ticket().value())
                .update();
        assertThat(get("/find?q=" + plate.replace(" ", "")))
                .hasStatusOk()
                .bodyText()
                .containsSubsequence("Ticket " + thread.ticket() + ", open since ", "Brightwater Finch, " + plate);
    }

    @Test
    void askForAPriceOnlyWhenAPartIsChargedByHand() {
        assertThat(post(thread.url() + "/swaps", "pay", "hand"))
                .hasStatus(422)
                .bodyText()
                .contains("Charged by hand: enter the price, or above what the shop paid.");
        assertThat(post(thread.url() + "/swaps", "pay", "free"))
                .hasStatus(422)
                .bodyText()
                .doesNotContain("enter the price");
    }

    @Test
    void sayThatTheRiseMustBeAgreedFirstAndWhere() {
        post(thread.url() + "/findings", "other", "air-sensor-low", "words", "filter oil", "correction", "Replace it");
        assertThat(post(thread.url() + "/labour", "what", "Looked for it", "hours", "40", "pay", "hand"))
                .hasStatus(422)
                .bodyText()
                .contains("Get the rise of", "Ask the counter to call the customer.", "value=\"40\"")
                .doesNotContain("/authorisations/new");
    }

    @Test
    void keepWorkAndTheWordThatItIsDone() {
        post(thread.url() + "/findings", "other", "air-sensor-low", "words", "filter oil", "correction", "Clean it");
        assertThat(get(thread.url() + "/labour/new")).hasStatusOk().bodyText().contains("filter oil", "Time spent");
        assertThat(post(
                        thread.url() + "/labour",
                        "what",
                        "Cleaned it",
                        "hours",
                        "0,4",
                        "pay",
                        "free",
                        "free",
                        "goodwill",
                        "correction",
                        "The sensor was cleaned."))
                .hasRedirectedUrl("/bay/" + thread.ticket());
        assertThat(get(thread.ticket().url()))
                .bodyText()
                .contains("The sensor was cleaned.", "0.4 h, not charged: goodwill", "Prove it now");
    }

    @Test
    void showTheClockThatRunsAndPutAWrongTimeRight() {
        String bay = "/bay/" + thread.ticket();
        assertThat(get(bay)).hasStatusOk().bodyText().contains("Start the clock", "Mechanical");
        assertThat(post(thread.url() + "/clock", "kind", "Mechanical")).hasRedirectedUrl(bay);
        assertThat(get(bay)).bodyText().contains("Stop the clock", "data-clock=", "aria-pressed=\"true\"");
        assertThat(get("/bay")).bodyText().contains("Stop the clock", "ticket " + thread.ticket());
        assertThat(post("/clocks/stop")).hasRedirectedUrl(bay);
        assertThat(post("/clocks/stop")).hasRedirectedUrl("/bay");
        long span = sql.sql("select id from clock_span where ticket_number = ?")
                .param(thread.ticket().value())
                .query(Long.class)
                .single();
        String correction = "/clocks/" + span + "/correction";
        assertThat(get("/clocks")).hasStatusOk().bodyText().contains(tamsin.name(), correction);
        assertThat(post(correction, "fromDay", "2026-02-30", "from", "8:12", "toDay", "2026-03-01", "to", "25:00"))
                .hasStatus(422)
                .bodyText()
                .contains(
                        "Enter the day, like 2026-11-09.",
                        "Enter the hour, like 8:12.",
                        "Say why it is corrected",
                        "value=\"25:00\"");
        assertThat(post(
                        correction,
                        "fromDay",
                        "2026-03-02",
                        "from",
                        "8:12",
                        "toDay",
                        "2026-03-02",
                        "to",
                        "09:00",
                        "reason",
                        "typed on the wrong car's terminal"))
                .hasRedirectedUrl("/clocks");
        assertThat(get(thread.ticket().url())).bodyText().contains("Clocked so far 0:48 h", "corrected: typed on");
        assertThat(get(correction)).hasStatus(404);
    }

    @Test
    void offerClockedTimeForTheWork() {
        post(thread.url() + "/findings", "other", "air-sensor-low", "words", "filter oil", "correction", "Clean it");
        people.as(tamsin, () -> {
            sql.sql("""
                    with c as (insert into clocked (ticket_number, place, kind, person_id, technician, started_at, at, who)
                        values (?, 1, 'Electrical', ?, 'T', '2026-03-03 08:00Z', '2026-03-03 08:00Z', 'T') returning id)
                    insert into clock_stop select id, '2026-03-03 08:42Z', 'T' from c""").params(thread.ticket().value(), tamsin.id()).update();
            return null;
        });
        assertThat(get(thread.url() + "/labour/new"))
                .hasStatusOk()
                .bodyText()
                .contains("Electrical, 0:42 by the clock; 0.7 h for charge", "by the hour: Electrical at");
        assertThat(post(thread.url() + "/labour", "what", "Renewed the plug", "time", "clock-0", "pay", "kind-2"))
                .hasRedirectedUrl("/bay/" + thread.ticket());
        assertThat(sql.sql("select quantity from charge where ticket_number = ? and what = 'Renewed the plug'")
                        .param(thread.ticket().value())
                        .query(BigDecimal.class)
                        .single())
                .isEqualByComparingTo("0.7");
    }

    @Test
    void areNotThereForTheWriter() {
        Person wren = visit.hire(Role.WRITER);
        for (String page : new String[] {"/findings/new", "/swaps/new", "/labour/new"}) {
            assertThat(browser.get().uri(thread.url() + page).with(as(wren))).hasStatus(404);
        }
    }

    private MvcTestResult get(String url) {
        return get(url, tamsin);
    }

    private MvcTestResult get(String url, Person who) {
        return browser.get().uri(url).with(as(who)).exchange();
    }

    private MvcTestResult post(String url, String... fields) {
        var request = browser.post()
                .uri(url)
                .with(csrf())
                .with(as(tamsin))
                .param("submission", UUID.randomUUID().toString());
        for (int i = 0; i < fields.length; i += 2) {
            request = request.param(fields[i], fields[i + 1]);
        }
        return request.exchange();
    }

    private MvcTestResult photograph(String swap) throws Exception {
        var out = new ByteArrayOutputStream();
        ImageIO.write(new BufferedImage(40, 30, BufferedImage.TYPE_INT_RGB), "png", out);
        return browser.post()
                .uri(swap + "/photos")
                .multipart()
                .file(new MockMultipartFile("file", "old.png", "image/png", out.toByteArray()))
                .param("part", "removed")
                .param("submission", UUID.randomUUID().toString())
                .with(csrf())
                .with(as(tamsin))
                .exchange();
    }

    private static String[] answers() {
        var fields = new java.util.ArrayList<String>();
        for (Check check : Check.values()) {
            fields.add("check-" + check.name());
            fields.add("YES");
        }
        return fields.toArray(String[]::new);
    }

    private org.springframework.test.web.servlet.request.RequestPostProcessor as(Person person) {
        var generation = sql.sql("select generation from person where id = ?")
                .param(person.id())
                .query(Integer.class)
                .single();
        return authentication(new Badge(person, generation, clock.instant(), null).authentication());
    }
}
