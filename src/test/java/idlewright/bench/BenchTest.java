package idlewright.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import idlewright.bench.Bench.Read;
import idlewright.bench.Instruments.Telling;
import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.InstrumentKind;
import idlewright.bench.rules.KeyState;
import idlewright.bench.rules.Motion;
import idlewright.frame.Refused;
import idlewright.frame.Stale;
import idlewright.ground.WithDatabase;
import idlewright.intake.Chapter;
import idlewright.intake.Customers;
import idlewright.intake.Strand;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.intake.rules.ThreadStamp;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.reference.verdict.Verdict;
import java.math.BigDecimal;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.jdbc.core.simple.JdbcClient;

/** The bakery's van, tested from the first look to the cause; all figures are our own. */
@SpringBootTest
@WithDatabase
class BenchTest {

    private static final AtomicInteger NUMBER = new AtomicInteger();
    private static final Conditions HOT =
            new Conditions(KeyState.RUNNING, null, 92.0, 31.0, "N", Motion.PARKED, null, null);
    private static final Conditions KEY_ON =
            new Conditions(KeyState.KEY_ON_ENGINE_OFF, null, null, null, null, null, null, null);

    @Autowired
    Bench bench;

    @Autowired
    KnownGoods knownGoods;

    @Autowired
    VehicleLimits limits;

    @Autowired
    Instruments instruments;

    @Autowired
    Tickets tickets;

    @Autowired
    Customers customers;

    @Autowired
    Vehicles vehicles;

    @Autowired
    People people;

    @Autowired
    JdbcClient jdbc;

    @Autowired
    List<Strand> strands;

    Person tamsin;
    Person kofi;
    String family;
    TicketNumber van;
    SymptomRef hesitates;

    @BeforeEach
    void theBakerysVanStandsInTheBay() {
        String names = "b" + ProcessHandle.current().pid() + "-" + NUMBER.incrementAndGet();
        tamsin = people.hire("Tamsin " + names, names + "-tamsin", null, "4071", Set.of(Role.TECHNICIAN));
        kofi = people.hire("Kofi " + names, names + "-kofi", null, "5208", Set.of(Role.TECHNICIAN));
        family = ("BW" + names).toUpperCase(java.util.Locale.ROOT);
        hesitates = tamsin(this::car);
        van = hesitates.ticket();
    }

    @Test
    void theVanHesitatesBecauseItsAirSensorReadsLow() {
        libraryOf(9, 12.6, 0.4);
        tamsin(() -> {
            long trims = start("trims", HOT);
            bench.keep(trims, bank("short-idle", "1.6"));
            bench.keep(trims, bank("long-idle", "3.1"));
            bench.keep(trims, bank("short-2500", "6,2"));
            bench.keep(trims, bank("long-2500", "9.4"));
            bench.finish(trims);
            assertThat(reading(trims, "trim-idle").shown()).isEqualTo("4.7 %");
            assertThat(reading(trims, "trim-idle").called()).isEqualTo("within");
            assertThat(reading(trims, "trim-2500").shown()).isEqualTo("15.6 %");
            assertThat(reading(trims, "trim-2500").called()).isEqualTo("outside, high");
            assertThat(bench.get(trims).outcomes()).contains("lean, and leaner with load");

            long flow = start("air-flow", HOT);
            bench.keep(flow, "flow-idle", "2.9", "g/s");
            bench.keep(flow, "rpm-idle", "780", "rpm");
            long low = bench.keep(flow, "flow-2500", "9.6", "g/s");
            bench.keep(flow, "rpm-2500", "2490", "rpm");
            bench.finish(flow);
            ReadingView at2500 = reading(flow, "flow-2500");
            assertThat(at2500.id()).isEqualTo(low);
            assertThat(at2500.called()).isEqualTo("outside, low");
            assertThat(at2500.ground()).contains("known good", "9 cars of this shop");
            assertThat(at2500.plot().good()).hasSize(9);

            long supply = start("sensor-supply", KEY_ON);
            bench.keep(supply, "battery", "12.44", "V");
            bench.keep(supply, "supply", "12.36", "V");
            bench.finish(supply);
            assertThat(reading(supply, "supply-drop").shown()).isEqualTo("0.08 V");
            assertThat(reading(supply, "supply-drop").called()).isEqualTo("within");
            return null;
        });
        var ranking = tamsin(() -> bench.causes(hesitates));
        assertThat(ranking.likeliest().cause().key()).isEqualTo("air-sensor-low");
        assertThat(ranking.likeliest().speakingFor())
                .extracting(line -> line.words())
                .anySatisfy(words -> assertThat(words).contains("lean, and leaner with load"));
        assertThat(ranking.cause("air-sensor-supply").orElseThrow().probability())
                .isLessThan(0.05);
        var knots = tamsin(() -> strands.stream()
                .flatMap(strand -> strand.knots(van).stream())
                .filter(knot -> knot.place() == 1)
                .toList());
        assertThat(knots).anySatisfy(knot -> {
            assertThat(knot.title()).isEqualTo("Mass air flow, live data");
            assertThat(knot.said()).contains("Air flow at 2,500 rpm, standing: 9.6 g/s, outside, low");
            assertThat(knot.figures())
                    .anySatisfy(figure -> assertThat(figure.verdict()).isEqualTo("outside, low"));
        });
        assertThat(knots).anySatisfy(knot -> assertThat(knot.title()).isEqualTo("What could it be"));
        assertThat(knots)
                .filteredOn(knot -> knot.chapter() == Chapter.TEST)
                .allSatisfy(knot -> assertThat(knot.said()).endsWith("."));
    }

    @Test
    void theFirstTestIsToSeeTheComplaintAndSeeingItStampsTheThread() {
        assertThat(tamsin(() -> bench.next(hesitates))
                        .ready()
                        .get(0)
                        .procedure()
                        .key())
                .isEqualTo("reproduce");
        tamsin(() -> {
            long seen = start(
                    "reproduce", new Conditions(KeyState.RUNNING, 2300.0, 90.0, null, "2", Motion.DRIVEN, null, null));
            bench.keep(seen, "complaint", "seen", null);
            bench.finish(seen);
            return null;
        });
        assertThat(tickets.get(van).symptom(1).has(ThreadStamp.REPRODUCED)).isTrue();
        assertThat(tamsin(() -> bench.next(hesitates))
                        .ready()
                        .get(0)
                        .procedure()
                        .key())
                .isEqualTo("codes");
    }

    @Test
    void physicsJudgesTheFlowWhereTheLibraryIsTooSmall() {
        libraryOf(3, 12.6, 0.4);
        tamsin(() -> {
            long flow = start("air-flow", HOT);
            bench.keep(flow, "flow-2500", "5.1", "g/s");
            ReadingView reading = reading(flow, "flow-2500");
            // 2.2 L at 2,500 rpm draw 54.3 g/s at full filling (SAE J1979 air, 1.184 g/L); 13 % of it is 7.1 g/s.
            assertThat(reading.ground()).startsWith("7.1 to 17.4 g/s: physics");
            assertThat(reading.called()).isEqualTo("outside, low");
            assertThat(reading.plot().good()).hasSize(3);
            return null;
        });
    }

    @Test
    void aPublishedLimitStandsBeforeAllOthersAndKeepsItsCitation() {
        libraryOf(9, 12.6, 0.4);
        tamsin(() -> {
            limits.enter(null, family, "air-flow", "flow-2500", 9.0, 15.0, "g/s", "Service sheet 24-17, page 3");
            long flow = start("air-flow", HOT);
            bench.keep(flow, "flow-2500", "9.6", "g/s");
            assertThat(reading(flow, "flow-2500").called()).isEqualTo("within");
            assertThat(reading(flow, "flow-2500").ground())
                    .isEqualTo("9 to 15 g/s: published, Service sheet 24-17, page 3");
            return null;
        });
        assertThat(jdbc.sql("select ground || ' ' || citation from reading order by id desc limit 1")
                        .query(String.class)
                        .single())
                .isEqualTo("PUBLISHED published, Service sheet 24-17, page 3");
    }

    @Test
    void refusesAnImpossibleValueBesideItsFieldAndNamesTheRange() {
        long supply = tamsin(() -> start("sensor-supply", KEY_ON));
        assertThat(refusal(() -> bench.keep(supply, "battery", "124", "V"))
                        .problems()
                        .get("typed"))
                .contains("124 V cannot be", "between 0 and 18 V");
        assertThat(refusal(() -> bench.keep(supply, "battery", "12..4", "V")).problems())
                .containsKey("typed");
        assertThat(refusal(() -> bench.keep(supply, "battery", "12.4 bar", "V"))
                        .problems()
                        .get("typed"))
                .contains("pressure");
        assertThat(tamsin(() -> bench.get(supply)).readings()).isEmpty();
    }

    @Test
    void asksOnceAboutASlipOfTenAndKeepsTheAnswer() {
        long flow = tamsin(() -> start("air-flow", HOT));
        assertThat(refusal(() -> bench.keep(flow, "flow-idle", "29", "g/s"))
                        .problems()
                        .get("confirmed"))
                .contains("about ten times");
        tamsin(() -> bench.keep(flow, new Read("flow-idle", 0, "29", "g/s", true, null)));
        assertThat(jdbc.sql("select confirmed from reading where measurement_id = ?")
                        .param(flow)
                        .query(Boolean.class)
                        .single())
                .isTrue();
    }

    @Test
    void turnsReversedProbesRoundAndSaysSo() {
        tamsin(() -> {
            long supply = start("sensor-supply", KEY_ON);
            bench.keep(supply, "battery", "-12.44", "V");
            assertThat(reading(supply, "battery").shown()).isEqualTo("12.44 V");
            assertThat(reading(supply, "battery").note()).contains("probes were reversed");
            return null;
        });
        assertThat(jdbc.sql("select typed || ' ' || value from reading order by id desc limit 1")
                        .query(String.class)
                        .single())
                .isEqualTo("-12.44 12.44");
    }

    @Test
    void callsALimitInsideTheMetersErrorTooCloseToCall() {
        tamsin(() -> {
            long meter = instruments.add(new Telling(
                    "Bay 2 multimeter",
                    InstrumentKind.METER,
                    new BigDecimal("0.5"),
                    new BigDecimal(2),
                    null,
                    null,
                    null));
            long drop = bench.start(
                    van,
                    "ground-drop",
                    false,
                    List.of(1),
                    new Conditions(KeyState.CRANKING, null, null, null, null, null, null, null),
                    meter);
            bench.keep(drop, "block-drop", "0.29", "V");
            assertThat(reading(drop, "block-drop").verdict()).isEqualTo(Verdict.TOO_CLOSE);
            assertThat(reading(drop, "block-drop").reason()).contains("give or take", "finer meter");
            return null;
        });
    }

    @Test
    void refusesAHotTestWithoutTheCoolantThatMakesItOne() {
        assertThat(refusal(() -> start("trims", conditions(null))).problems().get("coolant"))
                .contains("enter the coolant temperature");
        assertThat(refusal(() -> start("trims", conditions(48.0))).problems().get("coolant"))
                .contains("At 48 °C (118 °F) the engine is not hot yet");
        assertThat(refusal(() -> bench.start(van, "trims", true, List.of(1), HOT, null))
                        .problems())
                .containsKey("after");
        assertThat(refusal(() -> bench.start(van, "trims", false, List.of(), HOT, null))
                        .problems())
                .containsKey("places");
    }

    @Test
    void aCorrectionTakesTheReadingsPlaceAndTheOldOneStaysStruck() {
        long flow = tamsin(() -> start("air-flow", HOT));
        long wrong = tamsin(() -> bench.keep(flow, "flow-2500", "6.9", "g/s"));
        assertThat(refusal(() -> bench.correct(wrong, "9.6", null, false, " ")).problems())
                .containsKey("reason");
        tamsin(() -> bench.correct(wrong, "9.6", null, false, "misread"));
        MeasurementView now = tamsin(() -> bench.get(flow));
        assertThat(now.reading("flow-2500", 0).orElseThrow().shown()).isEqualTo("9.6 g/s");
        assertThat(now.struck()).singleElement().satisfies(old -> {
            assertThat(old.shown()).isEqualTo("6.9 g/s");
            assertThat(old.struckBecause()).isEqualTo(tamsin.name() + ": misread");
        });
    }

    @Test
    void theSecondOfTwoWhoCorrectTheSameReadingSeesBothValues() {
        long flow = tamsin(() -> start("air-flow", HOT));
        long wrong = tamsin(() -> bench.keep(flow, "flow-2500", "6.9", "g/s"));
        tamsin(() -> bench.correct(wrong, "9.6", null, false, "misread"));
        Stale stale = catchThrowableOfType(
                Stale.class,
                () -> people.as(kofi, () -> bench.correct(wrong, "9.9", null, false, "misread by Tamsin")));
        assertThat(stale.clashes()).containsExactly(new Stale.Clash("value", "9.9 g/s", "9.6 g/s"));
        assertThat(stale.who()).isEqualTo(tamsin.name());
        Stale twice = catchThrowableOfType(
                Stale.class, () -> people.as(kofi, () -> bench.keep(flow, "flow-2500", "9.8", "g/s")));
        assertThat(twice.clashes()).containsExactly(new Stale.Clash("value", "9.8 g/s", "9.6 g/s"));
    }

    @Test
    void theSameReadingKeptTwiceByOnePersonIsNoClash() {
        long flow = tamsin(() -> start("air-flow", HOT));
        long first = tamsin(() -> bench.keep(flow, "flow-2500", "9.6", "g/s"));
        assertThat(tamsin(() -> bench.keep(flow, "flow-2500", "9,6", "g/s"))).isEqualTo(first);
        assertThat(tamsin(() -> bench.get(flow)).readings().stream()
                        .filter(reading -> reading.point().equals("flow-2500")))
                .hasSize(1);
        assertThat(catchThrowableOfType(Stale.class, () -> tamsin(() -> bench.keep(flow, "flow-2500", "9.7", "g/s")))
                        .who())
                .isEqualTo(tamsin.name());
        assertThat(catchThrowableOfType(
                        Stale.class, () -> people.as(kofi, () -> bench.keep(flow, "flow-2500", "9.6", "g/s"))))
                .isNotNull();
    }

    @Test
    void theTableOfReadingsRefusesToBeRewritten() {
        long flow = tamsin(() -> start("air-flow", HOT));
        tamsin(() -> bench.keep(flow, "flow-2500", "9.6", "g/s"));
        assertThatThrownBy(() -> jdbc.sql("update reading set value = 12").update())
                .rootCause()
                .hasMessageContaining("permission denied");
        try (var owner = java.sql.DriverManager.getConnection(
                        idlewright.ground.TestDatabase.owner().url(),
                        idlewright.ground.TestDatabase.owner().role(),
                        idlewright.ground.TestDatabase.owner().password());
                var sql = owner.createStatement()) {
            assertThatThrownBy(() -> sql.execute("delete from reading")).hasMessageContaining("never changed");
        } catch (java.sql.SQLException e) {
            throw new AssertionError(e);
        }
    }

    @Test
    void notesAToolsLoadThatCannotBeTheLoadOfTheStandard() {
        tamsin(() -> {
            long flow = start("air-flow", HOT);
            bench.keep(flow, "flow-idle", "3.5", "g/s");
            bench.keep(flow, "rpm-idle", "780", "rpm");
            long load = start("load", HOT);
            bench.keep(load, "load-idle", "3.1", "%");
            assertThat(reading(load, "load-idle").verdict()).isEqualTo(Verdict.NOT_JUDGED);
            assertThat(reading(load, "load-idle").note())
                    .contains("absolute load of 21 %", "another one under the same name");
            return null;
        });
    }

    @Test
    void keepsTypedValueTypedUnitAndSi() {
        long flow = tamsin(() -> start("air-flow", HOT));
        tamsin(() -> bench.keep(flow, "flow-2500", "34,6", "kg/h"));
        Map<String, Object> row = jdbc.sql("select typed, unit, value, si from reading where measurement_id = ?")
                .param(flow)
                .query()
                .singleRow();
        assertThat(row.get("typed")).isEqualTo("34,6");
        assertThat(row.get("unit")).isEqualTo("kg/h");
        assertThat((BigDecimal) row.get("value")).isEqualByComparingTo("34.6");
        // 34.6 kg in 3,600 s
        assertThat(((BigDecimal) row.get("si")).doubleValue())
                .isCloseTo(0.009611, org.assertj.core.data.Offset.offset(1e-6));
    }

    @Test
    void readsSeveralCodesAndSaysWhatTheyMean() {
        tamsin(() -> {
            long codes = start("codes", KEY_ON);
            bench.keep(codes, "stored", "p0171, P 0101", null);
            bench.keep(codes, "pending", "none", null);
            assertThat(reading(codes, "stored").shown()).isEqualTo("P0171, P0101");
            assertThat(reading(codes, "stored").note()).contains("P0171: ", "P0101: ");
            assertThat(reading(codes, "pending").called()).isEqualTo("in order");
            assertThat(refusalHere(() -> bench.keep(codes, "permanent", "P01", null))
                            .problems()
                            .get("typed"))
                    .contains("no trouble code");
            return null;
        });
    }

    @Test
    void marksTheFlatSpotOfAPastedSweepAndKeepsAShortOneUnjudged() {
        tamsin(() -> {
            long sweep = start("sweep", HOT);
            var pasted = new StringBuilder("rpm\tV\n");
            for (int i = 0; i <= 100; i++) {
                double rpm = 800 + 27 * i;
                double volts = 1 + 0.02 * (i < 40 ? i : i < 60 ? 40 : i - 20);
                pasted.append("%.0f\t%.2f\n".formatted(rpm, volts).replace('.', ','));
            }
            bench.keep(sweep, "ramp", pasted.toString(), "rpm");
            ReadingView ramp = reading(sweep, "ramp");
            assertThat(ramp.shown()).isEqualTo("flat spot");
            assertThat(ramp.called()).isEqualTo("not in order");
            assertThat(ramp.curve().stretches())
                    .singleElement()
                    .satisfies(stretch -> assertThat(stretch.words()).isEqualTo("flat spot"));
            assertThat(bench.get(sweep).outcomes()).containsExactly("the sweep has a flat place");

            long again = start("sweep", HOT);
            bench.keep(again, "ramp", "800;1,0\n900;1,1\n1000;1,2\n", "rpm");
            assertThat(reading(again, "ramp").verdict()).isEqualTo(Verdict.NOT_JUDGED);
            assertThat(reading(again, "ramp").note()).contains("Only 3 points");
            assertThat(refusalHere(() -> bench.keep(start("sweep", HOT), "ramp", "800;1,0\nfast\n", "rpm"))
                            .problems()
                            .get("typed"))
                    .contains("Line 2, \u201cfast\u201d");
            return null;
        });
    }

    @Test
    void aProvedThreadsReadingsComeIntoTheLibraryOnceAndFollowACorrection() {
        tamsin(() -> {
            tickets.stamp(hesitates, ThreadStamp.TRACED, "Air-flow sensor reads too low");
            tickets.stamp(hesitates, ThreadStamp.MENDED, "sensor replaced");
            long flow = bench.start(van, "air-flow", true, List.of(1), HOT, null);
            bench.keep(flow, "flow-2500", "12.7", "g/s");
            long rpm = bench.keep(flow, "rpm-2500", "2490", "rpm");
            bench.finish(flow);
            knownGoods.bringIn(hesitates);
            knownGoods.bringIn(hesitates);
            assertThat(knownGoods.of(family))
                    .extracting(KnownGoods.Good::point)
                    .containsExactlyInAnyOrder("flow-2500", "absolute-2500");
            bench.correct(rpm, "2510", null, false, "misread");
            assertThat(knownGoods.of(family).stream()
                            .filter(KnownGoods.Good::counts)
                            .toList())
                    .extracting(KnownGoods.Good::point)
                    .containsExactlyInAnyOrder("flow-2500", "absolute-2500");
            assertThat(knownGoods.of(family).stream()
                            .filter(good -> !good.counts())
                            .toList())
                    .extracting(KnownGoods.Good::struckBecause)
                    .allSatisfy(reason -> assertThat(reason).contains("misread"));
            return null;
        });
    }

    private SymptomRef car() {
        long customer = customers
                .add(new Customers.Telling("Grand Row Bakery", "555 0142", null, null, "PHONE", null))
                .id();
        long vehicle = vehicles.add(
                        customer,
                        new Vehicles.Telling(
                                null,
                                "KL " + NUMBER.get(),
                                "Brightwater",
                                "Finch",
                                2014,
                                family,
                                new BigDecimal("2.2"),
                                4,
                                "PETROL",
                                "NATURAL",
                                "HOT_FILM",
                                "MANUAL",
                                "km"))
                .id();
        TicketNumber number =
                tickets.open(new Tickets.Opening(vehicle, new BigDecimal(86940), null, null, "GIVE_BACK", "YES"));
        return tickets.hear(number, "hesitation", "It hesitates when I pull out of the yard with a full load.");
    }

    /** So many proved vans of the family, their flow at 2,500 rpm spread evenly about a middle. */
    private void libraryOf(int vans, double middle, double spread) {
        for (int i = 0; i < vans; i++) {
            double flow = middle + spread * (2.0 * i / (vans - 1) - 1);
            tamsin(() -> {
                SymptomRef healthy = car();
                tickets.stamp(healthy, ThreadStamp.TRACED, "Air filter or intake tract blocked");
                tickets.stamp(healthy, ThreadStamp.MENDED, "filter replaced");
                long test = bench.start(healthy.ticket(), "air-flow", true, List.of(1), HOT, null);
                bench.keep(test, "flow-2500", "%.2f".formatted(flow), "g/s");
                bench.keep(test, "rpm-2500", "2500", "rpm");
                bench.finish(test);
                knownGoods.bringIn(healthy);
                return null;
            });
        }
    }

    private static Read bank(String point, String typed) {
        return new Read(point, 1, typed, "%", false, null);
    }

    private static Conditions conditions(@Nullable Double coolant) {
        return new Conditions(KeyState.RUNNING, null, coolant, null, "N", Motion.PARKED, null, null);
    }

    private long start(String procedure, Conditions conditions) {
        return bench.start(van, procedure, false, List.of(1), conditions, null);
    }

    private ReadingView reading(long measurement, String point) {
        return bench.get(measurement).readings().stream()
                .filter(each -> each.point().equals(point))
                .findFirst()
                .orElseThrow();
    }

    private <T> T tamsin(Supplier<T> work) {
        return people.as(tamsin, work);
    }

    private Refused refusal(Supplier<?> work) {
        return tamsin(() -> refusalHere(work));
    }

    private static Refused refusalHere(Supplier<?> work) {
        return catchThrowableOfType(Refused.class, work::get);
    }
}
