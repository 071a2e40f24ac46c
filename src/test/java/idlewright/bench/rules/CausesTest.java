package idlewright.bench.rules;

import static idlewright.bench.rules.PatternsTest.CATALOGUE;
import static idlewright.bench.rules.PatternsTest.NOON;
import static idlewright.bench.rules.PatternsTest.VEHICLE;
import static idlewright.bench.rules.PatternsTest.evidence;
import static idlewright.bench.rules.PatternsTest.evidenceOf;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import idlewright.bench.rules.Ranking.Confidence;
import idlewright.bench.rules.Ranking.RankedCause;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;

class CausesTest {
    private static final Causes CAUSES = new Causes(CATALOGUE);

    private static Ranking rank(String symptom, String outcomes) {
        return CAUSES.rank(symptom, evidence(outcomes), Learned.nothing(), VEHICLE);
    }

    private static double share(Ranking ranking, String cause) {
        return ranking.cause(cause).orElseThrow().probability();
    }

    @Test
    void ranksByCommonnessAloneWhenNothingIsTested() {
        Ranking ranking = CAUSES.rank("hesitation", List.of(), Learned.nothing(), VEHICLE);

        assertThat(ranking.likeliest().cause().key()).isEqualTo("air-sensor-low");
        assertThat(ranking.likeliest().basis()).isEqualTo("common for this symptom (judgement)");
        assertThat(ranking.likeliest().speakingFor()).isEmpty();
        assertThat(ranking.confidence()).isEqualTo(Confidence.LOW);
        assertThat(ranking.remarks())
                .containsExactly(
                        "Nothing is tested yet: this order is only how common each cause is for this symptom, as judgement.");
        double known = ranking.causes().stream()
                .filter(each -> !each.cause().isSomethingElse())
                .mapToDouble(each -> each.judged().weight())
                .sum();
        for (RankedCause each : ranking.causes()) {
            double expected =
                    each.cause().isSomethingElse() ? 0.06 : 0.94 * each.judged().weight() / known;
            assertThat(each.probability()).isCloseTo(expected, within(1e-12));
        }
    }

    @Test
    void keepsSomethingElseAlways() {
        assertThat(rank("hesitation", "trims-lean-load flow-low").cause(Cause.SOMETHING_ELSE))
                .isPresent();
    }

    @Test
    void putsSomethingElseFirstWhenNothingKnownFits() {
        Ranking ranking = rank(
                "rough-idle",
                "trims-normal smoke-tight compression-even spark-good contribution-even egr-works idle-follows"
                        + " purge-tight flow-normal vacuum-good gas-burns plugs-fine balance-even visual-hoses-whole");

        assertThat(ranking.likeliest().cause().key()).isEqualTo(Cause.SOMETHING_ELSE);
        assertThat(ranking.remarks()).anyMatch(remark -> remark.contains("fits none of the known causes"));
        assertThat(ranking.confidence()).isEqualTo(Confidence.LOW);
    }

    @Test
    void losesConfidenceWhenTheEvidenceContradictsItself() {
        Ranking agreed = rank("lack-of-power", "trims-lean-load flow-low supply-good");
        Ranking contradicted = rank(
                "lack-of-power", "trims-lean-load flow-low supply-good signal-good sweep-smooth load-full-reached");

        assertThat(share(contradicted, "air-sensor-low")).isLessThan(share(agreed, "air-sensor-low"));
        assertThat(contradicted.confidence()).isLessThan(agreed.confidence());
        assertThat(contradicted.remarks())
                .anySatisfy(remark -> assertThat(remark)
                        .contains("The evidence disagrees about \"Air-flow sensor reads too low\"")
                        .contains("Repeat one of them under noted conditions"));
    }

    @Test
    void saysWhatHasNotBeenDoneYet() {
        assertThat(rank("stalls", "trims-normal").remarks())
                .anyMatch(remark -> remark.startsWith("The symptom has not been reproduced"))
                .anyMatch(remark -> remark.startsWith("Codes and freeze frames have not been read"));
        assertThat(rank("stalls", "trims-normal reproduced-seen codes-none").remarks())
                .noneMatch(remark -> remark.contains("reproduced"))
                .noneMatch(remark -> remark.contains("freeze frames"));
        assertThat(rank("stalls", "restarts:must-cool").remarks())
                .first()
                .asString()
                .contains("customer's answers");
    }

    @Test
    void givesTheReasonInWordsStrongestFirst() {
        RankedCause first = rank("hesitation", "trims-lean-load flow-low began:slowly engine:both")
                .likeliest();

        assertThat(first.speakingFor())
                .extracting(Ranking.EvidenceLine::words)
                .containsExactly(
                        "Fuel trims: lean, and leaner with load: speaks strongly for",
                        "Mass air flow, live data: the reported air is too little for the engine: speaks strongly for",
                        "Customer: it crept in over weeks: speaks for");
        assertThat(first.speakingAgainst()).isEmpty();
        RankedCause leak =
                rank("hesitation", "trims-lean-load flow-low").cause("air-leak").orElseThrow();
        assertThat(leak.speakingAgainst().get(0).words())
                .isEqualTo("Fuel trims: lean, and leaner with load: speaks strongly against");
    }

    @Test
    void countsARepeatOnceAndTheLatestOnly() {
        Evidence earlier = new Evidence("trims", "trims-lean-load", NOON.minusSeconds(60));
        Evidence later = new Evidence("trims", "trims-normal", NOON);

        Ranking once = CAUSES.rank("hesitation", List.of(later), Learned.nothing(), VEHICLE);
        Ranking repeated = CAUSES.rank("hesitation", List.of(later, earlier, later), Learned.nothing(), VEHICLE);

        assertThat(repeated).isEqualTo(once);
    }

    @Test
    void doesNotCountALeanCodeBesideTrimsThatSayTheSame() {
        assertThat(share(rank("hesitation", "trims-lean-load code-lean"), "fuel-low"))
                .isCloseTo(share(rank("hesitation", "trims-lean-load"), "fuel-low"), within(1e-12));
        assertThat(share(rank("hesitation", "code-lean"), "fuel-low"))
                .isGreaterThan(share(rank("hesitation", "code-lean-no"), "fuel-low"));
    }

    @Test
    void leavesOutTheAnswerThatTheSymptomAlreadyTells() {
        assertThat(rank("hard-start-cold", "engine:cold").causes())
                .isEqualTo(CAUSES.rank("hard-start-cold", List.of(), Learned.nothing(), VEHICLE)
                        .causes());
    }

    @Test
    void learnsFromWhatThisShopHasProved() {
        var learned = new Learned(Map.of("crank-cam-sensor", 12));

        Ranking taught = CAUSES.rank("hesitation", List.of(), learned, VEHICLE);
        Ranking untaught = CAUSES.rank("hesitation", List.of(), Learned.nothing(), VEHICLE);

        assertThat(taught.likeliest().cause().key()).isEqualTo("crank-cam-sensor");
        assertThat(taught.likeliest().basis()).endsWith("from 12 proved cases here");
        // Dirichlet mean by hand: (20 x p + 12) / (20 + 12)
        assertThat(taught.likeliest().probability())
                .isCloseTo((20 * share(untaught, "crank-cam-sensor") + 12) / 32, within(1e-12));
        assertThat(taught.remarks()).contains("The starting weights include 12 cases of this shop that were proved.");
    }

    @Test
    void leavesOutWhatTheVehicleCannotHave() {
        var pressure = new VehicleFacts(2.0, 4, 1, Map.of(Trait.MASS_AIR_FLOW, false, Trait.SPARK_IGNITION, true));
        Ranking ranking = CAUSES.rank("hesitation", List.of(), Learned.nothing(), pressure);

        assertThat(ranking.cause("air-sensor-low")).isEmpty();
        assertThat(ranking.cause("map-biased")).isPresent();
        assertThat(CAUSES.rank("hesitation", List.of(), Learned.nothing(), VehicleFacts.unknown())
                        .causes())
                .hasSize(CATALOGUE.causes().size());
    }

    @Test
    void saysWhenAResultIsFromAProcedureThatIsGone() {
        Ranking ranking = CAUSES.rank(
                "hesitation", List.of(new Evidence("trims", "trims-purple", NOON)), Learned.nothing(), VEHICLE);

        assertThat(ranking.remarks()).contains("1 result of an older version of a procedure could not be counted.");
    }

    @Test
    void refusesAnUnknownSymptom() {
        assertThatThrownBy(() -> rank("hiccups", "trims-normal")).hasMessage("There is no symptom kind 'hiccups'.");
    }

    @Test
    void addsUpToOneInAnyOrderForAnyEvidence() {
        var random = new Random(20261125);
        List<Evidence> all = allEvidence();
        for (int round = 0; round < 400; round++) {
            var some = new ArrayList<Evidence>();
            for (int i = random.nextInt(15); i > 0; i--) some.add(all.get(random.nextInt(all.size())));
            String symptom = anySymptom(random);
            Ranking ranking = CAUSES.rank(symptom, some, Learned.nothing(), VEHICLE);

            double sum = ranking.causes().stream()
                    .mapToDouble(RankedCause::probability)
                    .sum();
            assertThat(sum).isCloseTo(1, within(1e-9));
            assertThat(ranking.causes()).allMatch(each -> each.probability() > 0);

            var shuffled = new ArrayList<>(some);
            Collections.shuffle(shuffled, random);
            assertThat(CAUSES.rank(symptom, shuffled, Learned.nothing(), VEHICLE))
                    .isEqualTo(ranking);
        }
    }

    @Test
    void neverLowersACauseAgainstTheUnknownByEvidenceThatSpeaksForIt() {
        var random = new Random(42);
        List<Evidence> all = allEvidence();
        for (Evidence one : all) {
            Catalogue.Place place = CATALOGUE.placeOf(one).orElseThrow();
            // In one order: the same pairs are tried in each run.
            for (Map.Entry<String, Speaks> speaks :
                    new TreeMap<>(place.outcome().speaks()).entrySet()) {
                if (!speaks.getValue().isFor()) continue;
                String symptom = anySymptom(random);
                if (place.group().silentFor().contains(symptom)) continue;
                List<Evidence> before = List.of(all.get(random.nextInt(all.size()))).stream()
                        .filter(each -> independent(CATALOGUE.placeOf(each).orElseThrow(), place))
                        .toList();
                var after = new ArrayList<>(before);
                after.add(one);
                Ranking first = CAUSES.rank(symptom, before, Learned.nothing(), VehicleFacts.unknown());
                Ranking second = CAUSES.rank(symptom, after, Learned.nothing(), VehicleFacts.unknown());
                assertThat(odds(second, speaks.getKey()))
                        .as(one.outcome() + " for " + speaks.getKey())
                        .isGreaterThan(odds(first, speaks.getKey()));
            }
        }
    }

    /** A matter of Bayes' rule, common practice: what says nothing about two causes leaves their odds as they were. */
    @Test
    void movesNoCauseAReadingSaysNothingAbout() {
        var random = new Random(7);
        List<Evidence> all = allEvidence();
        for (Evidence one : all) {
            Catalogue.Place place = CATALOGUE.placeOf(one).orElseThrow();
            String symptom = anySymptom(random);
            List<Evidence> before = List.of(all.get(random.nextInt(all.size()))).stream()
                    .filter(each -> independent(CATALOGUE.placeOf(each).orElseThrow(), place))
                    .toList();
            var after = new ArrayList<>(before);
            after.add(one);
            Ranking first = CAUSES.rank(symptom, before, Learned.nothing(), VehicleFacts.unknown());
            Ranking second = CAUSES.rank(symptom, after, Learned.nothing(), VehicleFacts.unknown());
            for (Cause cause : CATALOGUE.causes()) {
                if (cause.isSomethingElse() || place.group().speaksAbout(place.outcome(), cause.key())) continue;
                assertThat(odds(second, cause.key()) / odds(first, cause.key()))
                        .as(one.outcome() + " and " + cause.key())
                        .isCloseTo(1, within(1e-9));
            }
        }
    }

    /** Only the outcome that is usual for a healthy car may give way for causes that others of its group name. */
    @Test
    void letsAnUncommonFindingSpeakOnlyAboutTheCausesItNames() {
        var said = new ArrayList<String>();
        CATALOGUE.procedures().stream()
                .flatMap(procedure -> procedure.groups().stream())
                .forEach(group -> group.outcomes().stream()
                        .filter(outcome -> group.outcomes().size() > 2
                                && group.outcomes().stream().anyMatch(other -> other.usual() > outcome.usual()))
                        .forEach(outcome -> CATALOGUE.causes().stream()
                                .filter(cause -> !outcome.speaks().containsKey(cause.key())
                                        && Math.abs(group.factor(outcome, cause.key()) - 1) > 1e-9)
                                .forEach(cause -> said.add(outcome.key() + " moves " + cause.key()))));

        assertThat(said).isEmpty();
    }

    @Test
    void judgesADraggingBrakeOnlyByWhatSaysSomethingAboutWheels() {
        assertThat(CATALOGUE.procedures().stream()
                        .flatMap(procedure -> procedure.groups().stream())
                        .filter(group -> group.outcomes().stream()
                                .anyMatch(outcome -> group.speaksAbout(outcome, "dragging-brake")))
                        .map(OutcomeGroup::name))
                .containsExactlyInAnyOrder("Does it roll?");
    }

    /** A sensor without feed cannot be judged: common practice, no source. */
    @Test
    void putsTheWiringFirstAndTheSensorClearlyDownWhereTheFeedFailed() {
        var random = new Random(11);
        List<String> forTheSensor = CATALOGUE.procedures().stream()
                .flatMap(procedure -> procedure.groups().stream())
                .filter(group -> !group.reliesOn().isEmpty())
                .flatMap(group -> group.outcomes().stream())
                .filter(outcome -> outcome.speaks()
                        .getOrDefault("air-sensor-low", Speaks.NOTHING)
                        .isFor())
                .map(Outcome::key)
                .toList();
        assertThat(forTheSensor).hasSizeGreaterThan(8);
        for (String symptom : List.of("hesitation", "stumble-tip-in", "hard-start-cold", "poor-economy", "surge")) {
            for (String failed : List.of("supply-low", "feed-bad", "ground-bad")) {
                for (int round = 0; round < 20; round++) {
                    var seen = new ArrayList<Evidence>();
                    for (int i = 0; i < 5; i++) {
                        seen.add(evidenceOf(forTheSensor.get(random.nextInt(forTheSensor.size()))));
                    }
                    seen.add(evidenceOf("visual-sensor-dirty"));
                    seen.add(evidenceOf("began:slowly"));
                    seen.add(evidenceOf(failed));
                    Ranking ranking = CAUSES.rank(symptom, seen, Learned.nothing(), VEHICLE);
                    assertThat(ranking.likeliest().cause().key())
                            .as(symptom + " " + seen)
                            .isEqualTo("air-sensor-supply");
                    assertThat(share(ranking, "air-sensor-low")).isLessThan(share(ranking, "air-sensor-supply") / 2);
                }
            }
        }
        assertThat(rank("hesitation", "trims-lean-load flow-low feed-bad").remarks())
                .anyMatch(remark -> remark.contains("nothing the sensor reports speaks for the sensor itself"));
    }

    @Test
    void countsWhatTwoTestsSeeOnceAtTheStrongerWord() {
        assertThat(share(rank("lack-of-power", "flow-low load-full-low"), "air-sensor-low"))
                .as("load is calculated from the air flow")
                .isLessThanOrEqualTo(share(rank("lack-of-power", "flow-low"), "air-sensor-low") + 1e-9);
        assertThat(odds(rank("hesitation", "trims-lean-load log-lean"), "fuel-low"))
                .isCloseTo(odds(rank("hesitation", "trims-lean-load"), "fuel-low"), within(1e-9));
        assertThat(odds(rank("hesitation", "log-lean"), "fuel-low"))
                .isGreaterThan(odds(rank("hesitation", "log-nothing"), "fuel-low"));
        assertThat(odds(rank("hesitation", "trims-lean-load log-nothing"), "fuel-low"))
                .as("but a contradiction counts")
                .isLessThan(odds(rank("hesitation", "trims-lean-load"), "fuel-low"));
    }

    /** What is shown must explain the share: prior times every line's factor, as naive Bayes says. */
    @Test
    void listsEveryReadingThatMovedACauseAndWhichWay() {
        var random = new Random(3);
        List<Evidence> all = allEvidence();
        for (int round = 0; round < 60; round++) {
            var some = new ArrayList<Evidence>();
            for (int i = 0; i < 8; i++) some.add(all.get(random.nextInt(all.size())));
            String symptom = anySymptom(random);
            Ranking untested = CAUSES.rank(symptom, List.of(), Learned.nothing(), VEHICLE);
            Ranking ranking = CAUSES.rank(symptom, some, Learned.nothing(), VEHICLE);
            for (RankedCause each : ranking.causes()) {
                double told = java.util.stream.Stream.concat(
                                each.speakingFor().stream(), each.speakingAgainst().stream())
                        .mapToDouble(line -> Math.log(line.factor()))
                        .sum();
                double moved = Math.log(odds(ranking, each.cause().key())
                        / odds(untested, each.cause().key()));
                assertThat(told).as(each.cause().key() + " " + some).isCloseTo(moved, within(8 * 0.021));
                assertThat(each.speakingFor()).allMatch(line -> line.factor() > 1);
                assertThat(each.speakingAgainst()).allMatch(line -> line.factor() < 1);
            }
        }
    }

    @Test
    void neverShowsCertainty() {
        assertThat(Figures.percent(0.9961)).isEqualTo("over 99 %");
        assertThat(Figures.percent(0.0099)).isEqualTo("under 1 %");
        assertThat(Figures.percent(0.914)).isEqualTo("91 %");
        Ranking ranking = rank("stalls", "restarts:must-cool engine:hot cam-crank-broken");
        double shown = ranking.causes().stream()
                .mapToDouble(RankedCause::probability)
                .filter(share -> share >= 0.01)
                .sum();
        double under = 1 - shown;
        assertThat(ranking.under()).isEqualTo(Figures.percent(under));
    }

    @Test
    void warnsBeforeAPartIsBoughtThatTheBasicCheckIsStillToCome() {
        assertThat(rank("hesitation", "trims-lean-load flow-low").remarks())
                .contains(
                        "Before \"Air-flow sensor reads too low\" is acted on, take \"Air-flow sensor, supply and ground\" (6 minutes).");
        assertThat(rank("hesitation", "trims-lean-load flow-low supply-good").remarks())
                .noneMatch(remark -> remark.startsWith("Before"));
    }

    @Test
    void callsAPendingCodePendingAndTrustsItLess() {
        assertThat(CATALOGUE.outcomeWords("code-crank-cam-pending")).contains("a code for crank or cam is pending");
        assertThat(odds(rank("stalls", "code-crank-cam-pending"), "crank-cam-sensor"))
                .isLessThan(odds(rank("stalls", "code-crank-cam"), "crank-cam-sensor"))
                .isGreaterThan(odds(rank("stalls", "code-crank-cam-no"), "crank-cam-sensor"));
    }

    private static double odds(Ranking ranking, String cause) {
        return share(ranking, cause) / share(ranking, Cause.SOMETHING_ELSE);
    }

    private static boolean independent(Catalogue.Place one, Catalogue.Place other) {
        return !one.groupKey().equals(other.groupKey())
                && !one.group().toldBy().contains(other.groupKey())
                && !one.group().reliesOn().contains(other.groupKey())
                && !other.group().reliesOn().contains(one.groupKey())
                && !one.group().sameAs().contains(other.groupKey())
                && !other.group().sameAs().contains(one.groupKey())
                && !other.group().toldBy().contains(one.groupKey());
    }

    private static String anySymptom(Random random) {
        List<SymptomKind> kinds = List.copyOf(CATALOGUE.symptomKinds());
        return kinds.get(random.nextInt(kinds.size())).key();
    }

    private static List<Evidence> allEvidence() {
        return CATALOGUE.procedures().stream()
                .flatMap(procedure -> procedure.groups().stream())
                .flatMap(group -> group.outcomes().stream())
                .map(outcome -> evidenceOf(outcome.key()))
                .toList();
    }
}
