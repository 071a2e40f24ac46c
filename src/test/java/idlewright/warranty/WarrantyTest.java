package idlewright.warranty;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import idlewright.billing.Authorisations;
import idlewright.billing.Charges;
import idlewright.billing.Invoices;
import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.frame.MovableClock;
import idlewright.frame.Refused;
import idlewright.frame.Stale;
import idlewright.ground.WithDatabase;
import idlewright.intake.Customers;
import idlewright.intake.StillPromised;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.TicketStamp;
import idlewright.people.Browser;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import idlewright.repair.Findings;
import idlewright.repair.Swaps;
import idlewright.repair.rules.Answer;
import idlewright.repair.rules.Check;
import idlewright.repair.rules.FittedPart;
import idlewright.repair.rules.Pay;
import idlewright.repair.rules.RemovedPart;
import idlewright.repair.rules.Went;
import idlewright.warranty.rules.ClaimStep;
import idlewright.warranty.rules.Giver;
import idlewright.warranty.rules.Promise;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.util.Set;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Supplier;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

@SpringBootTest
@AutoConfigureMockMvc
@WithDatabase
@DisplayName("Warranty")
class WarrantyTest {

    private static final AtomicInteger NUMBER = new AtomicInteger();
    private static final String PASSWORD = "three loose hose clamps";
    private static final Instant NOON = Instant.parse("2036-11-09T12:00:00Z");

    @Autowired
    MockMvcTester mvc;

    @Autowired
    People people;

    @Autowired
    Shops shops;

    @Autowired
    MovableClock clock;

    @Autowired
    Customers customers;

    @Autowired
    Vehicles vehicles;

    @Autowired
    Tickets tickets;

    @Autowired
    Authorisations authorisations;

    @Autowired
    Charges charges;

    @Autowired
    Terms terms;

    @Autowired
    Coverages coverages;

    @Autowired
    StillPromised stillPromised;

    @Autowired
    PartTerms partTerms;

    @Autowired
    Recovery recovery;

    @Autowired
    Findings findings;

    @Autowired
    Swaps swaps;

    @Autowired
    Invoices invoices;

    @Autowired
    Claims claims;

    @Autowired
    JdbcClient jdbc;

    Person owner;
    String signIn;
    long vehicle;

    @BeforeEach
    void aCarIsKnown() {
        signIn = "w" + ProcessHandle.current().pid() + "-" + NUMBER.incrementAndGet();
        owner = people.hire("Odell Rowan", signIn, PASSWORD, null, Set.of(Role.OWNER, Role.WRITER));
        vehicle = as(() -> {
            long customer = customers
                    .add(new Customers.Telling("Ines Grand", "555 0142", null, null, "PHONE", null))
                    .id();
            return vehicles.add(
                            customer,
                            new Vehicles.Telling(
                                    null,
                                    "KL 204 B",
                                    "Brightwater",
                                    "Finch",
                                    2019,
                                    "BW22",
                                    new BigDecimal("2.2"),
                                    4,
                                    "PETROL",
                                    "NATURAL",
                                    "HOT_FILM",
                                    "MANUAL",
                                    "km"))
                    .id();
        });
    }

    @Test
    @DisplayName("is told when a car comes again, by the terms that held when it went")
    void isToldWhenACarComesAgain() {
        promise(-1, 6, "10000");
        on(0, () -> {
            TicketNumber number = open("86940");
            charges.add(
                    number,
                    new Line(0, LineKind.PART, "Air-flow sensor", BigDecimal.ONE, money("100.00"), "28-11"),
                    null);
            charges.add(
                    number,
                    new Line(0, LineKind.LABOUR, "Renew the sensor", BigDecimal.ONE, money("50.00"), null),
                    null);
            charges.add(number, new Line(0, LineKind.FEE, "Small parts", BigDecimal.ONE, money("5.00"), null), null);
            tickets.stamp(number, TicketStamp.BILLED, "155.00");
            tickets.handBack(number, new BigDecimal("86950"), null, 7);
            return number;
        });
        promise(1, 1, "10");
        // 9 Nov + 6 months = 9 May: the 181st day; out at 86,950 km, so 96,950 km.
        TicketNumber lastDay = on(181, () -> open("96950"));
        assertThat(coverages.at(lastDay))
                .extracting(one ->
                        one.kind() + " " + one.words() + ": " + one.coverage().words())
                .containsExactly(
                        "PART Air-flow sensor, 28-11: until 9 May 2037 or 96,950 km",
                        "LABOUR Renew the sensor: until 9 May 2037 or 96,950 km");
        assertThat(coverages.at(on(182, () -> open("96950"))))
                .extracting(one -> one.coverage().covered())
                .containsExactly(false, false);
        assertThat(on(100, () -> coverages.at(open("96951"))))
                .extracting(one -> one.coverage().covered())
                .containsExactly(false, false);
        var browser = new Browser(mvc);
        browser.signIn(signIn, PASSWORD);
        assertThat(browser.get(lastDay.url()).body())
                .contains(
                        "Still covered from earlier visits",
                        "until 9 May 2037 or 96,950 km",
                        "look here before charging for it");
    }

    @Test
    @DisplayName("has terms that the owner sets; of two terminals one wins, and the other sees both")
    void hasTermsThatTheOwnerSets() {
        var browser = new Browser(mvc);
        browser.signIn(signIn, PASSWORD);
        String version = "" + terms.card().version();
        browser.get("/set-up/terms");
        var wrong = browser.post(
                "/set-up/terms", "version", version, "partMonths", "200", "labourMonths", "x", "unit", "km");
        assertThat(wrong.status()).isEqualTo(422);
        assertThat(wrong.body()).contains("Enter 0 to 120 months.", "value=\"200\"", "value=\"x\"");
        browser.post(
                "/set-up/terms",
                "version",
                version,
                "partMonths",
                "24",
                "partDistance",
                "",
                "labourMonths",
                "12",
                "labourDistance",
                "12000",
                "unit",
                "mi");
        assertThat(terms.card().parts().words()).isEqualTo("24 months, any distance");
        assertThat(terms.card().labour().words()).isEqualTo("12 months or 12,000 mi, whichever comes first");
        var late =
                browser.post("/set-up/terms", "version", version, "partMonths", "3", "labourMonths", "3", "unit", "km");
        assertThat(late.status()).isEqualTo(409);
        assertThat(late.body()).contains("24 months, any distance", "3 months, any distance");
        assertThatThrownBy(() -> as(() -> {
                    terms.set(new Promise(1, null, "km"), new Promise(1, null, "km"), -1);
                    return null;
                }))
                .isInstanceOf(Stale.class);
        assertThat(browser.get("/set-up").body()).contains("/set-up/terms");
    }

    @Test
    @DisplayName("claims are followed to the last cent, and what is missing is summed")
    void claimsAreFollowed() {
        TicketNumber number = on(0, () -> open("86940"));
        Money before = missing();
        var browser = new Browser(mvc);
        browser.signIn(signIn, PASSWORD);
        browser.get("/claims/new");
        var wrong = browser.post(
                "/claims", "ticket", "99999999", "supplier", "Tern Parts", "part", "sensor", "amount", "10");
        assertThat(wrong.status()).isEqualTo(422);
        assertThat(wrong.body()).contains("There is no ticket 99999999.", "value=\"Tern Parts\"");
        assertThat(browser.post(
                                "/claims",
                                "ticket",
                                "" + number,
                                "supplier",
                                "Tern Parts",
                                "part",
                                "sensor",
                                "amount",
                                "10",
                                "dossier",
                                "d-1-1-v1")
                        .body())
                .contains("There is no dossier D-1-1-v1 of ticket");
        String claim = browser.post(
                        "/claims",
                        "ticket",
                        "" + number,
                        "supplier",
                        "Tern Parts",
                        "part",
                        "Air-flow sensor, 28-11",
                        "amount",
                        "214.90")
                .path();
        assertThat(missing().minus(before)).isEqualTo(money("214.90"));
        assertThat(browser.get(claim).body()).contains("not sent yet");
        assertThat(browser.post(claim + "/steps", "kind", "PAID", "amount", "100")
                        .body())
                .contains("Note first that it was sent, and how.");
        browser.post(claim + "/steps", "kind", "SENT", "note", "by post");
        assertThat(browser.post(claim + "/steps", "kind", "REFUSED").body())
                .contains("Write down the reason they gave.");
        browser.post(claim + "/steps", "kind", "GRANTED", "amount", "200");
        assertThat(browser.post(claim + "/steps", "kind", "PAID", "amount", "100")
                        .body())
                .contains("say what the difference is about");
        browser.post(claim + "/steps", "kind", "PAID", "amount", "100", "note", "they pay no work");
        assertThat(browser.get(claim).body()).contains("paid in part", "114.90: they pay no work");
        assertThat(missing().minus(before)).isEqualTo(money("114.90"));
        assertThat(browser.get("/claims").body()).contains("Not yet recovered:", claim);
        assertThat(browser.get(number.url()).body()).contains("Claimed 214.90 back from Tern Parts");
        long id = Long.parseLong(claim.replaceAll("\\D", ""));
        as(() -> {
            claims.step(id, ClaimStep.DROPPED, null, "not worth a stamp");
            return null;
        });
        assertThat(missing()).isEqualTo(before);
        assertThatThrownBy(() -> as(() -> {
                    claims.step(id, ClaimStep.PAID, money("1.00"), "");
                    return null;
                }))
                .isInstanceOf(Refused.class);
        assertThat(jdbc.sql("select count(*) from claim_step where claim_id = ? and who = ?")
                        .params(id, owner.name())
                        .query(Integer.class)
                        .single())
                .isEqualTo(4);
    }

    @Test
    @DisplayName("is printed on the invoice and frozen there, and tells who promised what when the car comes again")
    void isPrintedAndFrozen() {
        promise(300, 6, "10000");
        long[] fitted = new long[1];
        var invoice = on(301, () -> {
            TicketNumber number = open("86940");
            var thread = tickets.hear(number, "hesitation", "It hesitates.");
            findings.decide(thread, "air-sensor-supply", "green joint", "Renew the sensor");
            fitted[0] = swaps.start(
                    thread,
                    new RemovedPart("28-11", "Corrin", null, "worn", Went.CORE),
                    new FittedPart("air-flow sensor", "28-11", "Corrin", null, "Tern Parts", money("80.00")),
                    false,
                    new Pay.ByHand(money("100.00")));
            var answers = new java.util.EnumMap<Check, Answer>(Check.class);
            for (Check check : Check.values()) {
                answers.put(check, Answer.yes());
            }
            swaps.answer(fitted[0], answers);
            swaps.makeFinal(fitted[0]);
            partTerms.keep(
                    fitted[0],
                    Giver.SUPPLIER,
                    new Promise(24, new BigDecimal("40000"), "km", true),
                    true,
                    "delivery note");
            tickets.stamp(thread, ThreadStamp.PROVED, "same test");
            var issued = invoices.issue(number);
            tickets.handBack(number, new BigDecimal("86950"), null, 7);
            return issued;
        });
        promise(302, 1, "10");
        var browser = new Browser(mvc);
        browser.signIn(signIn, PASSWORD);
        assertThat(browser.get("/invoices/" + invoice.number()).body())
                .contains(
                        "Parts: 6 months or 10,000 km, whichever comes first, from the day the vehicle is handed back.",
                        "air-flow sensor, 28-11: Tern Parts (supplier) promises 24 months or 40,000 km, whichever comes"
                                + " first; the share falls evenly to nothing, work included.");
        assertThat(on(
                        301 + 400,
                        () -> stillPromised.of(
                                vehicles.get(vehicle),
                                vehicles.distances(vehicle).get(0))))
                .extracting(one -> one.by() + ": " + one.covered())
                .containsExactly("Tern Parts (supplier), work included: true", "the shop: false");
        clock.at(NOON.plus(Duration.ofDays(320)), () -> {
            var later = new Browser(mvc);
            later.signIn(signIn, PASSWORD);
            assertThat(later.get("/vehicles/" + vehicle + "/tickets/new").body())
                    .contains("Still covered from earlier work", "Part: air-flow sensor, 28-11", "by the shop, until");
            assertThat(later.get("/vehicles/" + vehicle).body())
                    .contains("What is still promised", "Tern Parts (supplier)");
            return null;
        });
        assertThat(browser.get("/swaps/" + fitted[0] + "/terms").body()).contains("Filled in from what Tern Parts");
        assertThatThrownBy(() ->
                        jdbc.sql("update invoice_terms set words = 'none'").update())
                .isInstanceOf(RuntimeException.class);
    }

    @Test
    @DisplayName(
            "by emissions law is not quoted before both questions are answered, and never without saying that it is from memory")
    void isNotQuotedBeforeBothQuestionsAreAnswered() {
        var browser = new Browser(mvc);
        browser.signIn(signIn, PASSWORD);
        String page = "/vehicles/" + vehicle + "/emissions";
        assertThat(browser.get(page).body())
                .contains("From memory, check.", "Nothing is quoted before these are answered")
                .doesNotContain("96 months");
        assertThat(browser.post(page, "began", "2019-02-30", "distance", "").body())
                .contains("Enter the day the vehicle first went into use", "Enter what the odometer shows now.");
        browser.post(page, "began", "2019-04-30", "distance", "86940", "source", "warranty booklet");
        assertThat(browser.get(page).body())
                .contains(
                        "96 months or 80,000 mi, whichever comes first",
                        "figures from memory, check",
                        "warranty booklet");
    }

    @Test
    @DisplayName("for a core: its charge is missing until it is credited or written off")
    void aCoreIsMissingUntilItIsCredited() {
        long swap = on(0, () -> {
            TicketNumber number = open("86940");
            var thread = tickets.hear(number, "hesitation", "It hesitates.");
            findings.decide(thread, "air-sensor-supply", "green joint", "Renew the sensor");
            return swaps.start(
                    thread,
                    new RemovedPart("C-1", "Corrin", null, "worn", Went.CORE),
                    new FittedPart("starter", "C-1", "Corrin", null, "Core Yard " + signIn, null),
                    false,
                    new Pay.Free("goodwill"));
        });
        var browser = new Browser(mvc);
        browser.signIn(signIn, PASSWORD);
        String page = "/swaps/" + swap + "/core";
        assertThat(browser.get("/cores").body()).contains("Core Yard " + signIn, "to be returned");
        assertThat(browser.post(page, "kind", "CREDITED", "amount", "40", "day", "2026-01-05")
                        .body())
                .contains("Note first what the supplier charged.");
        browser.post(page, "kind", "CHARGED", "amount", "40", "day", "2026-01-05");
        browser.post(page, "kind", "RETURNED", "day", "2026-01-06", "note", "receipt 12");
        assertThat(browser.post(page, "kind", "CREDITED", "amount", "25", "day", "2026-01-07")
                        .body())
                .contains("say what the difference is about");
        browser.post(page, "kind", "CREDITED", "amount", "25", "day", "2026-01-07", "note", "housing cracked");
        assertThat(browser.get(page).body()).contains("credited in part", "15.00");
        assertThat(as(() -> recovery.owing()))
                .filteredOn(owing -> owing.supplier().equals("Core Yard " + signIn))
                .singleElement()
                .satisfies(owing -> {
                    assertThat(owing.all()).isEqualTo(money("15.00"));
                    assertThat(owing.cores()).isEqualTo(1);
                    assertThat(owing.toReturn()).isZero();
                });
        var owed = as(() -> recovery.together(recovery.owing()));
        assertThat(owed.all())
                .isEqualTo(Money.sum(
                        as(() -> recovery.owing()).stream()
                                .map(Recovery.Owing::all)
                                .toList(),
                        shops.shop().currency()));
        assertThat(owed.claimed()).isEqualTo(missing());
        assertThat(browser.get("/claims").body())
                .contains("Money not yet recovered", "Core Yard " + signIn)
                .contains("Not yet recovered: " + owed.all().textWithCurrency());
        assertThat(browser.get("/claims?supplier=Core%20Yard%20" + signIn).body())
                .contains("Not yet recovered: 15.00 USD, of it 0.00 on 0 claims and 15.00 on 1 core.");
        assertThat(browser.get("/cores.csv").body()).contains("Core Yard " + signIn + ",starter,C-1");
        browser.post(page, "kind", "WRITTEN_OFF", "day", "2026-01-08", "note", "our own fault");
        assertThat(as(() -> recovery.owing()))
                .noneMatch(owing -> owing.supplier().equals("Core Yard " + signIn));
    }

    private Money missing() {
        return Money.sum(
                as(() -> claims.open()).stream().map(ClaimView::missing).toList(),
                shops.shop().currency());
    }

    private void promise(int day, int months, String distance) {
        var promise = new Promise(months, new BigDecimal(distance), "km");
        on(day, () -> {
            terms.set(promise, promise, terms.card().version());
            return null;
        });
    }

    private TicketNumber open(String distance) {
        TicketNumber number =
                tickets.open(new Tickets.Opening(vehicle, new BigDecimal(distance), "as read", null, "SHOW", "YES"));
        authorisations.agree(
                number, Agreement.REPAIR, money("500.00"), "go ahead", Channel.PHONE, "the customer", null);
        return number;
    }

    private Money money(String amount) {
        return Money.of(amount, shops.shop().currency().getCurrencyCode());
    }

    private <T> T as(Supplier<T> work) {
        return people.as(owner, work);
    }

    private <T> T on(int day, Supplier<T> work) {
        return clock.at(NOON.plus(Duration.ofDays(day)), () -> as(work));
    }
}
