package idlewright.insight;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.billing.Authorisations;
import idlewright.billing.Rates;
import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.frame.MovableClock;
import idlewright.ground.WithDatabase;
import idlewright.insight.rules.HandedThread;
import idlewright.intake.Customers;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.TicketStamp;
import idlewright.people.Browser;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.proof.FollowUps;
import idlewright.proof.rules.ReturnReason;
import idlewright.reference.money.Money;
import idlewright.repair.Findings;
import idlewright.repair.Labours;
import idlewright.repair.Swaps;
import idlewright.repair.rules.Answer;
import idlewright.repair.rules.Check;
import idlewright.repair.rules.FittedPart;
import idlewright.repair.rules.Pay;
import idlewright.repair.rules.RemovedPart;
import idlewright.repair.rules.Went;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.Set;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Supplier;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

/** A small made-up history on the real database; each test has years of its own, so that no other rows are in its window. */
@SpringBootTest
@AutoConfigureMockMvc
@WithDatabase
@DisplayName("The page of comebacks")
class ComebacksTest {

    private static final String PASSWORD = "three loose hose clamps";
    private static final AtomicInteger YEAR = new AtomicInteger(2040);

    @Autowired
    MockMvcTester mvc;

    @Autowired
    People people;

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
    Rates rates;

    @Autowired
    Findings findings;

    @Autowired
    Swaps swaps;

    @Autowired
    Labours labours;

    @Autowired
    FollowUps followUps;

    @Autowired
    Comebacks comebacks;

    Person tamsin;
    Person kofi;
    String signIn;
    Instant today;

    @BeforeEach
    void somebodyWorksHere() {
        signIn = "i" + ProcessHandle.current().pid() + "-" + YEAR.get();
        people.hire("Odell Rowan", signIn, PASSWORD, null, Set.of(Role.OWNER));
        tamsin = people.hire(
                "Tamsin " + signIn, signIn + "t", PASSWORD, null, Set.of(Role.TECHNICIAN, Role.WRITER, Role.OWNER));
        kofi = people.hire(
                "Kofi " + signIn, signIn + "k", PASSWORD, null, Set.of(Role.TECHNICIAN, Role.WRITER, Role.OWNER));
        today = Instant.parse(YEAR.getAndAdd(4) + "-06-01T12:00:00Z");
    }

    /** 12 threads that count, 3 of them came back; one that was declined; one handed back long before. */
    private void history() {
        for (int i = 0; i < 5; i++) {
            SymptomRef sensor = handedBack(tamsin, 60 + i, "air-sensor-low", "Tern Parts", "L1");
            if (i == 0) {
                back(sensor, 50, ReturnReason.DEFECTIVE_PART, "dead on arrival", true);
            }
        }
        for (int i = 0; i < 4; i++) {
            SymptomRef sensor = handedBack(kofi, 100 + i, "air-sensor-low", "Ash Parts", "L2");
            if (i < 2) {
                back(sensor, 90 - i, i == 0 ? ReturnReason.DEFECTIVE_PART : null, "again", false);
            }
        }
        handedBack(tamsin, 20, "air-leak", null, null);
        handedBack(tamsin, 21, "air-leak", null, null);
        handedBack(tamsin, 10, null, null, null);
        declined(15);
        handedBack(tamsin, 900, "air-leak", null, null);
    }

    @Test
    @DisplayName("counts threads that ended and went back, and those of them that came back")
    void counts() {
        now(() -> {
            history();
            var threads = comebacks.threads(12);
            assertThat(threads).hasSize(12);
            assertThat(threads.stream().filter(HandedThread::cameBack)).hasSize(3);
            assertThat(threads.stream().filter(HandedThread::cameBack).map(thread -> thread.days(day())))
                    .containsExactlyInAnyOrder(10L, 10L, 12L);
            assertThat(threads.stream().filter(thread -> !thread.proved()))
                    .singleElement()
                    .satisfies(thread -> {
                        assertThat(thread.cause()).isNull();
                        assertThat(thread.cameBack()).isFalse();
                    });
            assertThat(comebacks.threads(3)).hasSize(8);
            var cost = comebacks.cost(threads);
            assertThat(cost.visits()).isEqualTo(1);
            assertThat(cost.freeHours()).isEqualByComparingTo("1.5");
            assertThat(cost.freeWork()).isEqualTo(rates.labourRate().times(new BigDecimal("1.5")));
            assertThat(cost.freeParts().amount()).isEqualByComparingTo("84.10");
            assertThat(cost.charged().isZero()).isTrue();
            assertThat(comebacks.reasons(threads))
                    .extracting(
                            Comebacks.Reason::words, reason -> reason.threads().size())
                    .containsExactly(
                            org.assertj.core.groups.Tuple.tuple("part defective out of the box", 2),
                            org.assertj.core.groups.Tuple.tuple("not explained yet", 1));
            return null;
        });
    }

    @Test
    @DisplayName("leads from every figure to a list of that length")
    void everyFigureIsALinkToAListOfThatLength() {
        now(() -> {
            history();
            var browser = new Browser(mvc);
            browser.signIn(signIn, PASSWORD);
            String page = browser.get("/comebacks?months=12&technicians=true").body();
            assertThat(plain(page))
                    .contains("3 of 12 symptoms handed back in the last 12 months came back: 25 %, likely 9 to 53 %.")
                    .contains("These are few: 3 of 12 fits any true rate between 9 and 53 in a hundred.")
                    .contains(
                            "Tern Parts 1 of 5",
                            "Ash Parts 2 of 4",
                            "cause not found 0 of 1",
                            "Tamsin " + signIn + " 1 of 7")
                    .contains("None stands out from the rest by more than chance")
                    .contains("part defective out of the box 2");
            var links = Pattern.compile("<a href=\"(/comebacks/list[^\"]*)\"[^>]*>([^<]+)</a>")
                    .matcher(page);
            var seen = new HashSet<String>();
            while (links.find()) {
                String url = links.group(1).replace("&amp;", "&");
                String figure = links.group(2);
                String list = browser.get(url).body();
                int length = Integer.parseInt(figure.replaceAll("^\\d+ of ", ""));
                assertThat(list).as(url).contains("<b id=\"length\">" + length + "</b>");
                assertThat(list.split("<th scope=\"row\">", -1).length - 1)
                        .as(url)
                        .isEqualTo(length);
                if (figure.contains(" of ")) {
                    assertThat(list).as(url).contains("came back (" + figure.replaceAll(" of .*", "") + ")");
                }
                seen.add(figure);
            }
            assertThat(seen).contains("3", "12", "1 of 5", "2 of 4", "0 of 1", "2", "1");
            return null;
        });
    }

    @Test
    @DisplayName("compares two groups and says how little small numbers say")
    void compares() {
        now(() -> {
            history();
            var browser = new Browser(mvc);
            browser.signIn(signIn, PASSWORD);
            String choice = browser.get("/comebacks?months=12&by=supplier").body();
            assertThat(choice).contains("Two compared", "value=\"TERNPARTS\"");
            String page = browser.get("/comebacks?months=12&by=supplier&a=ASHPARTS&b=TERNPARTS")
                    .body();
            assertThat(plain(page))
                    .contains("2 of 4, 50 %, likely 15 to 85 %, against 1 of 5, 20 %")
                    .contains("could be chance")
                    .contains("With so few, only a very large difference would show.");
            assertThat(page).contains("Not come back, two groups");
            assertThat(browser.get("/comebacks?by=nonsense").status()).isEqualTo(404);
            return null;
        });
    }

    @Test
    @DisplayName("says what will stand there while nothing does, and is there for the owner only")
    void saysWhatWillStandThere() {
        now(() -> {
            var browser = new Browser(mvc);
            browser.signIn(signIn, PASSWORD);
            assertThat(browser.get("/comebacks").body())
                    .contains(
                            "No symptom that had ended was handed back in the last 12 months.",
                            "It begins with the first car that goes back");
            var writer = signIn + "w";
            people.hire("Wren Alder", writer, PASSWORD, null, Set.of(Role.WRITER));
            var other = new Browser(mvc);
            other.signIn(writer, PASSWORD);
            assertThat(other.get("/comebacks").status()).isEqualTo(404);
            return null;
        });
    }

    private <T> T now(Supplier<T> work) {
        return clock.at(today, work);
    }

    private java.time.LocalDate day() {
        return java.time.LocalDate.ofInstant(today, java.time.ZoneOffset.UTC);
    }

    private <T> T ago(Person who, int days, Supplier<T> work) {
        return clock.at(today.minus(Duration.ofDays(days)), () -> people.as(who, work));
    }

    private SymptomRef open() {
        long customer = customers
                .add(new Customers.Telling("Ines Grand", "555 0142", null, null, "PHONE", null))
                .id();
        long vehicle = vehicles.add(
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
        TicketNumber number =
                tickets.open(new Tickets.Opening(vehicle, new BigDecimal("86940"), null, null, "SHOW", "YES"));
        SymptomRef thread = tickets.hear(number, "hesitation", "It hesitates when I pull away");
        authorisations.agree(
                number,
                Agreement.DIAGNOSIS,
                Money.rounded(new BigDecimal("95"), rates.currency()),
                "go ahead",
                Channel.PHONE,
                "the customer",
                null);
        return thread;
    }

    private SymptomRef handedBack(
            Person who, int daysAgo, @Nullable String cause, @Nullable String supplier, @Nullable String lot) {
        return ago(who, daysAgo, () -> {
            SymptomRef thread = open();
            if (cause == null) {
                tickets.end(thread, ThreadStamp.UNTRACED, "all tests within");
            } else {
                findings.decide(thread, cause, "as measured", "mend it");
                if (supplier == null) {
                    tickets.stamp(thread, ThreadStamp.MENDED, "hose renewed");
                } else {
                    swap(thread, supplier, lot, null);
                }
                tickets.stamp(thread, ThreadStamp.PROVED, null);
            }
            return leave(thread);
        });
    }

    private void declined(int daysAgo) {
        ago(tamsin, daysAgo, () -> {
            SymptomRef thread = open();
            tickets.end(thread, ThreadStamp.DECLINED, "sells it next week");
            return leave(thread);
        });
    }

    private SymptomRef leave(SymptomRef thread) {
        tickets.stamp(thread.ticket(), TicketStamp.BILLED, "0.00");
        tickets.handBack(thread.ticket(), new BigDecimal("86950"), null, 7);
        return thread;
    }

    private void swap(SymptomRef thread, String supplier, @Nullable String lot, @Nullable Money cost) {
        long swap = swaps.start(
                thread,
                new RemovedPart("AF-2210-7", "Halden", null, "worn", Went.SCRAP),
                new FittedPart("air-flow sensor", "AF-2210-7", "Halden", lot, supplier, cost),
                false,
                new Pay.Free("made up for a test"));
        swaps.moveOldPart(swap, Went.KEPT, "");
        var answers = new EnumMap<Check, Answer>(Check.class);
        for (Check check : Check.values()) {
            answers.put(check, Answer.yes());
        }
        swaps.answer(swap, answers);
        swaps.makeFinal(swap);
    }

    private void back(SymptomRef thread, int daysAgo, @Nullable ReturnReason reason, String words, boolean visit) {
        ago(tamsin, daysAgo, () -> {
            tickets.stamp(thread, ThreadStamp.RETURNED, words);
            if (reason != null) {
                followUps.explain(thread, reason, words);
            }
            if (visit) {
                TicketNumber again = followUps.openComeback(thread, "It does it again", new BigDecimal("87400"), null);
                authorisations.agree(
                        again,
                        Agreement.DIAGNOSIS,
                        Money.rounded(BigDecimal.ZERO, rates.currency()),
                        "of course",
                        Channel.PHONE,
                        "the customer",
                        null);
                var second = new SymptomRef(again, 1);
                findings.decide(second, "air-sensor-low", "dead on arrival", "renew it");
                swap(second, "Tern Parts", "L3", Money.rounded(new BigDecimal("84.10"), rates.currency()));
                labours.add(second, "Renew the sensor", new BigDecimal("1.5"), new Pay.Free("a comeback"));
            }
            return null;
        });
    }

    private static String plain(String page) {
        return page.replaceAll("<svg.*?</svg>", " ")
                .replaceAll("(?s)<[^>]+>", " ")
                .replaceAll("\\s+", " ")
                .replaceAll(" ([.,])", "$1");
    }
}
