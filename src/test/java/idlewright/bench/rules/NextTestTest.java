package idlewright.bench.rules;

import static idlewright.bench.rules.PatternsTest.CATALOGUE;
import static idlewright.bench.rules.PatternsTest.VEHICLE;
import static idlewright.bench.rules.PatternsTest.evidence;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import idlewright.bench.rules.NextTest.AtHand;
import idlewright.bench.rules.NextTest.Plan;
import idlewright.bench.rules.NextTest.Suggestion;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class NextTestTest {
    private static final Set<String> BEGUN = Set.of("reproduce", "codes", "visual", "battery");

    private static Plan plan(String symptom, String outcomes, Set<String> done, AtHand atHand) {
        List<Evidence> evidence = outcomes.isEmpty() ? List.of() : evidence(outcomes);
        Ranking ranking = new Causes(CATALOGUE).rank(symptom, evidence, Learned.nothing(), VEHICLE);
        return new NextTest(CATALOGUE).plan(ranking, evidence, done, atHand, VEHICLE);
    }

    private static Suggestion first(Plan plan) {
        return plan.ready().get(0);
    }

    @Test
    void startsWithReproducingThenCodesThenLooking() {
        Plan plan = plan("hesitation", "", Set.of(), AtHand.everything());

        assertThat(plan.ready().subList(0, 3))
                .extracting(each -> each.procedure().key())
                .containsExactly("reproduce", "codes", "visual");
        assertThat(first(plan).byRule()).isTrue();
        assertThat(first(plan).reason()).startsWith("First by rule: ");
    }

    @Test
    void takesTrimsFirstWhenLittleIsKnownOfAHesitation() {
        assertThat(first(plan("hesitation", "", BEGUN, AtHand.everything()))
                        .procedure()
                        .key())
                .isEqualTo("trims");
    }

    @Test
    void namesTheCausesItTellsApartInItsReason() {
        Suggestion next =
                first(plan("lack-of-power", "trims-lean-load trims-all-alike", with("trims"), AtHand.everything()));

        assertThat(next.procedure().key()).isEqualTo("air-flow");
        assertThat(next.reason())
                .isEqualTo("Tells \"Fuel pressure or volume too low\" from \"Air-flow sensor reads too low\" and"
                        + " \"Wrong air-flow sensor, or fitted the wrong way round\", in 5 minutes.");
    }

    @Test
    void sendsToTheWiringBeforeASensorIsBought() {
        Plan plan = plan("hesitation", "trims-lean-load flow-low", with("trims", "air-flow"), AtHand.everything());

        assertThat(plan.ready()).extracting(each -> each.procedure().key()).contains("sensor-supply");
        assertThat(plan.waiting()).anySatisfy(each -> {
            assertThat(each.procedure().key()).isEqualTo("sensor-signal");
            assertThat(each.lacking()).isEqualTo("first: air-flow sensor, supply and ground");
        });
    }

    @Test
    void holdsBackWhatIsNotAtHandAndSaysWhatIsLacking() {
        var bare = new AtHand(Set.of(InstrumentKind.METER), EnumSet.of(Need.ENGINE_CRANKS));
        Plan plan = plan("cranks-no-start", "", BEGUN, bare);

        assertThat(plan.ready())
                .extracting(each -> each.procedure().key())
                .doesNotContain("trims", "fuel-pressure")
                .contains("ground-drop");
        assertThat(plan.waiting()).anySatisfy(each -> {
            assertThat(each.procedure().key()).isEqualTo("fuel-pressure");
            assertThat(each.lacking()).isEqualTo("fuel pressure gauge");
        });
    }

    @Test
    void asksNoRunningEngineOfACarThatDoesNotStart() {
        Plan plan = plan("cranks-no-start", "", BEGUN, AtHand.everything());

        assertThat(plan.ready())
                .flatExtracting(each -> each.procedure().needs())
                .doesNotContain(Need.ENGINE_RUNS, Need.HOT);
        assertThat(first(plan).procedure().key()).isEqualTo("ignition");
    }

    @Test
    void neverSuggestsWhatIsDoneOrWhatBelongsAfterTheRepairOrWhatTheCarHasNot() {
        var pressure = new VehicleFacts(2.0, 4, 1, Map.of(Trait.MASS_AIR_FLOW, false));
        Ranking ranking = new Causes(CATALOGUE).rank("hesitation", List.of(), Learned.nothing(), pressure);
        Plan plan = new NextTest(CATALOGUE).plan(ranking, List.of(), BEGUN, AtHand.everything(), pressure);

        assertThat(plan.ready())
                .extracting(each -> each.procedure().key())
                .doesNotContain("reproduce", "battery", "relearn", "road-test", "air-flow", "sensor-supply", "sweep")
                .contains("trims", "map-baro");
    }

    @Test
    void givesTheSamePlanTwice() {
        assertThat(plan("stalls", "trims-normal", BEGUN, AtHand.everything()))
                .isEqualTo(plan("stalls", "trims-normal", BEGUN, AtHand.everything()));
    }

    @Test
    void neverExpectsLessThanNothingNorMoreThanIsOpen() {
        for (SymptomKind kind : CATALOGUE.symptomKinds()) {
            Ranking ranking = new Causes(CATALOGUE).rank(kind.key(), List.of(), Learned.nothing(), VEHICLE);
            double open = ranking.causes().stream()
                    .mapToDouble(each -> -each.probability() * Math.log(each.probability()) / Math.log(2))
                    .sum();
            for (Suggestion each :
                    plan(kind.key(), "", BEGUN, AtHand.everything()).ready()) {
                assertThat(each.bits()).isBetween(0.0, open);
                assertThat(each.reason()).endsWith(".");
            }
        }
    }

    /** The expected posterior is the prior, so no test can be expected to favour a cause in advance. */
    @Test
    void expectsNoCauseToGainOnAverage() {
        Ranking before = new Causes(CATALOGUE).rank("hesitation", List.of(), Learned.nothing(), VEHICLE);
        OutcomeGroup mixture =
                CATALOGUE.procedure("trims").orElseThrow().groups().get(0);
        double expected = 0;
        for (Outcome outcome : mixture.outcomes()) {
            double chance = before.causes().stream()
                    .mapToDouble(each -> each.probability()
                            * mixture.probability(outcome, each.cause().key()))
                    .sum();
            Ranking after =
                    new Causes(CATALOGUE).rank("hesitation", evidence(outcome.key()), Learned.nothing(), VEHICLE);
            expected += chance * after.cause("air-leak").orElseThrow().probability();
        }

        assertThat(expected).isCloseTo(before.cause("air-leak").orElseThrow().probability(), within(1e-12));
    }

    /** Order of the trade, common practice: feed and ground are proved before a sensor is bought. */
    @ParameterizedTest
    @CsvSource({
        "stumble-tip-in, ''",
        "stumble-tip-in, phase:tip-in began:slowly codes-none",
        "hesitation, code-lean",
        "hesitation, trims-lean-load",
        "hard-start-cold, code-air-flow-range code-lean",
        "hard-start-hot, code-air-flow-circuit",
        "poor-economy, code-air-flow-range",
        "poor-economy, trims-rich-load",
        "lack-of-power, trims-lean-load trims-all-alike",
    })
    void showsTheSupplyTestAmongTheFirstWhereTheAirFlowSensorIsASuspect(String symptom, String outcomes) {
        Plan plan = plan(symptom, outcomes, with(outcomes.contains("trims") ? "trims" : "codes"), AtHand.everything());

        assertThat(plan.ready().subList(0, NextTest.SHOWN)).anySatisfy(each -> {
            assertThat(each.procedure().key()).isEqualTo("sensor-supply");
            assertThat(each.reason()).contains("\"Air-flow sensor").contains("6 minutes");
        });
    }

    @Test
    void provesTheFeedBeforeAllElseOnceTheSensorIsLikelierThanTheRest() {
        Suggestion next =
                first(plan("hesitation", "trims-lean-load flow-low", with("trims", "air-flow"), AtHand.everything()));

        assertThat(next.procedure().key()).isEqualTo("sensor-supply");
        assertThat(next.byRule()).isTrue();
        assertThat(next.reason())
                .contains("Tells \"Air-flow sensor lacks supply or ground\" from \"Air-flow sensor reads");
    }

    @Test
    void sendsToNoTestOfASensorWhoseFeedHasFailed() {
        Plan plan =
                plan("hesitation", "trims-lean-load supply-low", with("trims", "sensor-supply"), AtHand.everything());

        assertThat(plan.ready())
                .extracting(each -> each.procedure().key())
                .doesNotContain("air-flow", "sensor-signal", "sweep", "load");
        assertThat(plan.waiting())
                .filteredOn(each -> each.procedure().key().equals("sensor-signal"))
                .singleElement()
                .satisfies(each -> assertThat(each.lacking())
                        .isEqualTo("the sensor's supply to be mended, else it tells nothing"));
    }

    @Test
    void saysWhenItIsTimeToDecide() {
        assertThat(plan(
                                "hesitation",
                                "reproduced-seen codes-none trims-lean-load flow-low feed-bad",
                                with("trims", "air-flow", "sensor-supply"),
                                AtHand.everything())
                        .enough())
                .startsWith("The evidence agrees on \"Air-flow sensor lacks supply or ground\" (");
        assertThat(plan("hesitation", "", BEGUN, AtHand.everything()).enough()).isEmpty();
        assertThat(plan("hesitation", "trims-lean-load flow-low", with("trims", "air-flow"), AtHand.everything())
                        .enough())
                .as("the basic check is still to come")
                .isEmpty();
    }

    @Test
    void putsATestThatTellsNothingBehindThoseThatTell() {
        for (SymptomKind kind : CATALOGUE.symptomKinds()) {
            List<Suggestion> ready =
                    plan(kind.key(), "", BEGUN, AtHand.everything()).ready();
            List<Boolean> tells = ready.stream()
                    .filter(each -> !each.byRule())
                    .filter(each -> !each.reason().startsWith("A basic check"))
                    .map(Suggestion::tells)
                    .toList();
            assertThat(tells.lastIndexOf(true)).as(kind.key()).isLessThan(tells.indexOf(false));
        }
    }

    @Test
    void doesNotPromiseMuchOfATestThatSeesTheSameAgain() {
        Plan plan = plan(
                "lack-of-power",
                "trims-lean-load flow-low supply-good",
                with("trims", "air-flow", "sensor-supply"),
                AtHand.everything());

        assertThat(plan.ready())
                .filteredOn(each -> each.procedure().key().equals("load"))
                .singleElement()
                .satisfies(each -> assertThat(each.reason())
                        .isEqualTo("Sees again, another way, what \"Mass air flow, live data\" has seen; 5 minutes."));
    }

    @Test
    void countsTheNightACarMustStandForATest() {
        Suggestion poor = suggestion("poor-economy", "coolant-check");
        Suggestion cold = suggestion("hard-start-cold", "coolant-check");

        assertThat(poor.reason()).contains("5 minutes, once it has stood cold overnight");
        assertThat(poor.bitsPerMinute()).isEqualTo(poor.bits() / 20);
        assertThat(cold.reason()).doesNotContain("overnight");
    }

    private static Suggestion suggestion(String symptom, String procedure) {
        return plan(symptom, "", BEGUN, AtHand.everything()).ready().stream()
                .filter(each -> each.procedure().key().equals(procedure))
                .findFirst()
                .orElseThrow();
    }

    /** A reason that names two causes as told apart must hold for those two, and they must be in front now. */
    @Test
    void tellsApartInItsReasonOnlyWhatTheTestParts() {
        var random = new Random(5);
        List<String> outcomes = CATALOGUE.procedures().stream()
                .flatMap(procedure -> procedure.groups().stream())
                .flatMap(group -> group.outcomes().stream())
                .map(Outcome::key)
                .toList();
        Pattern told = Pattern.compile("Tells (\"[^\"]+\") from (.+?)(?:, the two likeliest|, in |\\.$|\\. )");
        int seen = 0;
        for (int round = 0; round < 60; round++) {
            List<SymptomKind> kinds = List.copyOf(CATALOGUE.symptomKinds());
            String kind = kinds.get(random.nextInt(kinds.size())).key();
            List<Evidence> evidence = evidence(outcomes.get(random.nextInt(outcomes.size())) + " "
                    + outcomes.get(random.nextInt(outcomes.size())));
            Ranking ranking = new Causes(CATALOGUE).rank(kind, evidence, Learned.nothing(), VEHICLE);
            for (Suggestion each : new NextTest(CATALOGUE)
                    .plan(ranking, evidence, BEGUN, AtHand.everything(), VEHICLE)
                    .ready()) {
                if (each.reason().startsWith("Wanted before")) continue;
                Matcher names = told.matcher(each.reason());
                if (!names.find()) continue;
                String one = names.group(1).replace("\"", "");
                for (String other : quoted(names.group(2))) {
                    assertThat(parts(each.procedure(), key(ranking, one), key(ranking, other)))
                            .as(each.procedure().key() + ": " + each.reason())
                            .isGreaterThanOrEqualTo(NextTest.APART);
                    seen++;
                }
            }
        }
        assertThat(seen).isGreaterThan(200);
    }

    private static List<String> quoted(String names) {
        return Pattern.compile("\"([^\"]+)\"")
                .matcher(names)
                .results()
                .map(each -> each.group(1))
                .toList();
    }

    private static String key(Ranking ranking, String name) {
        return ranking.causes().stream()
                .filter(each -> each.cause().name().equals(name))
                .filter(each -> each.probability() >= NextTest.NAMED)
                .map(each -> each.cause().key())
                .findFirst()
                .orElseThrow(() -> new AssertionError(name + " is not among the causes in front"));
    }

    /** Total variation distance between what two causes let a test show, worked out here again. */
    private static double parts(Procedure procedure, String one, String other) {
        return procedure.groups().stream()
                .mapToDouble(group -> group.outcomes().stream()
                                .mapToDouble(outcome ->
                                        Math.abs(group.probability(outcome, one) - group.probability(outcome, other)))
                                .sum()
                        / 2)
                .max()
                .orElse(0);
    }

    private static Set<String> with(String... further) {
        var done = new java.util.HashSet<>(BEGUN);
        done.addAll(List.of(further));
        return done;
    }
}
