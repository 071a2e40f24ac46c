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
    void letsTimeGoOn() {
        clock.hold(null);
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
        try (writer;
                bay;
                owner) {
            isHeardAtTheCounter();
            isTestedInTheBay();
        }
    }

    /** Keyboard only, from the sign-in to the agreement. */
    private void isHeardAtTheCounter() {
        writer.signsIn("wren", Crew.PASSWORD).readsHeading("No car is waiting").follows("New ticket");
        writer.types("Plate, VIN, name or phone", "KL 204 B")
                .presses("Look for it")
                .reads("Nothing found", "KL 204 B")
                .follows("New customer");

        writer.types("Name", "").presses("Keep, then the car").isRefused("name");
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
                .isRefused("2.2");
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
                .presses("Keep, then the questions");
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

        bay.readsHeading("Cars in the bay").picture("bay").followsAbout(ticket);
        bay.presses("Take it in hand").reads("with Tamsin Rook", STUMBLE);
        begins("Reproduce the complaint", 0);
        bay.presses("seen as described");
        bay.reads("Reproduced");
    }

    private void begins(String procedure, int coolant) {
        bay.opensUp("All procedures").followsAbout(procedure);
    }

    private void pin(String digits) {
        for (char digit : digits.toCharArray()) {
            bay.press(bay.page.locator("[data-key='" + digit + "']"));
        }
        bay.presses("Enter");
    }
}
