package idlewright.bench;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.ground.WithDatabase;
import idlewright.intake.Customers;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.journal.Exhibits;
import idlewright.people.People;
import idlewright.reference.OpenData;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.time.Clock;
import java.util.Locale;
import java.util.SplittableRandom;
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
@DisplayName("A log on a test")
class LogsTest {

    @Autowired
    MockMvcTester mvc;

    @Autowired
    JdbcClient jdbc;

    @Autowired
    Clock clock;

    @Autowired
    People people;

    @Autowired
    Customers customers;

    @Autowired
    Vehicles vehicles;

    @Autowired
    Tickets tickets;

    @Autowired
    Bench bench;

    @Autowired
    KnownGoods knownGoods;

    @Autowired
    Exhibits exhibits;

    LibraryRoom room;
    long flow;

    @BeforeEach
    void theVanIsTested() {
        room = LibraryRoom.open(mvc, jdbc, clock, people, customers, vehicles, tickets, bench, knownGoods);
        flow = room.start(room.car(), "air-flow");
    }

    /** An invented hot engine: idle at 780 rpm and 2.9 g/s, then 2,500 rpm and 9.6 g/s, standing. */
    private static String standing(String airHeader) {
        var random = new SplittableRandom(5);
        var log = new StringBuilder("Time (s),Engine RPM (rpm)," + airHeader
                + ",Vehicle speed (km/h),Coolant temperature (C),Throttle (%)\n");
        for (int t = 0; t < 110; t++) {
            boolean fast = t >= 60 && t < 100;
            double noise = random.nextDouble() - 0.5;
            log.append(String.format(
                    Locale.ROOT,
                    "%d,%.0f,%.2f,0,%.0f,%.1f%n",
                    t,
                    (fast ? 2500 : 780) + 8 * noise,
                    (fast ? 9.6 : 2.9) + 0.06 * noise,
                    90 + (t % 30 == 0 ? 1 : 0.0),
                    (fast ? 21.2 : 14.1) + noise * 0.4));
        }
        return log.toString();
    }

    private String bring(String name, String text) {
        var answer = room.send(
                room.technician(), "/measurements/" + flow + "/log", name, text.getBytes(StandardCharsets.UTF_8));
        assertThat(answer.status()).as(answer.body()).isEqualTo(302);
        return answer.location();
    }

    @Test
    void saysBeforeChoosingWhatIsTaken() {
        assertThat(room.get(room.technician(), "/measurements/" + flow + "/log").body())
                .contains("CSV or plain text of any scan tool, up to 150 MB", "None so far");
    }

    @Test
    void showsItsColumnsStatesAndWhatCanBecomeAReading() {
        var page = room.get(room.technician(), bring("standing.csv", standing("MAF (g/s)")));
        assertThat(page.body())
                .contains("110 rows", "Hot idle from 0 to 59 s", "2,500 rpm, parked from 6")
                .contains("Air flow at idle", "2.90 g/s, hot idle", "Turn into readings")
                .contains("Mass air flow", "MAF (g/s)");
    }

    @Test
    void turnsItsSteadyStatesIntoReadingsOfTheTest() {
        String log = bring("standing.csv", standing("MAF (g/s)"));
        var answer = room.post(
                room.technician(),
                log + "/readings",
                "take-flow-idle.0",
                "0",
                "take-rpm-idle.0",
                "0",
                "take-flow-2500.0",
                "1");
        assertThat(answer.status()).as(answer.body()).isEqualTo(302);
        assertThat(answer.location()).isEqualTo("/measurements/" + flow);
        var readings = room.tech(() -> bench.get(flow)).readings();
        assertThat(readings)
                .filteredOn(reading -> reading.point().equals("flow-2500"))
                .singleElement()
                .satisfies(reading -> {
                    assertThat(reading.value().doubleValue()).isBetween(9.55, 9.65);
                    assertThat(reading.note()).contains("From the log: median of", "2,500 rpm, parked from");
                });
        assertThat(jdbc.sql("""
                        select count(*) from reading_from_log l join reading r on r.id = l.reading_id
                        where r.measurement_id = ? and l.n > 10""").param(flow).query(Integer.class).single()).isEqualTo(3);
        assertThat(room.get(room.technician(), log).body()).contains("is taken already");
        assertThat(room.post(room.technician(), log + "/readings", "take-flow-idle.0", "0")
                        .body())
                .contains("Choose at least one value that is not taken yet.");
    }

    @Test
    @DisplayName(
            "that cannot be a car is kept and shown with its reasons, and no reading is taken of it (obd2-data, MIT)")
    void isKeptButNotReadWhenItIsNoCar() throws IOException {
        String log = bring("trace.csv", Files.readString(OpenData.file("not-a-car-emulator-trace.csv")));
        var page = room.get(room.technician(), log);
        assertThat(page.body()).contains("This cannot be a car as it stands").doesNotContain("Turn into readings");
        var answer = room.post(room.technician(), log + "/readings", "take-flow-idle.0", "0");
        assertThat(answer.status()).isEqualTo(422);
        assertThat(answer.body()).contains("No reading is taken from this log");
        assertThat(room.tech(() -> exhibits.of(bench.get(flow).ticket().value())))
                .singleElement()
                .satisfies(kept -> assertThat(kept.name()).isEqualTo("trace.csv"));
    }

    @Test
    @DisplayName("of a real drive tells 42.4 km and 8.48 L/100 km (enviroCar track 1, ODbL)")
    void ofARealDriveTellsDistanceAndFuel() throws IOException {
        String log = bring("track.csv", Files.readString(OpenData.file("envirocar-track-1.csv")));
        assertThat(room.get(room.technician(), log).body()).contains("368 rows", "42.4 km driven", "L/100 km");
    }

    @Test
    void namesItsBadLinesByNumber() {
        String text = standing("MAF (g/s)").replaceFirst("(?m)^7,.*$", "7,x,y,z,?,-");
        assertThat(room.get(room.technician(), bring("torn.csv", text)).body())
                .contains("1 line could not be read: line 9");
    }

    @Test
    void remembersWhatItsColumnsAreForEveryLogWithTheSameHeaders() {
        String log = bring("one.csv", standing("Channel 7"));
        assertThat(room.get(room.technician(), log).body()).doesNotContain("Air flow at idle");
        var answer = room.post(room.technician(), log + "/columns", "header", "Channel 7", "quantity", "MASS_AIR_FLOW");
        assertThat(answer.location()).isEqualTo(log);
        assertThat(room.get(room.technician(), log).body())
                .contains("Air flow at idle", "2.90 g/s, hot idle", "was said by hand before");
        assertThat(room.get(room.technician(), bring("two.csv", standing("Channel 7")))
                        .body())
                .contains("2.90 g/s, hot idle");
    }

    @Test
    void offersItsPullsAsTheSweep() {
        long sweep = room.start(room.car(), "sweep");
        var text = new StringBuilder("Time (s),Engine RPM (rpm),MAF (g/s),Vehicle speed (km/h),Throttle (%)\n");
        for (int i = 0; i < 200; i++) {
            double rpm = 780 + Math.max(0, Math.min(120, i - 40)) * 23.0;
            text.append(String.format(
                    Locale.ROOT, "%.1f,%.0f,%.2f,0,%.1f%n", i * 0.25, rpm, rpm * 0.0037, 14 + (rpm - 780) / 300));
        }
        var kept = room.send(
                room.technician(),
                "/measurements/" + sweep + "/log",
                "pull.csv",
                text.toString().getBytes(StandardCharsets.UTF_8));
        var page = room.get(room.technician(), kept.location());
        assertThat(page.body()).contains("Keep this pull", "Engine speed from");
        var answer = room.post(room.technician(), kept.location() + "/sweep", "pull", "0");
        assertThat(answer.status()).as(answer.body()).isEqualTo(302);
        assertThat(jdbc.sql("select kind from reading where measurement_id = ? and exhibit_id is not null")
                        .param(sweep)
                        .query(String.class)
                        .single())
                .isEqualTo("SERIES");
    }

    @Test
    void isNotThereForAWriterAndGivesReadingsToNoOwner() {
        String log = bring("standing.csv", standing("MAF (g/s)"));
        assertThat(room.get(room.writer(), log).status()).isEqualTo(404);
        assertThat(room.get(room.owner(), log).status()).isEqualTo(200);
        assertThat(room.post(room.owner(), log + "/readings", "take-flow-idle.0", "0")
                        .status())
                .isEqualTo(404);
        long other = room.start(room.car(), "air-flow");
        assertThat(room.get(room.technician(), log.replace("/" + flow + "/", "/" + other + "/"))
                        .status())
                .isEqualTo(404);
    }

    @Test
    void isAskedForWhenNoFileIsChosen() {
        var answer = room.send(room.technician(), "/measurements/" + flow + "/log", "", new byte[0]);
        assertThat(answer.status()).isEqualTo(422);
        assertThat(answer.body()).contains("Choose the log the scan tool wrote.");
    }
}
