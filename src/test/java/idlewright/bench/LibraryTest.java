package idlewright.bench;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.KeyState;
import idlewright.frame.MovableClock;
import idlewright.ground.WithDatabase;
import idlewright.intake.Customers;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.people.People;
import idlewright.reference.verdict.Verdict;
import java.util.List;
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
@DisplayName("The library and the set-up of the workbench")
class LibraryTest {

    @Autowired
    MockMvcTester mvc;

    @Autowired
    JdbcClient jdbc;

    @Autowired
    MovableClock clock;

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

    private static final Conditions KEY_OFF =
            new Conditions(KeyState.KEY_OFF, null, null, null, null, null, null, null);

    LibraryRoom room;

    @BeforeEach
    void theShopOpens() {
        room = LibraryRoom.open(mvc, jdbc, clock, people, customers, vehicles, tickets, bench, knownGoods);
    }

    private String shelf() {
        return room.get(room.owner(), "/known-good?family=" + room.family()).body();
    }

    /** The verdict of 9.6 g/s at 2,500 rpm on a car of the family. */
    private ReadingView nineSix() {
        long test = room.start(room.car(), "air-flow");
        return room.tech(() -> {
            bench.keep(test, "flow-2500", "9.6", "g/s");
            return bench.get(test).reading("flow-2500", 0).orElseThrow();
        });
    }

    @Test
    @DisplayName(
            "show n, the tolerance interval with its method and where each reading came from (k for n = 8, 95/95: 3.746)")
    void showWhatIsKnownGood() {
        room.libraryOf(8, 12.6, 0.6);
        // 12.00, 12.17 ... 13.20: mean 12.6, s = 0.42109; 12.6 -+ 3.746 s (exact factor for n = 8, computed), rounded
        // outwards
        assertThat(shelf())
                .contains("n = 8 cars: 11.0 to 14.2 g/s", "95 % of healthy cars with 95 % confidence", "exact factor")
                .contains("Air flow at 2,500 rpm", "/tickets/", "Strike out");
        assertThat(nineSix().verdict()).isEqualTo(Verdict.OUTSIDE);
        assertThat(nineSix().ground()).contains("known good");
    }

    @Test
    void countACarOnceAndNotAfterItsComplaintCameBack() {
        room.libraryOf(8, 12.6, 0.6);
        SymptomRef last = new SymptomRef(
                new TicketNumber(jdbc.sql("select max(ticket_number) from known_good where engine_family = ?")
                        .param(room.family())
                        .query(Integer.class)
                        .single()),
                1);
        room.tech(() -> {
            long again = bench.start(last.ticket(), "air-flow", true, List.of(1), LibraryRoom.HOT, null);
            bench.keep(again, "flow-2500", "13.18", "g/s");
            bench.finish(again);
            knownGoods.bringIn(last);
            return null;
        });
        assertThat(shelf()).contains("n = 8 cars:", "a later test of this car counts");

        room.tech(() -> {
            knownGoods.leave(last);
            return null;
        });
        assertThat(shelf()).contains("n = 7 cars: fewer than 8", "The complaint came back.");
    }

    @Test
    void askAboutAFamilyThatTheShopWritesAnotherWay() {
        room.car();
        long customer = room.tech(() -> customers
                .add(new Customers.Telling("Grand Row Bakery", "555 0142", null, null, "PHONE", null))
                .id());
        String anotherWay = room.family().replace("-", " ").toLowerCase(java.util.Locale.ROOT);
        String[] car = {"plate", "LB 9 " + customer, "make", "Brightwater", "model", "Finch", "engineFamily", anotherWay
        };
        String url = "/customers/" + customer + "/vehicles";

        assertThat(room.get(room.writer(), url + "/new").body())
                .contains("<option value=\"" + room.family() + "\"></option>");
        assertThat(room.post(room.writer(), url, car).body())
                .contains(
                        "The shop writes it " + room.family() + ", on 1 car.",
                        anotherWay + " is another engine family");
        var meant = java.util.Arrays.copyOf(car, car.length + 2);
        meant[car.length] = "anotherFamily";
        meant[car.length + 1] = "true";
        assertThat(room.post(room.writer(), url, meant).status()).isEqualTo(302);
    }

    @Test
    void judgeNothingBelowEight() {
        room.libraryOf(7, 12.6, 0.7);
        assertThat(shelf()).contains("n = 7 cars: fewer than 8 judge nothing");
    }

    @Test
    void letTheOwnerStrikeAReadingOutWithAReasonAndTakeTheStrikeBack() {
        room.libraryOf(8, 12.6, 0.6);
        long id = jdbc.sql("select min(id) from known_good where engine_family = ? and point = 'flow-2500'")
                .param(room.family())
                .query(Long.class)
                .single();
        assertThat(room.post(room.owner(), "/known-good/" + id + "/strike").body())
                .contains("Say in a sentence why this reading is no reference.");
        var struck = room.post(room.owner(), "/known-good/" + id + "/strike", "reason", "The filter was wet.");
        assertThat(struck.location())
                .isEqualTo("/known-good?family=" + room.family() + "&test=air-flow#air-flow-flow-2500");
        assertThat(shelf())
                .contains(
                        "n = 7 cars: fewer than 8",
                        "struck out by " + room.owner().name(),
                        "The filter was wet.")
                .contains("1 struck out");
        assertThat(nineSix().ground()).doesNotContain("known good");

        var back = room.post(room.owner(), "/known-good/" + id + "/return", "reason", "It was another car's filter.");
        assertThat(back.status()).as(back.body()).isEqualTo(302);
        assertThat(shelf())
                .contains(
                        "n = 8 cars: 11.0 to 14.2 g/s",
                        "The filter was wet. Taken back by",
                        "It was another car's filter.")
                .doesNotContain("1 struck out");
        assertThat(nineSix().ground()).contains("known good");
        assertThat(room.post(room.owner(), "/known-good/" + id + "/return", "reason", "Twice.")
                        .status())
                .isEqualTo(422);
    }

    @Test
    void letNobodyButTheOwnerStrike() {
        room.libraryOf(2, 12.6, 0.7);
        assertThat(room.get(room.technician(), "/known-good?family=" + room.family())
                        .body())
                .contains("n = 2")
                .doesNotContain("/strike");
        assertThat(room.post(room.technician(), "/known-good/1/strike", "reason", "x")
                        .status())
                .isEqualTo(404);
        assertThat(room.get(room.owner(), "/known-good?family=NOBODY-HAS-IT").status())
                .isEqualTo(404);
    }

    @Test
    void keepInstrumentsAndFlagTheOverdueOnes() {
        String name = "Meter " + room.family();
        var added = room.post(
                room.owner(),
                "/set-up/instruments",
                "name",
                name,
                "kind",
                "METER",
                "percentOfReading",
                "0,5",
                "digits",
                "2",
                "resolution",
                "0.01",
                "resolutionUnit",
                "V",
                "calibrationDue",
                "2020-03-31");
        assertThat(added.status()).as(added.body()).isEqualTo(302);
        assertThat(room.get(room.owner(), "/set-up/instruments").body())
                .contains(name, "± (0.5 % + 2 digits)", "0.01 V", "overdue");
        long id = jdbc.sql("select id from instrument where name = ?")
                .param(name)
                .query(Long.class)
                .single();
        assertThat(room.get(room.owner(), "/set-up/instruments/" + id).body())
                .contains("value=\"0.5\"", "value=\"2020-03-31\"");
        assertThat(room.post(
                                room.owner(),
                                "/set-up/instruments/" + id,
                                "version",
                                "0",
                                "name",
                                name,
                                "kind",
                                "METER",
                                "calibrationDue",
                                "2099-01-31")
                        .status())
                .isEqualTo(302);
        assertThat(room.post(
                                room.owner(),
                                "/set-up/instruments/" + id,
                                "version",
                                "0",
                                "name",
                                "Theirs",
                                "kind",
                                "METER")
                        .status())
                .isEqualTo(409);
        assertThat(room.post(
                                room.owner(),
                                "/set-up/instruments",
                                "kind",
                                "METER",
                                "digits",
                                "two",
                                "calibrationDue",
                                "31.3.27")
                        .body())
                .contains("Enter a number, like 3.8", "year, month, day");
        assertThat(room.get(room.technician(), "/set-up/instruments").status()).isEqualTo(404);
    }

    @Test
    void takeAPublishedLimitOnlyWithItsCitationAndJudgeByItFirst() {
        room.libraryOf(8, 12.6, 0.6);
        assertThat(room.post(
                                room.owner(),
                                "/set-up/limits",
                                "scope",
                                "family",
                                "engineFamily",
                                room.family(),
                                "reading",
                                "air-flow.flow-2500",
                                "low",
                                "9.0",
                                "high",
                                "14")
                        .body())
                .contains("a limit without them is only an opinion");
        // 32.4 kg/h is 9 g/s
        var entered = room.post(
                room.owner(),
                "/set-up/limits",
                "scope",
                "family",
                "engineFamily",
                room.family(),
                "reading",
                "air-flow.flow-2500",
                "low",
                "32.4 kg/h",
                "high",
                "50.4 kg/h",
                "citation",
                "Service book BW22, page 12, 2014");
        assertThat(entered.status()).as(entered.body()).isEqualTo(302);
        assertThat(room.get(room.owner(), "/set-up/limits").body())
                .contains("engine family " + room.family(), "32.4 to 50.4 kg/h", "Service book BW22, page 12, 2014");
        assertThat(nineSix().verdict()).isEqualTo(Verdict.WITHIN);
        assertThat(nineSix().ground()).contains("published", "Service book BW22, page 12, 2014");

        long id = jdbc.sql("select id from vehicle_limit where engine_family = ?")
                .param(room.family())
                .query(Long.class)
                .single();
        assertThat(room.post(room.owner(), "/set-up/limits/" + id + "/strike").body())
                .contains("Say why it no longer holds.");
        assertThat(room.post(room.owner(), "/set-up/limits/" + id + "/strike", "reason", "Superseded.")
                        .status())
                .isEqualTo(302);
        assertThat(nineSix().verdict()).isEqualTo(Verdict.OUTSIDE);
    }

    @Test
    void takeALimitOfOneVehicleByATicketOfIt() {
        var car = room.car();
        var entered = room.post(
                room.owner(),
                "/set-up/limits",
                "scope",
                "vehicle",
                "ticket",
                car.ticket().toString(),
                "reading",
                "fuel-pressure.pressure-idle",
                "low",
                "38 psi",
                "citation",
                "Label under the bonnet");
        assertThat(entered.status()).as(entered.body()).isEqualTo(302);
        assertThat(room.get(room.owner(), "/set-up/limits").body()).contains("at least 38 psi", "one vehicle");
        assertThat(room.post(room.owner(), "/set-up/limits", "scope", "vehicle", "ticket", "1", "reading", "nothing")
                        .body())
                .contains("There is no ticket 1.", "Choose the reading this limit is for.");
    }

    @Test
    void showTheCatalogueInFull() {
        assertThat(room.get(room.technician(), "/set-up/procedures").body()).contains("Fuel trims", "Of this shop");
        assertThat(room.get(room.technician(), "/set-up/procedures/trims").body())
                .contains(
                        "To see how far the control unit corrects the fuel",
                        "Caution",
                        "Hold each speed for 30 seconds")
                .contains(
                        "Total trim at idle",
                        "calculated",
                        "-10 to 10 %",
                        "common practice, no source",
                        "lean at idle, better with speed");
    }

    @Test
    void takeAProcedureOfTheShopsOwnOfferItInTheBayAndJudgeByIt() {
        String name = "Charge pipe under pressure " + room.family();
        var written = room.post(
                room.owner(),
                "/set-up/procedures",
                "name",
                name,
                "purpose",
                "To find leaks after the charger.",
                "state",
                "KEY_OFF",
                "minutes",
                "15",
                "caution",
                "Never above 100 kPa: a hose may fly off.",
                "steps",
                "Close the pipe.\nPump to 80 kPa.",
                "points[0].label",
                "Pressure after one minute",
                "points[0].unit",
                "KILOPASCAL",
                "points[0].low",
                "70",
                "points[0].ground",
                "COMMON_PRACTICE");
        assertThat(written.status()).as(written.body()).isEqualTo(302);
        String key = written.location().replaceFirst(".*/", "");
        assertThat(room.get(room.owner(), written.location()).body())
                .contains(
                        name,
                        "Never above 100 kPa",
                        "Pump to 80 kPa.",
                        "at least 70 kPa",
                        "common practice, no source");
        var car = room.car();
        assertThat(room.get(room.technician(), "/bay/" + car.ticket()).body()).contains(name);
        assertThat(room.get(room.technician(), "/bay/" + car.ticket() + "/tests/" + key)
                        .body())
                .contains("Never above 100 kPa", "Close the pipe.");
        long test = room.tech(() -> bench.start(car.ticket(), key, false, List.of(1), KEY_OFF, null));
        ReadingView reading = room.tech(() -> {
            bench.keep(test, "pressure-after-one-minute", "55", "kPa");
            bench.finish(test);
            return bench.get(test).reading("pressure-after-one-minute", 0).orElseThrow();
        });
        assertThat(reading.called()).isEqualTo("outside, low");
        assertThat(room.get(room.technician(), "/measurements/" + test).body())
                .contains(name, "Pressure after one minute");

        long open = room.tech(() -> bench.start(car.ticket(), key, false, List.of(1), KEY_OFF, null));
        var amended = room.post(
                room.owner(),
                written.location() + "/amendment",
                "version",
                "1",
                "name",
                name,
                "purpose",
                "To find leaks.",
                "state",
                "KEY_OFF",
                "minutes",
                "10",
                "caution",
                "Stand aside.",
                "steps",
                "Pump.",
                "points[0].label",
                "Pressure after five minutes",
                "points[0].unit",
                "KILOPASCAL");
        assertThat(amended.status()).as(amended.body()).isEqualTo(302);
        assertThat(room.tech(() -> bench.get(test))
                        .reading("pressure-after-one-minute", 0)
                        .orElseThrow()
                        .called())
                .isEqualTo("outside, low");
        // An open test goes on by the edition it was begun by, a new one begins by the new.
        assertThat(room.get(room.technician(), "/measurements/" + open).body())
                .contains("Pressure after one minute", "Pump to 80 kPa.")
                .doesNotContain("five minutes");
        var kept = room.post(
                room.technician(),
                "/measurements/" + open + "/readings",
                "point",
                "pressure-after-one-minute",
                "spot",
                "0",
                "typed",
                "75",
                "unit",
                "kPa");
        assertThat(kept.status()).as(kept.body()).isEqualTo(302);
        assertThat(room.get(room.technician(), kept.location()).body()).contains("75 kPa", "within");
        long next = room.tech(() -> bench.start(car.ticket(), key, false, List.of(1), KEY_OFF, null));
        assertThat(room.get(room.technician(), "/measurements/" + next).body())
                .contains("Pressure after five minutes")
                .doesNotContain("after one minute");
        room.post(room.owner(), written.location() + "/retirement");
        assertThat(room.get(room.technician(), "/measurements/" + next).status())
                .isEqualTo(200);
        assertThat(room.get(room.technician(), "/bay/" + car.ticket()).body()).doesNotContain("/tests/" + key);
        assertThat(room.get(room.owner(), written.location()).body()).contains("no longer offered");
    }

    @Test
    void sayWhatAProcedureLacks() {
        var answer = room.post(
                room.owner(),
                "/set-up/procedures",
                "name",
                "Half a procedure",
                "points[1].label",
                "Voltage",
                "points[1].low",
                "9",
                "points[1].unit",
                "VOLT",
                "points[1].ground",
                "PUBLISHED");
        assertThat(answer.status()).isEqualTo(422);
        assertThat(answer.body())
                .contains(
                        "Say what it is for",
                        "what can hurt somebody",
                        "Write the steps",
                        "A published limit needs its citation")
                .contains("value=\"Half a procedure\"", "value=\"Voltage\"");
        assertThat(room.post(room.technician(), "/set-up/procedures", "name", "x")
                        .status())
                .isEqualTo(404);
    }

    @Test
    void standOnTheSetUpPage() {
        assertThat(room.get(room.owner(), "/set-up").body())
                .contains("/set-up/instruments", "/set-up/limits", "/set-up/procedures");
    }
}
