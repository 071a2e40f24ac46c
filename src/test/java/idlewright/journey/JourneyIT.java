package idlewright.journey;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import idlewright.bench.Instruments;
import idlewright.bench.rules.InstrumentKind;
import idlewright.frame.MovableClock;
import idlewright.ground.WithDatabase;
import idlewright.people.People;
import java.math.BigDecimal;
import java.util.regex.Pattern;
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
@WithDatabase
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
        isHeardAtTheCounter();
        isTestedInTheBay();
        isFoundEstimatedAndAgreed();
        isSwapped();
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
                .isRefused("Choose what kind of complaint it is.", "Enter what the odometer shows.");
        writer.picks("Kind of complaint", "Hard to start when cold")
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
                .picks("Kind of complaint", "Rough idle")
                .presses("Keep");
        writer.reads(STUMBLE)
                .chooses("Engine cold or hot?", "both")
                .chooses("In which driving phase?", "idle")
                .chooses("Is a warning lamp on?", "steady")
                .presses("Keep, then the agreement");

        writer.readsHeading("What was agreed?")
                .presses("Keep the agreement")
                .isRefused("Write down what was said");
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
                .isRefused("Choose the complaint this test bears on.");
        begins("Reproduce the complaint");
        bay.presses("Begin");
        answers("seen as described");
        finishes("Reproduce the complaint");

        begins("Codes, freeze frame and readiness");
        bay.picks("Read with", "Hand tester").presses("Begin");
        bay.types("Codes, several in a row", "P01X1").presses("Keep").isRefused("P01X1");
        codes("P0171");
        codes("P0171");
        bay.presses("No codes");
        answers("some not ready");
        reads("34", "34 %");
        reads("1850", "1,850 rpm");
        finishes("Codes, freeze frame and readiness");
        String before = causes();

        begins("Fuel trims");
        bay.picks("Read with", "Hand tester").types("Coolant", "40").presses("Begin").isRefused("not hot yet");
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
        bay.isRefused("g/s");
        reads("1.5", "1.5 g/s");
        reads("800", "800 rpm");
        bay.reads("Absolute load", "outside");
        assertThat(bay.page.locator(".answered svg").first()).isVisible();
        bay.picture("reading");
        reads("6.0", "6.0 g/s");
        reads("2500", "2,500 rpm");
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
        bay.types("Two columns, pasted", "time only")
                .presses("Keep")
                .isRefused("two columns");
        bay.types("Two columns, pasted", sweepWithAFlatPlace()).presses("Keep");
        bay.reads("flat");
        finishes("Air-flow sensor, slow sweep");

        assertThat(causes()).as("the ranking after the tests").isNotEqualTo(before).contains("Air-flow sensor reads too low");
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
            assertThat(bay.page.locator(".answered")).containsText(shown);
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

    /** A signal that rises with the speed and stands still between 1,800 and 2,200 rpm. */
    private static String sweepWithAFlatPlace() {
        var lines = new StringBuilder();
        for (int step = 0; step <= 200; step++) {
            double second = step / 10.0;
            double rpm = 800 + step * 13.5;
            double volts = 0.5 + (rpm > 1800 && rpm < 2300 ? 1000 : rpm > 2300 ? rpm - 1300 : rpm - 800) * 0.0008;
            lines.append(String.format(java.util.Locale.ROOT, "%.1f\t%.4f%n", second, volts));
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
        bay.opens("/tickets/" + ticket + "/symptoms/2/findings/new").presses("Keep the cause").isRefused("cause");
        bay.chooses("The likeliest first", "Air-flow sensor reads too low")
                .types("What you saw", "Filter oil on the film; the signal stands still around 2,000 rpm")
                .types("What is to be done", "Renew the air-flow sensor and adapt it")
                .presses("Keep the cause");

        writer.opens("/tickets/" + ticket + "/symptoms/1/ending").presses("End the thread").isRefused("Choose how it ends.");
        writer.chooses("How does it end?", "noted, not repaired")
                .types("Who decided, and what was tried or told?", "Ines of the bakery wants to wait for winter.")
                .presses("End the thread");

        writer.opens("/tickets/" + ticket).reads("Air-flow sensor reads too low").follows("Write the estimate");
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
        writer.opens("/tickets/" + ticket).press(writer.page.locator("a", new Page.LocatorOptions().setHasText("Record the answer")));
        writer.presses("Keep the agreement").isRefused("Write down what was said");
        writer.types("In their words", "Fine, do it; I want the old one.").presses("Keep the agreement");
        writer.reads("the bay's move", "Repair it.");
        // what was agreed for diagnosis and repair together
        writer.opens("/tickets/" + ticket + "/invoice").reads("Agreed 373.00");
    }

    private void isSwapped() {
        bay.opens("/bay/" + ticket).follows("Swap a part");
        bay.types("What part it is", "Air-flow sensor").presses("Keep both parts").isRefused("number", "old part looked like");
        bay.types("Number, as read", "0 280 217 120")
                .types("What it looked like", "oily film, seal hard")
                .picks("Where it is now", "kept in the shop to be shown")
                .types("Number, as printed", "0280217124")
                .types("Serial or lot", "L-2231")
                .types("Supplier", "Tern Parts")
                .types("What the shop paid", "140")
                .chooses("Charged", "by hand")
                .types("Price by hand, before tax", "215");
        bay.into(bay.page.locator("#f-oldMaker"), "Halden").into(bay.page.locator("#f-maker"), "Halden").presses("Keep both parts");
        bay.reads("0 280 217 120", "0280217124", "Still open").presses("Call it final").isRefused("number");
        bay.chooses("Why this part is right", "its number takes the place")
                .presses("Keep the reason")
                .isRefused("source");
        bay.chooses("Why this part is right", "its number takes the place")
                .types("Who says that it takes its place, and where", "Tern Parts, catalogue of 2 March, page 14")
                .presses("Keep the reason")
                .reads("Tern Parts, catalogue of 2 March, page 14");
        bay.gives("Photo", "old.jpg", "image/jpeg", photo("0 280 217 120")).chooses("It shows", "the old part").presses("Keep the photo");
        bay.gives("Photo", "new.jpg", "image/jpeg", photo("0280217124")).chooses("It shows", "the part fitted").presses("Keep the photo");
        bay.gives("Photo", "note.jpg", "image/jpeg", "no picture at all".getBytes()).chooses("It shows", "the old part").presses("Keep the photo").isRefused("picture");

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
        bay.presses("Keep the answers").presses("Call it final").isRefused("old part");
        bay.follows("Answer the checks").chooses("Old part kept as agreed?", "yes").presses("Keep the answers");
        bay.reads("Everything is answered.").picture("swap", true).presses("Call it final").isRefused("rise of 25.00");

        writer.opens("/tickets/" + ticket + "/authorisations/new")
                .chooses("Agreed to", "a rise")
                .types("Amount, with tax", "25")
                .types("In their words", "All right, if the newer one is better.")
                .presses("Keep the agreement");
        bay.presses("Call it final");
        bay.opens("/tickets/" + ticket).reads("Air-flow sensor", "0280217124");
        bay.opens("/tickets/" + ticket + "/symptoms/2/labour/new").presses("Keep it").isRefused("what was done");
        bay.types("Work", "Fitted the sensor, cleared the adaptation").types("Time spent", "0.7").presses("Keep it");
        bay.reads("the bay's move", "Prove the repair.");
    }

    private static byte[] photo(String words) {
        var picture = new java.awt.image.BufferedImage(640, 480, java.awt.image.BufferedImage.TYPE_INT_RGB);
        var pen = picture.createGraphics();
        pen.setColor(new java.awt.Color(0x77, 0x77, 0x70));
        pen.fillRect(0, 0, 640, 480);
        pen.setColor(java.awt.Color.WHITE);
        pen.fillRoundRect(140, 140, 360, 200, 40, 40);
        pen.setColor(java.awt.Color.BLACK);
        pen.setFont(pen.getFont().deriveFont(40f));
        pen.drawString(words, 170, 255);
        pen.dispose();
        var bytes = new java.io.ByteArrayOutputStream();
        try {
            javax.imageio.ImageIO.write(picture, "jpeg", bytes);
        } catch (java.io.IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
        return bytes.toByteArray();
    }
}
