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
import java.util.Set;
import org.junit.jupiter.api.Test;

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
    void tellsTheTwoLikeliestCausesApartInItsReason() {
        Suggestion next =
                first(plan("lack-of-power", "trims-lean-load trims-all-alike", with("trims"), AtHand.everything()));

        assertThat(next.procedure().key()).isEqualTo("air-flow");
        assertThat(next.reason())
                .isEqualTo("Tells \"Fuel pressure or volume too low\" from \"Air-flow sensor reads too low\","
                        + " the two likeliest causes, in 5 minutes.");
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

    private static Set<String> with(String... further) {
        var done = new java.util.HashSet<>(BEGUN);
        done.addAll(List.of(further));
        return done;
    }
}
