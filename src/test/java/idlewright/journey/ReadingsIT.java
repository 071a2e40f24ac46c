package idlewright.journey;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import com.google.gson.JsonObject;
import com.microsoft.playwright.CDPSession;
import com.microsoft.playwright.Locator;
import idlewright.bench.Bench;
import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.InstrumentKind;
import idlewright.bench.rules.Motion;
import idlewright.demo.Cast;
import idlewright.intake.Customers;
import idlewright.intake.SymptomRef;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.people.People;
import java.math.BigDecimal;
import java.util.List;
import java.util.Locale;
import java.util.function.Supplier;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.context.ApplicationContext;
import org.springframework.jdbc.core.simple.JdbcClient;

/** What a technician sees of what a reading means: logs, sweeps, and the band picture with the ground it stands on. */
@InTheDemoShop
@DisplayName("What the readings mean is seen in the bay")
class ReadingsIT {

    private static Chromium chromium;

    @Autowired
    private ApplicationContext house;

    @Autowired
    private JdbcClient jdbc;

    @LocalServerPort
    private int port;

    private Desk bay;

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

    @BeforeEach
    void signsIn() {
        bay = chromium.sits("Tamsin", chromium.bay(), Desk.Hand.FINGER, port)
                .signsIn(Cast.TAMSIN.signIn(), Cast.TAMSIN.password());
    }

    @AfterEach
    void leaves() {
        bay.close();
    }

    @Test
    @DisplayName(
            "a log is sent with a bar, its columns are put right by hand and remembered, its states become readings")
    void takesReadingsFromALogWhoseColumnsAreSaidByHand() {
        SymptomRef car = car("LG10", "1.8", 4);
        String test = begun(car, "air-flow", null);
        bay.opens(test + "/log").gives("Log file", "stand.csv", "text/csv", log(0).getBytes(UTF_8));
        CDPSession line = slow(bay);
        bay.page.getByText("Bring in the log").last().tap();
        Locator bar = bay.page.locator(".sending progress");
        assertThat(bay.page.locator(".sending p")).hasText(Pattern.compile("[1-9]\\d? % sent"));
        assertThat((double) ((Number) bar.evaluate("e => e.value")).doubleValue())
                .as("how far the bar stands")
                .isBetween(1.0, 99.0);
        bay.picture("log-sending");
        fast(line);
        bay.readsHeading("stand.csv")
                .reads("12,000 rows", "not recognised", "Engine speed at idle")
                .readsNot("Air flow at idle");

        column("Breath").selectOption("MASS_AIR_FLOW");
        bay.presses("Read it with these columns")
                .reads("The columns are remembered for every log with these headers.", "was said by hand before")
                .reads("Air flow at idle", "Air flow at 2,500 rpm", "Hot idle from");
        assertThat(column("Breath")).hasValue("MASS_AIR_FLOW");
        assertThat(column("Breath")
                        .locator("xpath=ancestor::tr")
                        .locator("td.n")
                        .first())
                .hasText("100 %");
        bay.picture("log", 1800)
                .presses("Turn into readings")
                .reads("were taken from the log", "Absolute load at idle");

        // The same tool, the next day: nothing needs to be said again.
        bay.opens(test + "/log")
                .gives("Log file", "again.csv", "text/csv", log(1).getBytes(UTF_8))
                .presses("Bring in the log");
        bay.readsHeading("again.csv").reads("was said by hand before", "is taken already");
        assertThat(column("Breath")).hasValue("MASS_AIR_FLOW");

        bay.opens("/tickets/" + car.ticket()).reads("Mass air flow, live data", "3.60 g/s");
    }

    @Test
    @DisplayName("a sweep pasted from a spreadsheet, tabs and decimal commas, is drawn with its flat spot marked")
    void drawsAPastedSweepWithItsFlatSpotMarked() {
        bay.opens(begun(car("LG10", "1.8", 4), "sweep", null))
                .types("Two columns, pasted", sweep('\t', ','))
                .presses("Keep")
                .reads("flat spot from 4 to 5 s", "not in order");
        Locator curve = bay.page.locator(".answered figure svg").first();
        assertThat(curve).isVisible();
        assertThat(bay.page.locator(".answered figure")).containsText("flat spot");
        bay.picture("sweep", 1400);

        bay.opens(begun(car("LG10", "1.8", 4), "sweep", null))
                .types("Two columns, pasted", sweep(';', '.'))
                .presses("Keep")
                .reads("flat spot from 4");
    }

    @Test
    @DisplayName("a reading lies on its band, on each of the four grounds, and too near to the limit it is not called")
    void showsTheBandOfEachGround() {
        SymptomRef known = car("BW22", "2.2", 4);
        String fuel = begun(known, "fuel-pressure", null);
        keeps(fuel, "380");
        judged("within", "published", "Brightwater workshop sheet F-22, page 14");
        bay.picture("band-published");

        String flow = begun(known, "air-flow", null);
        keeps(flow, "3.2");
        judged("within", "known good");
        assertThat(bay.page.locator(".answered svg.band .good").count()).isPositive();
        bay.picture("band-known-good");

        String own = begun(car("V8-44", "4.4", 8), "air-flow", null);
        bay.opens(own + "?at=flow-2500.0");
        keeps(own, "24");
        judged("within", "physics");
        bay.picture("band-physics");

        String ground = begun(known, "sensor-supply", instrument(InstrumentKind.METER));
        keeps(ground, "12.40");
        keeps(ground, "12.21");
        judged("too close to call", "common practice");
        assertThat(bay.page.locator(".answered svg.band .unsure")).hasCount(1);
        bay.picture("too-close-to-call");
        keeps(ground, "0.02");
        judged("within", "common practice");
        bay.picture("band-common-practice");
    }

    /** Figures of a new hot-film sensor on a parked, hot V8 of 4.4 litres: common practice, no source. */
    @Test
    @DisplayName("the good figures of a new sensor are called good, 12.04 V with the key on among them")
    void callsTheGoodFiguresOfANewSensorGood() {
        SymptomRef car = car("V8-45", "4.4", 8);
        String flow = begun(car, "air-flow", null);
        keeps(flow, "4.9");
        keeps(flow, "680");
        judged("within", "Absolute load at idle");
        keeps(flow, "24");
        keeps(flow, "2500");
        bay.reads("22.1 %", "within").readsNot("outside");

        String load = begun(car, "load", null);
        keeps(load, "2.7");
        bay.readsNot("outside");
        keeps(load, "14");
        bay.reads("not judged", "22").readsNot("outside");
        bay.picture("tool-load");

        String supply = begun(car, "sensor-supply", instrument(InstrumentKind.METER));
        keeps(supply, "12.10");
        bay.readsNot("outside", "discharged", "charge");
        keeps(supply, "12.04");
        judged("within", "Battery less supply");
        bay.readsNot("outside", "discharged");
        bay.picture("key-on-supply");

        String signal = begun(car, "sensor-signal", instrument(InstrumentKind.METER));
        keeps(signal, "-0.88");
        bay.reads("0.88 V", "probes").readsNot("outside");
        bay.press(bay.page.getByText("Skip this one").first());
        keeps(signal, "1.99");
        bay.reads("1.99 V").readsNot("outside");
    }

    /** What was just kept carries this word, and its picture, and says this. */
    private void judged(String verdict, String... words) {
        Locator said = bay.page.locator(".answered");
        assertThat(said.locator(".v")
                        .filter(new Locator.FilterOptions().setHasText(verdict))
                        .first())
                .isVisible();
        assertThat(said.locator("svg.band").last()).isVisible();
        for (String each : words) {
            assertThat(said).containsText(each);
        }
    }

    private void keeps(String test, String value) {
        if (!bay.page.url().contains(test)) {
            bay.opens(test);
        }
        bay.into(bay.page.locator("#f-typed"), value).press(bay.page.locator("[data-pad] .keep"));
    }

    private Locator column(String header) {
        return bay.page
                .locator("tr")
                .filter(new Locator.FilterOptions()
                        .setHas(bay.page.getByRole(
                                com.microsoft.playwright.options.AriaRole.ROWHEADER,
                                new com.microsoft.playwright.Page.GetByRoleOptions().setName(header))))
                .locator("select");
    }

    /** A line that takes two seconds for this file. */
    private static CDPSession slow(Desk desk) {
        CDPSession line = desk.page.context().newCDPSession(desk.page);
        line.send("Network.enable");
        line.send("Network.emulateNetworkConditions", conditions(160_000));
        return line;
    }

    private static void fast(CDPSession line) {
        line.send("Network.emulateNetworkConditions", conditions(-1));
        line.detach();
    }

    private static JsonObject conditions(int bytesASecond) {
        var conditions = new JsonObject();
        conditions.addProperty("offline", false);
        conditions.addProperty("latency", 0);
        conditions.addProperty("downloadThroughput", -1);
        conditions.addProperty("uploadThroughput", bytesASecond);
        return conditions;
    }

    /** Two minutes at idle, two at 2,500 rpm, fifty rows a second, of a tool that names air flow as nobody does. */
    private static String log(int day) {
        var log = new StringBuilder("Time (s),Engine RPM (rpm),Breath,Coolant temp (°C),Vehicle speed (km/h)\n");
        for (int row = 0; row < 12_000; row++) {
            boolean fast = row >= 6_000;
            int wobble = (row + day) % 3 - 1;
            log.append(String.format(
                    Locale.ROOT,
                    "%.2f,%d,%.2f,89,0%n",
                    row / 50.0,
                    (fast ? 2500 : 780) + 4 * wobble,
                    (fast ? 9.8 : 3.6) + 0.01 * wobble));
        }
        return log.toString();
    }

    /** Eight seconds of a rising signal that rests for one of them. */
    private static String sweep(char between, char decimal) {
        var lines = new StringBuilder("time" + between + "signal\n");
        for (int step = 0; step <= 160; step++) {
            double seconds = step / 20.0;
            double felt = seconds < 4 ? seconds : Math.max(4, seconds - 1);
            lines.append(String.format(Locale.ROOT, "%.2f", seconds).replace('.', decimal))
                    .append(between)
                    .append(String.format(Locale.ROOT, "%.3f", 0.9 + 0.3 * felt + 0.001 * (step % 2))
                            .replace('.', decimal))
                    .append('\n');
        }
        return lines.toString();
    }

    private SymptomRef car(String family, String litres, int cylinders) {
        return as(Cast.WREN, () -> {
            long customer = house.getBean(Customers.class)
                    .add(new Customers.Telling("Readings & Sons", "555 0199", null, null, "PHONE", null))
                    .id();
            long vehicle = house.getBean(Vehicles.class)
                    .add(
                            customer,
                            new Vehicles.Telling(
                                    null,
                                    "RD " + customer,
                                    "Marlow",
                                    "Heron",
                                    2016,
                                    family,
                                    new BigDecimal(litres),
                                    cylinders,
                                    "PETROL",
                                    "NATURAL",
                                    "HOT_FILM",
                                    "AUTOMATIC",
                                    "km"))
                    .id();
            var tickets = house.getBean(Tickets.class);
            var number =
                    tickets.open(new Tickets.Opening(vehicle, new BigDecimal(61_200), null, null, "GIVE_BACK", "YES"));
            return tickets.hear(number, "hesitation", "It hesitates when I pull away.");
        });
    }

    private String begun(SymptomRef car, String procedure, Long instrument) {
        return "/measurements/"
                + as(Cast.TAMSIN, () -> {
                    var bench = house.getBean(Bench.class);
                    return bench.start(
                            car.ticket(),
                            procedure,
                            false,
                            List.of(car.place()),
                            new Conditions(
                                    bench.procedure(procedure).state(),
                                    null,
                                    90.0,
                                    null,
                                    "P",
                                    Motion.PARKED,
                                    null,
                                    null),
                            instrument);
                });
    }

    private long instrument(InstrumentKind kind) {
        return jdbc.sql("select min(id) from instrument where kind = ?")
                .param(kind.name())
                .query(Long.class)
                .single();
    }

    private <T> T as(Cast.Member member, Supplier<T> work) {
        var people = house.getBean(People.class);
        return people.as(
                people.all().stream()
                        .filter(each -> each.name().equals(member.name()))
                        .findFirst()
                        .orElseThrow(),
                work);
    }
}
