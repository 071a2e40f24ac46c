package idlewright.bench.rules;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import idlewright.reference.units.Unit;
import idlewright.reference.verdict.Ground;
import idlewright.reference.verdict.Verdict;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.junit.jupiter.api.Test;

/** From readings to what they show. */
class ReadingsTest {
    private static final Accuracy METER = new Accuracy(0.5, 2, 0.01);
    private static final Accuracy TOOL = Accuracy.unknown();
    private static final VehicleFacts V8 = PatternsTest.VEHICLE;

    private static TestResult read(String procedure, Readings readings) {
        return read(procedure, readings, V8, Map.of());
    }

    private static TestResult read(
            String procedure, Readings readings, VehicleFacts vehicle, Map<String, List<Limit>> further) {
        return PatternsTest.CATALOGUE.procedure(procedure).orElseThrow().read(readings, vehicle, further);
    }

    private static List<String> outcomes(TestResult result) {
        return result.outcomes().stream().map(Outcome::key).toList();
    }

    private static Readings trims(double idleOne, double idleTwo, double fastOne, double fastTwo) {
        return Readings.none()
                .number("short-idle", 1, idleOne - 2, Unit.PERCENT, TOOL)
                .number("long-idle", 1, 2, Unit.PERCENT, TOOL)
                .number("short-idle", 2, idleTwo - 2, Unit.PERCENT, TOOL)
                .number("long-idle", 2, 2, Unit.PERCENT, TOOL)
                .number("short-2500", 1, fastOne - 2, Unit.PERCENT, TOOL)
                .number("long-2500", 1, 2, Unit.PERCENT, TOOL)
                .number("short-2500", 2, fastTwo - 2, Unit.PERCENT, TOOL)
                .number("long-2500", 2, 2, Unit.PERCENT, TOOL);
    }

    private static Readings flow(double idle, double rpmIdle, double fast) {
        return Readings.none()
                .number("flow-idle", idle, Unit.GRAM_PER_SECOND, TOOL)
                .number("rpm-idle", rpmIdle, Unit.RPM, TOOL)
                .number("flow-2500", fast, Unit.GRAM_PER_SECOND, TOOL)
                .number("rpm-2500", 2500, Unit.RPM, TOOL);
    }

    /** Good figures of a mass-flow petrol V8 of 4.4 litres, parked hot: common practice, no source. */
    @Test
    void callsTheGoodFiguresOfAHealthyEngineGood() {
        TestResult air = read("air-flow", flow(4.9, 680, 24));
        assertThat(outcomes(air)).containsExactly("flow-normal");
        assertThat(air.at("absolute-idle").get(0).judged().verdict()).isEqualTo(Verdict.WITHIN);
        // 100 x 24 x 120 / (2500 x 1.184 x 4.4), computed by hand
        assertThat(air.at("absolute-2500").get(0).value()).isCloseTo(22.11, within(0.01));

        for (double idle : new double[] {550, 600, 650, 700, 750, 800}) {
            assertThat(outcomes(read("air-flow", flow(4.9, idle, 24))))
                    .as("idle at " + idle)
                    .containsExactly("flow-normal");
        }

        TestResult supply = read(
                "sensor-supply",
                Readings.none().number("battery", 12.1, Unit.VOLT, METER).number("supply", 12.04, Unit.VOLT, METER));
        assertThat(outcomes(supply)).containsExactly("supply-good");

        TestResult signal = read(
                "sensor-signal",
                Readings.none()
                        .number("signal-idle", 0.88, Unit.VOLT, METER)
                        .number("signal-3500", 1.99, Unit.VOLT, METER));
        assertThat(outcomes(signal)).containsExactly("signal-good");
    }

    @Test
    void doesNotCondemnALowCalculatedLoadBecauseToolsScaleItDifferently() {
        TestResult load = read(
                "load",
                Readings.none()
                        .number("load-idle", 2.7, Unit.PERCENT, TOOL)
                        .number("load-2500", 14, Unit.PERCENT, TOOL)
                        .choice("rise", "smooth"));

        assertThat(load.at("load-idle").get(0).judged().verdict()).isEqualTo(Verdict.NOT_JUDGED);
        assertThat(load.at("load-2500").get(0).judged().verdict()).isEqualTo(Verdict.NOT_JUDGED);
        assertThat(load.at("load-idle").get(0).judged().reason()).contains("scale calculated load differently");
        assertThat(outcomes(load)).containsExactly("load-rise-smooth");
    }

    @Test
    void judgesThePlainGramsByTheShopsKnownGoodWhereThereIsEnoughOfIt() {
        var known = KnownGood.band(new double[] {4.7, 4.8, 4.9, 5.0, 5.1, 4.8, 4.9, 5.0})
                .limit(Unit.GRAM_PER_SECOND)
                .orElseThrow();

        TestResult result = read("air-flow", flow(3.5, 680, 24), V8, Map.of("flow-idle", List.of(known)));

        PointResult idle = result.at("flow-idle").get(0);
        assertThat(idle.judged().side()).isEqualTo(Side.LOW);
        assertThat(idle.judged().reason()).contains("known good, 8 cars of this shop");
    }

    @Test
    void seesTooLittleReportedAirAtSpeed() {
        assertThat(outcomes(read("air-flow", flow(4.2, 680, 12.5)))).containsExactly("flow-low");
        assertThat(outcomes(read("air-flow", flow(12, 680, 40)))).containsExactly("flow-high");
    }

    @Test
    void judgesFillingOnlyWhereNothingCharges() {
        Readings pull = flow(4.9, 680, 24)
                .number("flow-full", 130, Unit.GRAM_PER_SECOND, TOOL)
                .number("rpm-full", 5000, Unit.RPM, TOOL);
        var charged = new VehicleFacts(4.4, 8, 2, Map.of(Trait.NATURALLY_ASPIRATED, false));

        assertThat(outcomes(read("air-flow", pull))).containsExactly("flow-low");
        assertThat(read("air-flow", pull, charged, Map.of())
                        .at("filling")
                        .get(0)
                        .judged()
                        .verdict())
                .isEqualTo(Verdict.NOT_JUDGED);
        assertThat(read("air-flow", pull).at("barometer").get(0).remark()).isEqualTo("assumed, not read");
    }

    @Test
    void judgesFillingByTheAirAtHand() {
        Readings pull = flow(4.9, 680, 24)
                .number("flow-full", 150, Unit.GRAM_PER_SECOND, TOOL)
                .number("rpm-full", 5000, Unit.RPM, TOOL)
                .number("barometer", 83.4, Unit.KILOPASCAL, TOOL);

        double filling = read("air-flow", pull).at("filling").get(0).value();

        assertThat(filling).isCloseTo(100 * 150 * 120 / (5000 * 1.184 * 4.4) * 101.325 / 83.4, within(1e-9));
    }

    @Test
    void tellsNothingOfLoadWithoutADisplacement() {
        assertThat(read("air-flow", flow(4.9, 680, 24), VehicleFacts.unknown(), Map.of())
                        .outcomes())
                .isEmpty();
    }

    @Test
    void readsThePatternsOfTheTrims() {
        assertThat(outcomes(read("trims", trims(1, 2, 0, -1)))).containsExactly("trims-normal", "trims-all-alike");
        assertThat(outcomes(read("trims", trims(16, 15, 3, 2)))).contains("trims-lean-idle");
        assertThat(outcomes(read("trims", trims(22, 21, 13, 12)))).contains("trims-lean-idle");
        assertThat(outcomes(read("trims", trims(3, 4, 16, 17)))).contains("trims-lean-load");
        assertThat(outcomes(read("trims", trims(12, 11, 22, 20)))).contains("trims-lean-load");
        assertThat(outcomes(read("trims", trims(15, 15, 16, 16)))).contains("trims-lean-all");
        assertThat(outcomes(read("trims", trims(-15, -16, -2, -3)))).contains("trims-rich-idle");
        assertThat(outcomes(read("trims", trims(-3, -3, -14, -15)))).contains("trims-rich-load");
        assertThat(outcomes(read("trims", trims(-14, -14, -15, -15)))).contains("trims-rich-all");
        assertThat(outcomes(read("trims", trims(1, 17, 0, 16)))).contains("trims-one-bank");
    }

    @Test
    void saysWhichReadingsAreMissing() {
        TestResult result = read("trims", Readings.none().number("short-idle", 1, 3, Unit.PERCENT, TOOL));

        assertThat(result.missing())
                .contains("Short trim at idle, bank 2", "Long trim at idle, bank 1")
                .doesNotContain("Short trim at cruise, bank 1", "Total trim at idle, bank 1");
        assertThat(result.outcomes()).isEmpty();
    }

    @Test
    void holdsTheSupplyAgainstTheBatteryOfTheSameMoment() {
        Readings low = Readings.none()
                .number("battery", 12.4, Unit.VOLT, METER)
                .number("supply", 10.9, Unit.VOLT, METER)
                .number("feed-alone", 12.38, Unit.VOLT, METER)
                .number("ground-alone", 10.95, Unit.VOLT, METER);

        TestResult result = read("sensor-supply", low);

        assertThat(outcomes(result)).containsExactly("ground-bad");
        assertThat(result.at("supply-drop").get(0).shown()).isEqualTo("1.5 V");
        assertThat(result.at("supply-drop").get(0).meaning()).contains("Find the wire before a sensor is bought");
        assertThat(result.at("supply").get(0).judged().verdict()).isEqualTo(Verdict.NOT_JUDGED);
    }

    @Test
    void leavesASupplyAtTheLimitOpen() {
        TestResult result = read(
                "sensor-supply",
                Readings.none().number("battery", 12.24, Unit.VOLT, METER).number("supply", 12.04, Unit.VOLT, METER));

        assertThat(result.at("supply-drop").get(0).judged().verdict()).isEqualTo(Verdict.TOO_CLOSE);
        assertThat(result.outcomes()).isEmpty();
    }

    /** Scan-tool trims come in steps of 0.78 %, SAE J1979; what a step may turn round is not yet found. */
    @Test
    void drawsNoHeadlineFromARowThatIsTooCloseToCall() {
        var random = new java.util.Random(23);
        Accuracy rough = new Accuracy(0, 1, 0.78);
        for (int round = 0; round < 400; round++) {
            Readings readings = Readings.none();
            for (int bank = 1; bank <= 2; bank++) {
                for (String at : List.of("idle", "2500", "cruise")) {
                    readings = readings.number("short-" + at, bank, random.nextInt(-7, 8), Unit.PERCENT, rough)
                            .number("long-" + at, bank, random.nextInt(-9, 10), Unit.PERCENT, rough);
                }
            }
            TestResult result = read("trims", readings);
            List<String> said = outcomes(result);
            if (said.contains("trims-normal")) {
                assertThat(verdicts(result, "trim-idle", "trim-2500", "trim-cruise"))
                        .containsOnly(Verdict.WITHIN);
            }
            if (said.contains("trims-rich-load") || said.contains("trims-lean-load")) {
                assertThat(List.of("trim-2500", "trim-cruise"))
                        .anySatisfy(point -> assertThat(verdicts(result, point)).contains(Verdict.OUTSIDE));
            }
            if (said.contains("trims-one-bank")) {
                assertThat(List.of("trim-idle", "trim-2500", "trim-cruise"))
                        .anySatisfy(point -> assertThat(verdicts(result, point))
                                .containsExactlyInAnyOrder(Verdict.WITHIN, Verdict.OUTSIDE));
            }
            if (said.contains("trims-all-alike")) {
                assertThat(verdicts(result, "trim-idle", "trim-2500")).doesNotContain(Verdict.TOO_CLOSE);
            }
        }
    }

    private static List<Verdict> verdicts(TestResult result, String... points) {
        return java.util.Arrays.stream(points)
                .flatMap(point -> result.at(point).stream())
                .map(each -> each.judged().verdict())
                .toList();
    }

    @Test
    void callsItRicherWithLoadOnlyWhereTheRowsItComparesAreDecidedOnOneBank() {
        Accuracy rough = new Accuracy(0, 1, 0.78);
        TestResult undecided = read("trims", trims(rough, -9.6, -20, 0, 0));
        TestResult twoBanks = read("trims", trims(rough, -14, -15, 0, -8));
        TestResult decided = read("trims", trims(rough, -12, -20, 0, 0));

        assertThat(undecided.at("trim-idle").get(0).judged().verdict()).isEqualTo(Verdict.TOO_CLOSE);
        assertThat(outcomes(undecided)).doesNotContain("trims-rich-load");
        assertThat(outcomes(twoBanks)).contains("trims-rich-all").doesNotContain("trims-rich-load");
        assertThat(outcomes(decided)).contains("trims-rich-load");
    }

    private static Readings trims(Accuracy tool, double idle1, double at1, double idle2, double at2) {
        return Readings.none()
                .number("short-idle", 1, 0, Unit.PERCENT, tool)
                .number("long-idle", 1, idle1, Unit.PERCENT, tool)
                .number("short-2500", 1, 0, Unit.PERCENT, tool)
                .number("long-2500", 1, at1, Unit.PERCENT, tool)
                .number("short-idle", 2, 0, Unit.PERCENT, tool)
                .number("long-idle", 2, idle2, Unit.PERCENT, tool)
                .number("short-2500", 2, 0, Unit.PERCENT, tool)
                .number("long-2500", 2, at2, Unit.PERCENT, tool);
    }

    @Test
    void keepsPendingCodesApartFromStoredOnes() {
        Readings pending = Readings.none().codes("stored", Set.of()).codes("pending", Set.of("P0171"));
        TestResult result = read("codes", pending);

        assertThat(result.outcomes()).extracting(Outcome::words).contains("a code for too lean is pending");
        assertThat(result.outcomes()).extracting(Outcome::words).noneMatch(words -> words.endsWith("is stored"));
        assertThat(result.at("pending").get(0).judged().reason()).isEqualTo("Pending codes: P0171.");
        assertThat(outcomes(read("codes", pending.codes("stored", Set.of("P0171")))))
                .contains("code-lean")
                .doesNotContain("code-lean-pending");
    }

    /** A permanent code cannot be cleared by a tool; it goes once its monitor has passed (from memory). */
    @Test
    void doesNotHoldAPermanentCodeAgainstTheRepair() {
        Readings permanent = Readings.none().codes("stored", Set.of()).codes("permanent", Set.of("P0171"));

        assertThat(read("codes", permanent).at("permanent").get(0).judged().verdict())
                .isEqualTo(Verdict.NOT_JUDGED);
    }

    /** Lowest at least 75 % of highest: several makers print it (own words of their service texts). */
    @Test
    void judgesTheEvennessOfCompressionInAnyUnit() {
        Readings even = Readings.none();
        Readings uneven = Readings.none();
        for (int cylinder = 1; cylinder <= 8; cylinder++) {
            even = even.number("dry", cylinder, 150 - cylinder, Unit.PSI, TOOL);
            uneven = uneven.number("dry", cylinder, cylinder == 3 ? 104 : 150, Unit.PSI, TOOL);
        }

        assertThat(outcomes(read("compression", even))).containsExactly("compression-even");
        TestResult result = read("compression", uneven);
        assertThat(outcomes(result)).containsExactly("compression-uneven");
        assertThat(result.at("low-of-high").get(0).remark()).isEqualTo("lowest: cylinder 3");
        assertThat(result.at("dry").get(2).label()).isEqualTo("Compression, dry, cylinder 3");
    }

    @Test
    void readsVacuumAsAShareOfTheAirPressureHere() {
        Readings seaLevel = Readings.none()
                .number("vacuum-idle", 15, Unit.INCH_OF_MERCURY, TOOL)
                .choice("needle", "steady");
        Readings high = seaLevel.number("barometer", 83.4, Unit.KILOPASCAL, TOOL);

        assertThat(outcomes(read("vacuum", seaLevel))).containsExactly("vacuum-low");
        assertThat(outcomes(read("vacuum", high))).containsExactly("vacuum-good");
    }

    @Test
    void readsASweepAndCodesAndChoices() {
        assertThat(outcomes(read("sweep", Readings.none().series("ramp", Set.of()))))
                .containsExactly("sweep-smooth");
        assertThat(outcomes(read("sweep", Readings.none().series("ramp", Set.of(SeriesMark.FLAT_SPOT)))))
                .containsExactly("sweep-flat");
        assertThat(outcomes(read("codes", Readings.none().codes("stored", Set.of("P0171", "P0174", "P0303")))))
                .contains("code-lean", "code-misfire-one", "code-rich-no")
                .doesNotContain("code-misfire-many", "code-lean-no");
        assertThat(outcomes(read("codes", Readings.none().codes("stored", Set.of()))))
                .contains("code-lean-no", "code-misfire-no");
        assertThat(read("sweep", Readings.none().series("ramp", Set.of(SeriesMark.FLAT_SPOT)))
                        .at("ramp")
                        .get(0)
                        .shown())
                .isEqualTo("flat spot");
    }

    @Test
    void readsACoolantSensorThatDisagreesAfterANight() {
        Readings night = Readings.none()
                .number("coolant", 23, Unit.CELSIUS, TOOL)
                .number("intake", 48, Unit.FAHRENHEIT, TOOL)
                .number("ambient", 9, Unit.CELSIUS, TOOL);

        assertThat(outcomes(read("coolant-check", night))).containsExactly("coolant-off", "intake-air-agrees");
    }

    @Test
    void readsFuelThatFallsUnderLoadAndDrainsAway() {
        Readings fuel = Readings.none()
                .number("pressure-key-on", 55, Unit.PSI, TOOL)
                .number("pressure-load", 40, Unit.PSI, TOOL)
                .number("pressure-off", 54, Unit.PSI, TOOL)
                .number("pressure-5min", 30, Unit.PSI, TOOL);

        assertThat(outcomes(read("fuel-pressure", fuel))).containsExactly("fuel-pressure-low", "fuel-holding-bad");
        var published = new Limit(310.0, 350.0, Unit.KILOPASCAL, Ground.PUBLISHED, "shop manual, group 20");
        assertThat(outcomes(read(
                        "fuel-pressure",
                        Readings.none().number("pressure-key-on", 48, Unit.PSI, TOOL),
                        V8,
                        Map.of("pressure-key-on", List.of(published)))))
                .containsExactly("fuel-pressure-good");
    }

    @Test
    void judgesNothingByWhatWasNotLookedAt() {
        TestResult result =
                read("visual", Readings.none().choice("filter", "not-looked").choice("hoses", "split"));

        assertThat(result.at("filter").get(0).judged().verdict()).isEqualTo(Verdict.NOT_JUDGED);
        assertThat(result.at("hoses").get(0).judged().verdict()).isEqualTo(Verdict.OUTSIDE);
        assertThat(result.at("hoses").get(0).judged().reason()).isEqualTo("Seen: split or off.");
        assertThat(outcomes(result)).containsExactly("visual-hose-split");
    }

    @Test
    void countsTheLaterOfTwoReadingsAtOnePlace() {
        Readings corrected = Readings.none()
                .number("battery", 12.4, Unit.VOLT, METER)
                .number("supply", 1.09, Unit.VOLT, METER)
                .number("supply", 12.38, Unit.VOLT, METER);

        assertThat(read("sensor-supply", corrected).at("supply")).hasSize(1);
        assertThat(outcomes(read("sensor-supply", corrected))).containsExactly("supply-good");
    }

    @Test
    void refusesAReadingTheProcedureDoesNotHave() {
        assertThatThrownBy(() -> read("sweep", Readings.none().choice("filter", "clean")))
                .isInstanceOf(Refusal.class)
                .hasMessageContaining("has no reading 'filter'");
        assertThatThrownBy(() -> read("visual", Readings.none().choice("filter", "purple")))
                .hasMessage("Air filter has no choice 'purple'.");
    }

    private static List<String> told(TestResult result) {
        return result.outcomes().stream().map(outcome -> outcome.told(result)).toList();
    }

    @Test
    void neverJudgesASupplyThatStandsAboveItsBattery() {
        Readings readings =
                Readings.none().number("battery", 12.3, Unit.VOLT, METER).number("supply", 13.9, Unit.VOLT, METER);
        TestResult result = read("sensor-supply", readings);

        assertThat(result.at("supply-drop").get(0).judged().verdict()).isEqualTo(Verdict.NOT_JUDGED);
        assertThat(outcomes(result)).isEmpty();
        assertThat(result.doubt("supply", 0).orElseThrow())
                .startsWith("Battery less supply would be -1.6 V. Nothing at the sensor can stand above the battery")
                .contains("engine running", "Read both again, key on, engine off.");
        assertThat(result.doubt("battery", 0)).isPresent();
        assertThat(result.doubt("ground-pin", 0)).isEmpty();
    }

    @Test
    void letsABatteryMoveAFewHundredthsBetweenTwoReadings() {
        TestResult result = read(
                "sensor-supply",
                Readings.none()
                        .number("battery", 12.30, Unit.VOLT, new Accuracy(0, 0, 0.01))
                        .number("supply", 12.34, Unit.VOLT, new Accuracy(0, 0, 0.01)));

        assertThat(result.at("supply-drop").get(0).judged().verdict()).isEqualTo(Verdict.WITHIN);
        assertThat(result.doubt("supply", 0)).isEmpty();
    }

    @Test
    void doubtsABatteryThatRisesWhileCrankingAndEndsThatChangedPlaces() {
        TestResult battery = read(
                "battery",
                Readings.none().number("key-on", 12.2, Unit.VOLT, METER).number("cranking", 12.6, Unit.VOLT, METER));
        TestResult sensor = read(
                "oxygen-sensor",
                Readings.none().number("lowest", 2, 0.85, Unit.VOLT, TOOL).number("highest", 2, 0.12, Unit.VOLT, TOOL));

        assertThat(battery.doubt("cranking", 0).orElseThrow()).contains("The starter did not turn");
        assertThat(sensor.doubt("highest", 2).orElseThrow()).contains("changed places");
        assertThat(sensor.doubt("highest", 1)).isEmpty();
    }

    @Test
    void saysThatDigitsAreMissingWhereTheMeterIsFineEnough() {
        Readings tenths = Readings.none()
                .number("battery", 12.3, Unit.VOLT, new Accuracy(0.5, 2, 0.1))
                .number("supply", 12.2, Unit.VOLT, new Accuracy(0.5, 2, 0.1));
        PointResult drop = read("sensor-supply", tenths).at("supply-drop").get(0);

        assertThat(drop.judged().verdict()).isEqualTo(Verdict.TOO_CLOSE);
        assertThat(drop.judged().reason())
                .startsWith("0.1 V rests on 12.3 V and 12.2 V, typed to a tenth")
                .contains("every digit the meter shows, such as 12.30 and 12.20");
        PointResult rest = read("battery", Readings.none().number("rest", 12.3, Unit.VOLT, new Accuracy(0.5, 2, 0.1)))
                .at("rest")
                .get(0);
        assertThat(rest.judged().reason())
                .startsWith("12.3 V is typed to a tenth")
                .contains("such as 12.30");
    }

    @Test
    void asksForAFinerMeterOnlyWhereMoreDigitsWouldNotHelp() {
        var all = new Accuracy(0.5, 2, 0.01);
        var coarse = new Accuracy(0.5, 2, 0.1).notFinerThan(0.1);
        for (Accuracy accuracy : List.of(all, coarse)) {
            PointResult rest = read("battery", Readings.none().number("rest", 12.3, Unit.VOLT, accuracy))
                    .at("rest")
                    .get(0);
            assertThat(rest.judged().reason())
                    .startsWith("The meter reads 12.3 V")
                    .contains("finer meter");
        }
    }

    @Test
    void namesThePointThatWasOutside() {
        Readings idle = Readings.none()
                .number("signal-idle", 0.9, Unit.VOLT, METER)
                .number("signal-2500", 3.1, Unit.VOLT, METER)
                .number("signal-3500", 3.0, Unit.VOLT, METER);

        assertThat(told(read("sensor-signal", idle))).containsExactly("the signal is too high at 2,500 rpm");
        assertThat(told(read("sensor-signal", idle.number("signal-idle", 1.9, Unit.VOLT, METER))))
                .containsExactly("the signal is too high at idle and at 2,500 rpm");
        assertThat(told(read("battery", Readings.none().number("rest", 11.9, Unit.VOLT, METER))))
                .containsExactly("the battery is low at rest");
        assertThat(told(read("smoke", Readings.none().choice("leak", "hose"))))
                .containsExactly("smoke comes out at a vacuum hose");
        assertThat(told(read("trims", trims(3, 14, 2, 3)))).contains("one bank only is off: bank 2");
        assertThat(told(read("visual", Readings.none().choice("duct", "loose"))))
                .contains("air can get in behind the sensor (duct and clamps: loose clamp)");
    }

    @Test
    void believesKnownGoodFlowBeforeTheShareByCommonPractice() {
        var known = KnownGood.band(new double[] {12.5, 12.6, 12.7, 12.4, 12.6, 12.8, 12.5, 12.6})
                .limit(Unit.GRAM_PER_SECOND)
                .orElseThrow();
        TestResult result = read(
                "air-flow",
                Readings.none()
                        .number("flow-2500", 9.6, Unit.GRAM_PER_SECOND, TOOL)
                        .number("rpm-2500", 2490, Unit.RPM, TOOL),
                new VehicleFacts(2.2, 4, 1, Map.of()),
                Map.of("flow-2500", List.of(known)));

        assertThat(told(result)).containsExactly("the reported air is too little for the engine at 2,500 rpm");
    }

    @Test
    void writesACalculatedValueWithTheDigitsItsUncertaintyLeaves() {
        var whole = new Accuracy(0, 0, 1);
        TestResult night = read(
                "coolant-check",
                Readings.none()
                        .number("coolant", 14, Unit.CELSIUS, whole)
                        .number("intake", 12, Unit.CELSIUS, whole)
                        .number("ambient", 55, Unit.FAHRENHEIT, whole));

        assertThat(night.at("intake-off").get(0).shown()).isEqualTo("-0.8 K apart");
        assertThat(night.at("coolant-off").get(0).judged().reason())
                .startsWith("1.2 K apart is within -5 to 5 K apart");
    }

    @Test
    void tellsADifferenceAndItsLimitInTheUnitBothWereReadIn() {
        TestResult fuel = read(
                "fuel-pressure",
                Readings.none()
                        .number("pressure-key-on", 55, Unit.PSI, TOOL)
                        .number("pressure-off", 54, Unit.PSI, TOOL)
                        .number("pressure-5min", 44, Unit.PSI, TOOL),
                V8,
                Map.of(
                        "pressure-key-on",
                        List.of(new Limit(345.0, 400.0, Unit.KILOPASCAL, Ground.PUBLISHED, "sheet F-22"))));

        assertThat(fuel.at("fall").get(0).judged().reason())
                .startsWith("10 psi is outside, high: good is at most 5.08 psi");
        assertThat(fuel.at("pressure-key-on").get(0).judged().reason()).startsWith("55 psi is within 50 to 58 psi");
    }
}
