package idlewright.journey;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Locator;
import idlewright.demo.Cast;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.context.ApplicationContext;
import org.springframework.jdbc.core.simple.JdbcClient;

/** What goes wrong on an ordinary day: hasty fingers, two people at one thing, sessions that end, a browser without scripts. */
@InTheDemoShop
@DisplayName("On an ordinary day")
class EverydayIT {

    private static Chromium chromium;

    @Autowired
    private ApplicationContext house;

    @Autowired
    private JdbcClient jdbc;

    @LocalServerPort
    private int port;

    @BeforeAll
    static void opens() {
        chromium = Chromium.start();
    }

    @AfterAll
    static void closes() {
        if (chromium != null) {
            chromium.close();
        }
    }

    @Test
    @DisplayName("a button pressed three times does its work once")
    void doesOnceWhatIsPressedThreeTimes() {
        try (Desk wren = desk(Cast.WREN)) {
            wren.opens("/customers/new").types("Name", "Hasty Fingers Ltd").types("Phone", "555 0177");
            wren.page.evaluate("""
                    () => { const b = document.querySelector('#main .go'); b.click(); b.click(); b.click(); }""");
            wren.page.waitForURL("**/vehicles/new");
            assertThat(customers("Hasty Fingers Ltd")).isEqualTo(1);
        }
    }

    @Test
    @DisplayName("a form sent again by the back button, even without scripts, is done once")
    void doesOnceWhatIsSentAgainWithoutScripts() {
        try (Desk wren = sits(Cast.WREN, false)) {
            wren.opens("/customers/new").types("Name", "Twice Round Ltd").types("Phone", "555 0178");
            String key = wren.page.locator("#main input[name=submission]").inputValue();
            wren.presses("Keep, then the car").readsHeading("A car of Twice Round Ltd");
            wren.opens("/customers/new").types("Name", "Twice Round Ltd").types("Phone", "555 0178");
            wren.page.locator("#main input[name=submission]").evaluate("(e, key) => { e.value = key }", key);
            wren.presses("Keep, then the car").readsHeading("A car of Twice Round Ltd");
            assertThat(customers("Twice Round Ltd")).isEqualTo(1);
        }
    }

    @Test
    @DisplayName("two who correct the same reading both see both values, and one of them wins")
    void showsBothValuesToTheSecondWhoCorrects() {
        try (Desk tamsin = desk(Cast.TAMSIN);
                Desk eskil = desk(Cast.ESKIL)) {
            tamsin.opens(test("air-flow"));
            keeps(tamsin, "3.1");
            tamsin.reads("3.1 g/s");
            tamsin.press(tamsin.page.locator(".readings a").first());
            String correction = tamsin.page.url();
            eskil.opens(correction);
            tamsin.types("What was wrong with it?", "misread");
            keeps(tamsin, "3.2");
            tamsin.reads("3.2 g/s");
            eskil.types("What was wrong with it?", "probes moved");
            keeps(eskil, "3.4");
            eskil.readsHeading("Somebody changed this meanwhile").reads("Tamsin Grey", "3.2 g/s", "3.4 g/s");
            eskil.follows("Open it as it stands now").reads("3.2 g/s").readsNot("3.4 g/s");
        }
    }

    @Test
    @DisplayName("nothing typed is lost when the session ends meanwhile")
    void holdsWhatWasTypedIntoAnEndedSession() {
        String said = "It dies at the lights — “like it's out of breath”.";
        try (Desk wren = desk(Cast.WREN)) {
            wren.opens("/vehicles/" + vehicle("min") + "/tickets/new")
                    .types("In their own words", said)
                    .picks("Kind of symptom", "Stalls")
                    .types("Odometer", "901234");
            wren.endsTheSession();
            wren.presses("Open the ticket").readsHeading("Sign in");
            wren.types("Sign-in name", Cast.WREN.signIn())
                    .types("Password", Cast.WREN.password())
                    .presses("Sign in");
            wren.readsHeading("You were signed out before this was kept").reads(said, "901234");
            wren.presses("Keep it now").readsHeading("Stalls").reads(said);
            assertThat(jdbc.sql("select count(*) from symptom where words = ?")
                            .param(said)
                            .query(Integer.class)
                            .single())
                    .isEqualTo(1);
        }
    }

    @Test
    @DisplayName("a ticket is opened and a reading taken in a browser without scripts")
    void worksWithoutScripts() {
        try (Desk wren = sits(Cast.WREN, false);
                Desk tamsin = sits(Cast.TAMSIN, false)) {
            wren.opens("/counter").follows("New ticket");
            wren.opens("/vehicles/" + vehicle("max") + "/tickets/new")
                    .presses("Open the ticket")
                    .reads("There is a problem", "Choose what kind of symptom it is.");
            wren.types("In their own words", "Surges on the motorway.")
                    .picks("Kind of symptom", "Surges at steady speed")
                    .types("Odometer", "905000")
                    .presses("Open the ticket");
            wren.presses("Keep, then the agreement")
                    .types("In their words", "Go ahead.")
                    .presses("Keep the agreement");
            String ticket = wren.at("/tickets/(\\d+)");
            wren.reads("Surges on the motorway.", "the bay's move");

            tamsin.opens("/bay/" + ticket + "/tests/air-flow")
                    .chooses("Bears on", "Surges at steady speed")
                    .types("Coolant", "90")
                    .presses("Begin");
            tamsin.types("Air flow at idle", "plenty").presses("Keep").reads("There is a problem");
            tamsin.types("Air flow at idle", "3,4").presses("Keep").reads("3.4 g/s", "Next: Engine speed at idle");
            tamsin.types("Engine speed at idle", "790").presses("Keep").reads("790 rpm", "Absolute load at idle");
            tamsin.presses("Finish the test").reads("Mass air flow, live data is finished.");
        }
    }

    @Test
    @DisplayName("readings taken without the network wait in words, and each is kept once when it is back")
    void keepsReadingsTakenWithoutTheNetworkOnce() {
        try (Desk tamsin = desk(Cast.TAMSIN)) {
            String test = test("air-flow");
            tamsin.opens(test);
            Locator network = tamsin.page.locator("[data-network]");
            tamsin.page.context().setOffline(true);
            assertThat(network).hasText("Offline");
            taps(tamsin, "3.3");
            assertThat(network).hasText("Offline, waiting to be sent: 1");
            tamsin.reads("1 reading is written down here, waiting to be sent", "Engine speed at idle", "2 of")
                    .picture("bay-offline");
            taps(tamsin, "780");
            assertThat(network).hasText("Offline, waiting to be sent: 2");
            assertThat(readings(test)).isZero();
            tamsin.page.fill("#f-typed", "14");
            tamsin.page.context().setOffline(false);
            assertThat(network).hasText(Pattern.compile("Online, sent .*"));
            tamsin.reads("3.3 g/s", "780 rpm", "Absolute load at idle").readsNot("Not taken", "meanwhile");
            assertThat(tamsin.page.locator("#f-typed")).hasValue("14");
            assertThat(readings(test)).isEqualTo(2);
        }
    }

    @Test
    @DisplayName("a reading whose answer was lost on the way is sent again, twice, and kept once")
    void keepsOnceAReadingWhoseAnswerWasLost() {
        try (Desk tamsin = desk(Cast.TAMSIN)) {
            String test = test("air-flow");
            tamsin.opens(test);
            var lost = new AtomicInteger();
            tamsin.page.route("**/readings", route -> {
                route.fetch();
                lost.incrementAndGet();
                route.abort();
            });
            taps(tamsin, "3.4");
            Locator network = tamsin.page.locator("[data-network]");
            assertThat(network).hasText("Offline, waiting to be sent: 1");
            tamsin.reads("Engine speed at idle");
            // The terminal finds the network by itself, and loses the answer once more.
            tamsin.page.waitForCondition(() -> lost.get() >= 2);
            tamsin.page.unroute("**/readings");
            tamsin.page.evaluate("dispatchEvent(new Event('online'))");
            assertThat(network).hasText(Pattern.compile("Online, sent .*"));
            tamsin.reads("3.4 g/s", "Engine speed at idle").readsNot("Not taken", "meanwhile");
            assertThat(readings(test)).isEqualTo(1);
            tamsin.forgets("Failed to load resource: net::ERR_FAILED");
        }
    }

    @Test
    @DisplayName("a terminal that is opened again while a reading waits does not ask for it again")
    void asksOnTheNextPageForWhatIsNotYetWaiting() {
        try (Desk tamsin = desk(Cast.TAMSIN)) {
            String test = test("air-flow");
            tamsin.opens(test);
            tamsin.page.route("**/readings", route -> route.abort());
            taps(tamsin, "3.4");
            tamsin.reads("1 reading is written down here");
            tamsin.opens(test).reads("1 reading is written down here").readsHeading("Mass air flow");
            assertThat(tamsin.page.locator("form[data-queue] h2")).containsText("Engine speed at idle");
            tamsin.page.unroute("**/readings");
            tamsin.page.evaluate("dispatchEvent(new Event('online'))");
            assertThat(tamsin.page.locator("[data-network]")).hasText(Pattern.compile("Online, sent .*"));
            tamsin.reads("3.4 g/s");
            assertThat(readings(test)).isEqualTo(1);
            tamsin.forgets("Failed to load resource: net::ERR_FAILED");
        }
    }

    @Test
    @DisplayName("without the network no other form leaves the page, and what was typed stays")
    void staysWhereItIsWithoutTheNetwork() {
        try (Desk tamsin = desk(Cast.TAMSIN)) {
            String test = test("air-flow");
            tamsin.opens(test);
            tamsin.page.context().setOffline(true);
            tamsin.page
                    .getByText("Leave it open")
                    .or(tamsin.page.getByText("Skip this one"))
                    .first()
                    .click();
            tamsin.reads("The network is away");
            assertThat(tamsin.page.url()).endsWith(test);
            tamsin.page.context().setOffline(false);
            tamsin.readsNot("The network is away");
        }
    }

    @Test
    @DisplayName("in the bay the next thing is in sight at 1024 x 600, and everything is large enough for a glove")
    void showsTheNextThingLargeAndInSight() {
        try (Desk tamsin = bay()) {
            String test = test("air-flow");
            String ticket = jdbc.sql("select ticket_number from measurement where id = ?")
                    .param(Long.valueOf(test.substring(test.lastIndexOf('/') + 1)))
                    .query(String.class)
                    .single();
            String symptom = "/tickets/" + ticket + "/symptoms/1";
            for (String page : new String[] {
                "/bay/" + ticket,
                "/bay/" + ticket + "/tests/reproduce",
                test,
                symptom + "/causes",
                symptom + "/findings/new"
            }) {
                tamsin.opens(page);
                assertThat(tamsin.page.locator("body.bay")).hasCount(1);
                Locator next = tamsin.page
                        .locator("#main .go, #main .keep, #main .big-choices button")
                        .first();
                assertThat(bottom(next))
                        .as("how far down the next thing is on " + page)
                        .isLessThanOrEqualTo(600);
                assertThat(small(tamsin)).as("too small for a glove on " + page).isEmpty();
            }
            assertThat(bottom(tamsin.opens(test).page.locator("[data-pad] .keep")))
                    .isLessThanOrEqualTo(600);
        }
    }

    /** Points of the screens: nothing in the bay under 44 px either way, 48 px high but for a rounding. */
    @SuppressWarnings("unchecked")
    private static List<String> small(Desk desk) {
        return (List<String>) desk.page.evaluate("""
                () => [...document.querySelectorAll('a[href], button, input:not([type=hidden]), select, textarea, summary')]
                  .filter(e => e.checkVisibility() && !e.matches('.skip') && !e.closest('.aside'))
                  .map(e => [e, (e.matches('[type=radio], [type=checkbox]') && e.closest('label') || e).getBoundingClientRect()])
                  .filter(([e, box]) => box.width > 1 && (box.height < 47.5 || box.width < 43.5))
                  .map(([e, box]) => e.outerHTML.slice(0, 80) + ' ' + box.width + ' x ' + box.height)""");
    }

    private static double bottom(Locator what) {
        return ((Number) what.evaluate("e => e.getBoundingClientRect().bottom")).doubleValue();
    }

    @Test
    @DisplayName("a scanner's Enter, quick or slow, goes on to the next field and sends nothing half-filled")
    void sendsNothingHalfFilledAtAScannersEnter() {
        try (Desk tamsin = bay()) {
            tamsin.opens(swapForm());
            for (double pause : new double[] {2, 120}) {
                tamsin.page.locator("#f-number").click();
                tamsin.page.locator("#f-number").fill("");
                tamsin.page
                        .keyboard()
                        .type("0280217124", new com.microsoft.playwright.Keyboard.TypeOptions().setDelay(pause));
                tamsin.page.keyboard().press("Enter");
                assertThat(tamsin.page.locator("#f-maker")).isFocused();
                assertThat(tamsin.page.locator("#f-number")).hasValue("0280217124");
            }
            tamsin.page.keyboard().type("Halden", new com.microsoft.playwright.Keyboard.TypeOptions().setDelay(120));
            tamsin.page.keyboard().press("Enter");
            tamsin.readsHeading("A part out, a part in").readsNot("There is a problem");
        }
    }

    @Test
    @DisplayName(
            "a photo of a part is taken by the camera, sent again after a dropped line without choosing, and kept once")
    void keepsAPhotoOnceThoughTheLineDrops() {
        try (Desk tamsin = bay()) {
            tamsin.opens(swap());
            Locator camera = tamsin.page.getByLabel(
                    "Photo", new com.microsoft.playwright.Page.GetByLabelOptions().setExact(true));
            assertThat(camera).hasAttribute("capture", "environment");
            tamsin.reads("up to 25 MB");
            tamsin.gives("Photo", "huge.jpg", "image/jpeg", new byte[26 * 1024 * 1024])
                    .reads("huge.jpg has 26 MB; 25 MB at most.");
            var drops = new AtomicInteger();
            tamsin.page.route("**/photos", route -> {
                if (drops.incrementAndGet() > 2) {
                    route.resume();
                } else {
                    route.abort();
                }
            });
            tamsin.gives("Photo", "old.jpg", "image/jpeg", JourneyIT.photo("0 280"))
                    .chooses("It shows", "the old part");
            tamsin.page.getByText("Keep the photo").last().tap();
            tamsin.page.locator("img[alt^='old']").first().waitFor(new Locator.WaitForOptions().setTimeout(15_000));
            assertThat(drops.get()).isEqualTo(3);
            assertThat(tamsin.page.locator("img[alt^='old']")).hasCount(1);
            tamsin.forgets("Failed to load resource: net::ERR_FAILED");
        }
    }

    /** A car of the demo shop whose repair is agreed and not done yet. */
    private String swapForm() {
        return "/tickets/" + jdbc.sql("""
                        select s.ticket_number from swap s where not exists (select from swap_step t
                            where t.swap_id = s.id and t.kind in ('FINAL', 'TAKEN_BACK'))
                        order by s.ticket_number desc limit 1""").query(String.class).single() + "/symptoms/1/swaps/new";
    }

    private String swap() {
        return "/swaps/" + jdbc.sql("""
                        select max(s.id) from swap s where not exists (select from swap_step t
                            where t.swap_id = s.id and t.kind in ('FINAL', 'TAKEN_BACK'))""").query(String.class).single();
    }

    private Desk bay() {
        return chromium.sits(Cast.TAMSIN.name(), chromium.bay(), Desk.Hand.FINGER, port)
                .signsIn(Cast.TAMSIN.signIn(), Cast.TAMSIN.password());
    }

    private static void taps(Desk desk, String value) {
        desk.page.fill("#f-typed", value);
        desk.page.locator("[data-pad] .keep").click();
    }

    private void keeps(Desk desk, String value) {
        desk.into(desk.page.locator("#f-typed"), value).press(desk.page.locator("[data-pad] .keep"));
    }

    /** A test just begun; each asker gets one of their own. */
    private String test(String procedure) {
        return new Examples(house).begun(procedure);
    }

    private int readings(String test) {
        return jdbc.sql("select count(*) from reading where measurement_id = ?")
                .param(Long.valueOf(test.substring(test.lastIndexOf('/') + 1)))
                .query(Integer.class)
                .single();
    }

    private int customers(String name) {
        return jdbc.sql("select count(*) from customer where name = ?")
                .param(name)
                .query(Integer.class)
                .single();
    }

    private long vehicle(String which) {
        return jdbc.sql("select " + which + "(id) from vehicle")
                .query(Long.class)
                .single();
    }

    private Desk desk(Cast.Member member) {
        return sits(member, true);
    }

    private Desk sits(Cast.Member member, boolean scripts) {
        return chromium.sits(member.name(), chromium.desk().setJavaScriptEnabled(scripts), Desk.Hand.MOUSE, port)
                .signsIn(member.signIn(), member.password());
    }
}
