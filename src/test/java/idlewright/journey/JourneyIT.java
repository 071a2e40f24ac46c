package idlewright.journey;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static java.nio.charset.StandardCharsets.US_ASCII;
import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import idlewright.bench.Instruments;
import idlewright.bench.rules.InstrumentKind;
import idlewright.frame.MovableClock;
import idlewright.ground.WithOwnDatabase;
import idlewright.people.People;
import java.awt.Color;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.context.ApplicationContext;

/** One complaint from the customer's words to the owner's question whether it came back, by the three people of a shop. */
@SpringBootTest(webEnvironment = SpringBootTest.WebEnvironment.RANDOM_PORT)
@WithOwnDatabase
@DisplayName("A complaint goes through the house")
class JourneyIT {

    private static final String HARD_START = "On cold mornings it cranks for ages before it catches.";
    private static final String STUMBLE = "At the lights it stumbles & nearly dies, \"like it's hiccuping\".";

    private static Chromium chromium;

    @Autowired
    private ApplicationContext house;

    @Autowired
    private MovableClock clock;

    @LocalServerPort
    private int port;

    private Desk writer;
    private Desk bay;
    private Desk owner;

    private String ticket;

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

    @AfterEach
    void leave() {
        clock.hold(null);
        writer.close();
        bay.close();
        owner.close();
    }

    @Test
    @DisplayName("and ends proved, paid for, sealed and watched")
    void isHeardTestedMendedProvedPaidSealedAndWatched() {
        Crew crew = Crew.of(house);
        house.getBean(People.class).as(crew.owner(), () -> {
            var instruments = house.getBean(Instruments.class);
            instruments.add(new Instruments.Telling(
                    "Bay meter", InstrumentKind.METER, new BigDecimal("0.5"), new BigDecimal(2), null, null, null));
            return instruments.add(new Instruments.Telling(
                    "Hand tester", InstrumentKind.SCAN_TOOL, BigDecimal.ZERO, BigDecimal.ZERO, null, null, null));
        });
        writer = chromium.sits("Wren", chromium.desk(), Desk.Hand.KEYBOARD, port);
        bay = chromium.sits("Tamsin", chromium.bay(), Desk.Hand.FINGER, port);
        owner = chromium.sits("Odile", chromium.office(), Desk.Hand.MOUSE, port);
        comesIntoAnEmptyShop();
        isHeardAtTheCounter();
        isTestedInTheBay();
        isFoundEstimatedAndAgreed();
        isSwapped();
        isProved();
        isBilledPaidAndHandedBack();
        isSealed();
        isWatchedAndComesBack();
        isLearnedFrom();
    }

    /** Before the first customer every list says in words what will stand there. */
    private void comesIntoAnEmptyShop() {
        owner.signsIn("odile", Crew.PASSWORD);
        for (String list : new String[] {
            "/counter",
            "/bay",
            "/tickets/new",
            "/follow-ups",
            "/invoices",
            "/known-good",
            "/claims",
            "/dossiers",
            "/comebacks",
            "/comebacks/list",
            "/journal",
            "/find?q=finch",
            "/set-up/limits",
            "/set-up/terminals",
            "/set-up/api-keys"
        }) {
            owner.opens(list);
            assertThat(owner.main().innerText().strip().length())
                    .as("words at " + list)
                    .isGreaterThan(40);
            assertThat(owner.breaks()).as(list + " of an empty shop").isEmpty();
            assertThat(owner.sticksOutWhenNarrow())
                    .as(list + " of an empty shop at 320 px")
                    .isEmpty();
        }
        owner.opens("/comebacks").reads("Here will stand how many repairs came back");
        owner.opens("/known-good").reads("Nothing yet.");
        owner.opens("/counter").readsHeading("No car is waiting");
    }

    /** Keyboard only, from the sign-in to the agreement. */
    private void isHeardAtTheCounter() {
        writer.signsIn("wren", Crew.PASSWORD).readsHeading("No car is waiting").follows("New ticket");
        writer.types("Plate, VIN, name or phone", "KL 204 B")
                .presses("Look for it")
                .reads("Nothing found", "KL 204 B")
                .follows("New customer");

        writer.presses("Keep, then the car").isRefused("Enter the phone number");
        writer.types("Name", "Grand Row Bakery")
                .types("Phone", "555 0142")
                .chooses("May we contact them, and how?", "by text message")
                .presses("Keep, then the car");

        writer.readsHeading("A car of Grand Row Bakery")
                .types("Plate", "KL 204 B")
                .types("VIN", "1M8GDM9AYKP042788")
                .types("Make", "Brightwater")
                .reads("▲")
                .types("Model", "Finch 2.2 van")
                .types("Displacement", "2.2 litres or so")
                .presses("Keep, then the ticket")
                .isRefused("Enter a number, like 3.8.");
        writer.types("VIN", "1M8GDM9AXKP042788")
                .types("Displacement", "2,2")
                .reads("The check digit agrees.", "Model year")
                .types("Cylinders", "4")
                .types("Engine family", "BW22")
                .picks("Odometer in", "km")
                .presses("Keep, then the ticket");

        writer.readsHeading("What does the customer say?")
                .types("In their own words", HARD_START)
                .presses("Open the ticket")
                .isRefused("Choose what kind of symptom it is.", "Enter what the odometer shows.");
        writer.picks("Kind of symptom", "Hard to start when cold")
                .types("Odometer", "86940")
                .types("Key tag", "7")
                .chooses("Replaced parts", "give them back")
                .chooses("May we road-test it?", "yes")
                .presses("Open the ticket");

        writer.readsHeading("Hard to start when cold")
                .reads(HARD_START)
                .types("Since when?", "since the first frost")
                .chooses("Engine cold or hot?", "cold")
                .presses("Keep, and one more symptom");
        writer.types("In their own words", STUMBLE)
                .picks("Kind of symptom", "Rough idle")
                .presses("Keep");
        writer.reads(STUMBLE)
                .chooses("Engine cold or hot?", "both")
                .chooses("In which driving phase?", "idle")
                .chooses("Is a warning lamp on?", "steady")
                .presses("Keep, then the agreement");

        writer.readsHeading("What was agreed?").presses("Keep the agreement").isRefused("Write down what was said");
        writer.types("In their words", "Go ahead and look, but ring me before you mend anything.")
                .presses("Keep the agreement");
        ticket = writer.at("/tickets/(\\d+)");
        writer.reads(HARD_START, STUMBLE, "since the first frost", "the bay's move", "Go ahead and look");
        assertThat(writer.keys()).as("keys from the sign-in to the agreement").isLessThan(1500);
        writer.by(Desk.Hand.MOUSE);
    }

    private void isTestedInTheBay() {
        bay.signsIn("odile", Crew.PASSWORD)
                .opens("/set-up/terminals")
                .types("Make this browser a bay terminal", "Bay 2")
                .presses("Enrol this browser")
                .reads("This browser is the terminal Bay 2")
                .presses("Sign out");
        bay.opens("/bay").readsHeading("Who works at Bay 2 now?").followsAbout("Tamsin Rook");
        pin("9999");
        bay.reads("This is not the right PIN");
        pin(Crew.PIN);
        assertThat(bay.page.locator(".bar .who")).hasText("Tamsin Rook");

        bay.readsHeading("Cars in the bay").followsAbout(ticket);
        bay.presses("Take it in hand").reads("with Tamsin Rook", STUMBLE);

        bay.opens("/bay/" + ticket + "/tests/reproduce")
                .presses("Begin")
                .isRefused("Choose the symptom this test bears on.");
        begins("Reproduce the complaint");
        bay.types("Coolant", "88").presses("Begin");
        answers("seen as described");
        finishes("Reproduce the complaint");

        begins("Codes, freeze frame and readiness");
        bay.picks("Read with", "Hand tester").presses("Begin");
        bay.types("Codes, several in a row", "P01X1").presses("Keep").isRefused("P01X1");
        codes("P0171");
        codes("P0171");
        bay.presses("No codes");
        answers("some not ready");
        reads("3", "3");
        reads("34", "34 %");
        reads("1850", "1850 rpm");
        finishes("Codes, freeze frame and readiness");
        String before = causes();
        bay.picture("bay");

        begins("Fuel trims");
        bay.picks("Read with", "Hand tester")
                .types("Coolant", "40")
                .presses("Begin")
                .isRefused("not hot yet");
        bay.types("Coolant", "88").presses("Begin");
        reads("4", "4 %");
        reads("14", "14 %");
        bay.reads("outside");
        reads("5", "5 %");
        reads("16", "16 %");
        finishes("Fuel trims");

        begins("Mass air flow, live data");
        bay.picks("Read with", "Hand tester").presses("Begin");
        reads("9999", null);
        bay.isRefused("lies between").press(bay.page.locator("[data-key=clear]"));
        reads("1.5", "1.5 g/s");
        reads("800", "800 rpm");
        bay.reads("Absolute load", "outside");
        assertThat(bay.page.locator(".answered svg").first()).isVisible();
        bay.picture("reading");
        reads("6.0", "6.0 g/s");
        reads("2500", "2500 rpm");
        finishes("Mass air flow, live data");

        begins("Calculated load");
        bay.picks("Read with", "Hand tester").presses("Begin");
        reads("12", "12 %");
        reads("11", "11 %");
        skips();
        answers("smooth");
        finishes("Calculated load");

        begins("Air-flow sensor, supply and ground");
        bay.picks("Read with", "Bay meter").presses("Begin");
        reads("12.55", "12.55 V");
        reads("12.48", "12.48 V");
        bay.reads("within", "common practice");
        reads("0.02", "0.02 V");
        finishes("Air-flow sensor, supply and ground");

        begins("Air-flow sensor, signal voltage");
        bay.picks("Read with", "Bay meter").presses("Begin");
        reads("0.42", "0.42 V");
        bay.reads("outside", "low");
        skips();
        reads("1.20", "1.20 V");
        finishes("Air-flow sensor, signal voltage");

        begins("Air-flow sensor, slow sweep");
        bay.presses("Begin");
        bay.types("Two columns, pasted", "time only").presses("Keep").isRefused("two columns");
        bay.types("Two columns, pasted", sweep(true)).presses("Keep");
        bay.reads("flat");
        finishes("Air-flow sensor, slow sweep");

        isLogged();
        assertThat(causes())
                .as("the ranking after the tests")
                .isNotEqualTo(before)
                .contains("Air-flow sensor reads too low");
        bay.opens("/tickets/" + ticket + "/symptoms/2/causes")
                .readsHeading("What could it be")
                .reads("Air-flow sensor reads too low", "lean");
    }

    /** The first cause of the stumble, as the ticket shows it. */
    private String causes() {
        bay.opens("/tickets/" + ticket + "/symptoms/2/causes");
        String first = bay.page.locator(".causes li").first().innerText();
        bay.opens("/bay/" + ticket);
        return first;
    }

    private void begins(String procedure) {
        bay.opens("/bay/" + ticket).opensUp("All procedures");
        bay.press(bay.page
                .locator("details a")
                .filter(new Locator.FilterOptions().setHasText(Pattern.compile("\\b" + Desk.literally(procedure))))
                .last());
        bay.readsHeading(procedure).reads("Before you begin").chooses("Bears on", "Hard to start when cold");
        bay.chooses("Bears on", "Rough idle");
    }

    /** Types it on the pad and keeps it; what is shown then is what was meant. */
    private void reads(String typed, String shown) {
        for (char key : typed.toCharArray()) {
            bay.press(bay.page.locator("[data-pad] [data-key='" + key + "']"));
        }
        bay.press(bay.page.locator("[data-pad] .keep"));
        if (shown != null) {
            bay.reads(shown);
        }
    }

    private void answers(String words) {
        bay.press(bay.page.locator(".big-choices button").filter(new Locator.FilterOptions().setHasText(words)));
    }

    private void codes(String codes) {
        bay.types("Codes, several in a row", codes).presses("Keep");
    }

    private void skips() {
        bay.follows("Skip this one");
    }

    private void finishes(String procedure) {
        bay.presses("Finish the test").reads(procedure + " is finished.");
    }

    /** A signal that rises with the speed; one that stands still between 1,800 and 2,300 rpm when it is told to. */
    private static String sweep(boolean sticks) {
        var lines = new StringBuilder();
        for (int step = 0; step <= 200; step++) {
            double rpm = 800 + step * 13.5;
            double felt = !sticks || rpm <= 1800 ? rpm : Math.max(1800, rpm - 500);
            lines.append(String.format(Locale.ROOT, "%.1f\t%.4f%n", step / 10.0, 0.5 + (felt - 800) * 0.0008));
        }
        return lines.toString();
    }

    private void pin(String digits) {
        for (char digit : digits.toCharArray()) {
            bay.press(bay.page.locator("[data-key='" + digit + "']"));
        }
        bay.presses("Enter");
    }

    private void isFoundEstimatedAndAgreed() {
        bay.opens("/tickets/" + ticket + "/symptoms/2/findings/new")
                .presses("Keep the cause")
                .isRefused("cause");
        bay.chooses("The likeliest first", "Air-flow sensor reads too low")
                .types("What you saw", "Filter oil on the film; the signal stands still around 2,000 rpm")
                .types("What is to be done", "Renew the air-flow sensor and adapt it")
                .presses("Keep the cause");

        writer.opens("/tickets/" + ticket + "/symptoms/1/ending")
                .presses("End the symptom")
                .isRefused("Choose how it ends.");
        writer.chooses("How does it end?", "noted, not repaired")
                .types("Who decided, and what was tried or told?", "Ines of the bakery wants to wait for winter.")
                .presses("End the symptom");

        writer.opens("/tickets/" + ticket)
                .reads("Air-flow sensor reads too low")
                .follows("Write the estimate");
        writer.readsHeading("Write the estimate").reads("Found: ");
        writer.types("Line 3 what", "Fit and adapt the air-flow sensor")
                .types("Line 3 quantity", "0.8")
                .types("Line 4 what", "Air-flow sensor")
                .types("Line 4 part number", "0 280 217 120")
                .presses("Keep the estimate")
                .isRefused("Line 4: enter the price of one.");
        writer.types("Line 4 each", "190").presses("Keep the estimate");
        writer.reads("Labour: Fit and adapt the air-flow sensor", "88.00", "190.00", "278.00 USD")
                .chooses("Put it to the customer", "by phone")
                .presses("It is with the customer");
        writer.reads("customer's move").opens("/counter").reads("Customer", "Has the estimate");
        writer.opens("/tickets/" + ticket)
                .press(writer.page.locator("a", new Page.LocatorOptions().setHasText("Record the answer")));
        writer.presses("Keep the agreement").isRefused("Write down what was said");
        writer.types("In their words", "Fine, do it; I want the old one.").presses("Keep the agreement");
        writer.reads("the bay's move", "Repair it.");
        // what was agreed for diagnosis and repair together
        writer.opens("/tickets/" + ticket + "/invoice").reads("Agreed 373.00");
    }

    private void isSwapped() {
        bay.opens("/bay/" + ticket).follows("Swap a part");
        bay.types("What part it is", "Air-flow sensor")
                .presses("Keep both parts")
                .isRefused("number", "old part looked like");
        bay.types("Number, as read", "0 280 217 120")
                .types("What it looked like", "oily film, seal hard")
                .picks("Where it is now", "kept in the shop to be shown")
                .types("Number, as printed", "0280217124")
                .types("Serial or lot", "L-2231")
                .types("Supplier", "Tern Parts")
                .types("What the shop paid", "140")
                .chooses("Charged", "by hand")
                .types("Price by hand, before tax", "215");
        bay.into(bay.page.locator("#f-oldMaker"), "Halden")
                .into(bay.page.locator("#f-maker"), "Halden")
                .presses("Keep both parts");
        bay.reads("0 280 217 120", "0280217124", "Still open")
                .presses("Call it final")
                .isRefused("number");
        bay.chooses("Why this part is right", "its number takes the place")
                .presses("Keep the reason")
                .isRefused("source");
        bay.chooses("Why this part is right", "its number takes the place")
                .types("Who says that it takes its place, and where", "Tern Parts, catalogue of 2 March, page 14")
                .presses("Keep the reason")
                .reads("Tern Parts, catalogue of 2 March, page 14");
        bay.gives("Photo", "old.jpg", "image/jpeg", photo("0 280 217 120"))
                .chooses("It shows", "the old part")
                .presses("Keep the photo");
        bay.gives("Photo", "new.jpg", "image/jpeg", photo("0280217124"))
                .chooses("It shows", "the part fitted")
                .presses("Keep the photo");
        bay.gives("Photo", "note.jpg", "image/jpeg", "no picture at all".getBytes())
                .chooses("It shows", "the old part")
                .presses("Keep the photo")
                .isRefused("picture");

        bay.follows("Answer the checks");
        for (String check : new String[] {
            "Same type and style as the old part?",
            "Same connector, same number of pins?",
            "Flow mark seen on the old part before it came out?",
            "Flow mark seen on the fitted part?",
            "Does the mark point the same way as the old one, matched to the engine side?",
            "Seal in place, clean, not pinched?",
            "Clamps tight and where they were?",
            "Intake clean, nothing left inside?",
            "Connector locked?"
        }) {
            bay.chooses(check, "yes");
        }
        bay.presses("Keep the answers").presses("Call it final").isRefused("Answer “Old part kept as agreed?”.");
        bay.follows("Answer the checks")
                .chooses("Old part kept as agreed?", "yes")
                .presses("Keep the answers");
        bay.reads("Everything is answered.").picture("swap", 1200).presses("Call it final");
        bay.reads("Air-flow sensor 0280217124 is final.");
        writer.opens("/tickets/" + ticket).reads("Another part number than agreed", "0280217124 is fitted.");

        String work = "/tickets/" + ticket + "/symptoms/2/labour/new";
        bay.opens(work).presses("Keep it").isRefused("Say what was done.");
        bay.types("Work", "Fitted the sensor, cleared the adaptation")
                .types("Time spent", "0.7")
                .presses("Keep it")
                .isRefused("Get the rise of 25.00 agreed first.");
        writer.opens("/tickets/" + ticket + "/authorisations/new")
                .chooses("Agreed to", "a rise")
                .types("Amount, with tax", "25")
                .types("In their words", "All right, if the newer one is better.")
                .presses("Keep the agreement");
        bay.presses("Keep it").reads("Prove the repair");
    }

    /** A log of a drive is kept and understood; a log of this stand becomes readings. */
    private void isLogged() {
        begins("Mass air flow, live data");
        bay.picks("Read with", "Hand tester").presses("Begin");
        String test = bay.at("/measurements/(\\d+)");
        bay.opens("/measurements/" + test + "/log")
                .readsHeading("Logs of the scan tool")
                .presses("Bring in the log")
                .isRefused("Choose the log the scan tool wrote.");
        Optional<Path> drive = drive();
        if (drive.isPresent()) {
            // enviroCar contributors, ODbL 1.0: 368 samples, 42.4 km by the trapezoid rule
            bay.gives("Log file", "drive.csv", "text/csv", bytes(drive.get())).presses("Bring in the log");
            bay.readsHeading("drive.csv").reads("368 rows", "42.4 km");
        }
        bay.opens("/measurements/" + test + "/log")
                .gives("Log file", "stand.csv", "text/csv", standingLog().getBytes(UTF_8))
                .presses("Bring in the log");
        bay.readsHeading("stand.csv")
                .reads("Readings of this test", "Air flow at idle")
                .presses("Turn into readings");
        bay.reads("taken from the log", "g/s");
        finishes("Mass air flow, live data");
    }

    private static Optional<Path> drive() {
        return Stream.of(System.getProperty("open.data", "../shared/data"))
                .map(folder -> Path.of(folder, "envirocar-track-1.csv"))
                .filter(Files::isReadable)
                .findFirst();
    }

    /** Half a minute at idle, half a minute at 2,500 rpm: this engine, hot and standing, with a sensor that under-reads. */
    private static String standingLog() {
        var log = new StringBuilder("Time (s),Engine RPM (rpm),MAF (g/s),Coolant temp (°C),Vehicle speed (km/h)\n");
        for (int second = 0; second < 70; second++) {
            boolean fast = second >= 35;
            int wobble = second % 3 - 1;
            log.append("%d,%d,%.2f,89,0\n"
                    .formatted(second, (fast ? 2500 : 802) + 4 * wobble, (fast ? 6.02 : 1.51) + 0.01 * wobble));
        }
        return log.toString();
    }

    private void isProved() {
        String proof = "/tickets/" + ticket + "/symptoms/2/proof";
        bay.opens(proof)
                .readsHeading("Before and after")
                .reads("Not proved yet.", "is not repeated yet")
                .presses("End it by road test only")
                .isRefused("Say what became of the codes.");

        again(proof, "Reproduce the complaint");
        answers("not seen");
        finishes("Reproduce the complaint");
        again(proof, "Codes, freeze frame and readiness");
        bay.presses("No codes").presses("No codes");
        finishes("Codes, freeze frame and readiness");
        again(proof, "Fuel trims");
        reads("1", "1 %");
        reads("2", "2 %");
        reads("0", "0 %");
        reads("3", "3 %");
        finishes("Fuel trims");
        again(proof, "Mass air flow, live data");
        reads("1.6", "1.6 g/s");
        reads("800", "800 rpm");
        reads("10.9", "10.9 g/s");
        reads("2500", "2500 rpm");
        finishes("Mass air flow, live data");
        bay.opens(proof).reads("is still outside");
        again(proof, "Mass air flow, live data");
        reads("3.5", "3.5 g/s");
        reads("800", "800 rpm");
        reads("10.9", "10.9 g/s");
        reads("2500", "2500 rpm");
        finishes("Mass air flow, live data");
        again(proof, "Air-flow sensor, signal voltage");
        reads("0.95", "0.95 V");
        skips();
        reads("2.20", "2.20 V");
        finishes("Air-flow sensor, signal voltage");
        again(proof, "Air-flow sensor, slow sweep");
        bay.types("Two columns, pasted", sweep(false)).presses("Keep");
        finishes("Air-flow sensor, slow sweep");

        bay.opens(proof)
                .reads("The measurements prove it.", "6.02 g/s", "3.5 g/s", "P0171")
                .picture("proof")
                .presses("It is proved")
                .isRefused("Say what became of the codes.", "Say whether the monitors are ready.");
        bay.chooses("Trouble codes", "recorded, then cleared")
                .chooses("Monitors", "some not ready yet")
                .types("Which are not ready", "catalyst and evaporation want one more drive")
                .chooses("Road test", "the symptom is gone")
                .presses("It is proved");
        bay.opens(proof).reads("Proved by the same test.", "was outside and is within");
    }

    private void again(String proof, String procedure) {
        bay.opens(proof);
        Locator test = bay.page
                .locator("section")
                .filter(new Locator.FilterOptions()
                        .setHas(bay.page.locator("h2", new Page.LocatorOptions().setHasText(procedure))));
        bay.press(test.locator("a.go, a.do"));
        bay.readsHeading(procedure);
        for (String noted : new String[] {"coolant", "rpm"}) {
            Locator before = bay.page.locator("#f-" + noted + "-hint");
            if (before.count() > 0) {
                bay.page.locator("#f-" + noted).fill(before.textContent().replaceAll("[^0-9.]|\\.$", ""));
            }
        }
        if (bay.page.locator("#f-same").count() > 0) bay.page.locator("#f-same").check();
        bay.presses("Begin");
    }

    private void isBilledPaidAndHandedBack() {
        writer.opens("/tickets/" + ticket)
                .reads("Write the invoice.")
                .picture("ticket")
                .pictureInTheDark("ticket-dark");
        writer.pictureNarrow("ticket-narrow").follows("Write the invoice");
        writer.readsHeading("The invoice, before it is issued").reads("Agreed 398.00, charged 398.00 with tax.");
        writer.presses("Issue the invoice");
        String number = writer.at("/invoices/([^/?]+)");
        writer.readsHeading("Invoice " + number)
                .reads(HARD_START, STUMBLE, "Air-flow sensor", "0280217124", "1.5 g/s", "3.5 g/s", "398.00")
                .picture("invoice", 1600);
        var paper = writer.page.context().request().get("/invoices/" + number + ".pdf");
        assertThat(paper.status()).isEqualTo(200);
        assertThat(new String(paper.body(), 0, 5, US_ASCII)).isEqualTo("%PDF-");
        writer.opens("/tickets/" + ticket + "/invoice", 200).reads("398.00");

        writer.opens("/invoices/" + number).follows("Take the payment");
        writer.readsHeading("398.00 is owed")
                .types("Paid", "500")
                .chooses("How", "card")
                .presses("Book the payment")
                .isRefused("Only 398.00 is owed.");
        writer.types("Paid", "398").presses("Book the payment").reads("Nothing is owed");

        writer.opens("/tickets/" + ticket).follows("Hand it back");
        writer.reads("Old parts", "proved").presses("Hand it back").isRefused("Enter what the odometer shows now.");
        writer.types("Odometer out", "86955").presses("Hand it back");
        writer.reads("Handed back; the follow-up is not due yet.");
    }

    private void isSealed() {
        writer.opens("/tickets/" + ticket + "/symptoms/2/dossiers/new")
                .readsHeading("Seal a dossier")
                .presses("Seal it");
        String code = writer.at("/dossiers/([^/?]+)");
        writer.readsHeading("Dossier " + code).picture("dossier");
        byte[] zip = writer.page
                .context()
                .request()
                .get("/dossiers/" + code + ".zip")
                .body();
        assertThat(checkedByHand(zip)).contains("dossier.pdf: OK").doesNotContain("FAILED");

        writer.opens("/verify").presses("Check it").isRefused("ZIP");
        writer.opens("/verify")
                .gives("The ZIP", code + ".zip", "application/zip", zip)
                .presses("Check it");
        writer.reads("Whole and genuine");
    }

    /** What {@code sha256sum -c} says of the unpacked ZIP, as anybody can try it. */
    private static String checkedByHand(byte[] zip) {
        try {
            Path folder = Files.createTempDirectory("dossier");
            try (var entries = new ZipInputStream(new ByteArrayInputStream(zip))) {
                for (ZipEntry entry = entries.getNextEntry(); entry != null; entry = entries.getNextEntry()) {
                    Path file = folder.resolve(entry.getName()).normalize();
                    Files.createDirectories(file.getParent());
                    Files.copy(entries, file);
                }
            }
            Process check = new ProcessBuilder("sha256sum", "-c", "SHA256SUMS")
                    .directory(folder.toFile())
                    .redirectErrorStream(true)
                    .start();
            String said = new String(check.getInputStream().readAllBytes(), UTF_8);
            assertThat(check.waitFor()).as(said).isZero();
            return said;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } catch (InterruptedException e) {
            throw new IllegalStateException(e);
        }
    }

    private void isWatchedAndComesBack() {
        writer.opens("/follow-ups").readsNot("Today");
        clock.hold(clock.instant().plus(Duration.ofDays(7)));
        writer.signsIn("wren", Crew.PASSWORD).opens("/counter").reads("Call the customer: the follow-up is due.");
        writer.opens("/follow-ups").reads("Today", "Brightwater Finch").follows(ticket);
        writer.readsHeading("Did it stay away?").presses("Keep it").isRefused("");
        writer.chooses("Rough idle", "came back")
                .types("In the customer’s words", "Two days of peace, then it hiccuped again.")
                .presses("Keep it");
        writer.reads("Rough idle came back")
                .types("Odometer now", "")
                .presses("Open the comeback")
                .isRefused("Enter what the odometer shows.");
        writer.types("What the customer says now", "It hiccups again at the lights.")
                .types("Odometer now", "87310")
                .presses("Open the comeback");
        String comeback = writer.at("/tickets/(\\d+)");
        assertThat(comeback).isNotEqualTo(ticket);
        writer.reads("comeback of " + ticket, "It hiccups again at the lights.", "covered");
        writer.opens("/counter").reads("Comeback.");
    }

    private void isLearnedFrom() {
        owner.signsIn("odile", Crew.PASSWORD).readsHeading("waiting").reads("Say why it came back.");
        owner.opens("/tickets/" + ticket + "/symptoms/2/return")
                .presses("Keep the reason")
                .isRefused("reason");
        owner.chooses("Reason", "incomplete work")
                .types("How it came about", "The filter that oiled the film stayed in.")
                .presses("Keep the reason");

        owner.opens("/comebacks").reads("1 of 1", "Air-flow sensor reads too low", "incomplete work");
        var figures = new LinkedHashMap<String, String>();
        for (Locator link :
                owner.page.locator("#main a[href*='/comebacks/list']").all()) {
            if (link.innerText().strip().matches("\\d+")) {
                figures.put(link.getAttribute("href"), link.innerText().strip());
            }
        }
        assertThat(figures).isNotEmpty();
        figures.forEach((list, figure) -> {
            owner.opens(list);
            assertThat(owner.page.locator("#length")).hasText(figure);
        });
        owner.opens("/comebacks/list").reads(ticket, "came back after").opens("/comebacks/list?months=0", 200);

        owner.opens("/known-good?family=BW22")
                .readsHeading("Known good")
                .reads("Engine family BW22", "Air flow at idle");
        owner.page
                .locator("#main th a")
                .filter(new Locator.FilterOptions().setHasText("Mass air flow, live data"))
                .click();
        owner.reads("3.5 g/s", "Ticket " + ticket, "The complaint came back.");
    }

    static byte[] photo(String words) {
        var picture = new BufferedImage(640, 480, BufferedImage.TYPE_INT_RGB);
        var pen = picture.createGraphics();
        pen.setColor(new Color(0x77, 0x77, 0x70));
        pen.fillRect(0, 0, 640, 480);
        pen.setColor(Color.WHITE);
        pen.fillRoundRect(140, 140, 360, 200, 40, 40);
        pen.setColor(Color.BLACK);
        pen.setFont(pen.getFont().deriveFont(40f));
        pen.drawString(words, 170, 255);
        pen.dispose();
        var bytes = new ByteArrayOutputStream();
        try {
            ImageIO.write(picture, "jpeg", bytes);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return bytes.toByteArray();
    }

    private static byte[] bytes(Path file) {
        try {
            return Files.readAllBytes(file);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
