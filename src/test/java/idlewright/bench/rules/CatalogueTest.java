package idlewright.bench.rules;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import idlewright.reference.verdict.Ground;
import java.io.StringReader;
import java.util.HashSet;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class CatalogueTest {
    private static final Catalogue CATALOGUE = Catalogue.load();

    @Test
    void keepsEverySymptomKindOfTheTrade() {
        assertThat(CATALOGUE.symptomKinds())
                .extracting(SymptomKind::key)
                .containsExactly(
                        "cranks-no-start",
                        "hard-start-cold",
                        "hard-start-hot",
                        "stalls",
                        "rough-idle",
                        "idle-hunts",
                        "stumble-tip-in",
                        "hesitation",
                        "flat-spot",
                        "surge",
                        "misfire-load",
                        "lack-of-power",
                        "knock",
                        "backfire-intake",
                        "backfire-exhaust",
                        "runs-on",
                        "poor-economy",
                        "fuel-smell",
                        "smoke-black",
                        "smoke-blue",
                        "smoke-white",
                        "lamp-on");
    }

    @Test
    void asksTheSameQuestionsOfEverySymptomAndItsOwnFirst() {
        for (SymptomKind kind : CATALOGUE.symptomKinds()) {
            assertThat(kind.always())
                    .extracting(Question::key)
                    .containsExactly(
                            "engine",
                            "phase",
                            "how-often",
                            "began",
                            "which-work",
                            "since",
                            "weather",
                            "lamp",
                            "better-worse",
                            "road-test");
            assertThat(kind.questions().subList(0, kind.further().size())).isEqualTo(kind.further());
            assertThat(kind.meaning()).endsWith(".");
        }
        assertThat(CATALOGUE.symptomKind("hard-start-hot").orElseThrow().further())
                .extracting(Question::key)
                .contains("crank-time", "stand", "start-helps");
    }

    @Test
    void givesEveryProcedureItsCautionsStepsMinutesPointsAndOutcomes() {
        assertThat(CATALOGUE.procedures())
                .extracting(Procedure::key)
                .contains(
                        "reproduce",
                        "visual",
                        "battery",
                        "codes",
                        "trims",
                        "load",
                        "air-flow",
                        "sensor-supply",
                        "sensor-signal",
                        "sweep",
                        "wiggle",
                        "smoke",
                        "vacuum",
                        "fuel-pressure",
                        "injector-balance",
                        "ignition",
                        "contribution",
                        "compression",
                        "leak-down",
                        "back-pressure",
                        "oxygen-sensor",
                        "throttle-sweep",
                        "coolant-check",
                        "map-baro",
                        "purge",
                        "egr-idle",
                        "cam-crank",
                        "ground-drop",
                        "exhaust-gas",
                        "economy",
                        "log-drive",
                        "relearn",
                        "road-test");
        for (Procedure procedure : CATALOGUE.procedures()) {
            assertThat(procedure.cautions()).as(procedure.key()).isNotEmpty();
            assertThat(procedure.cautions().get(0)).as(procedure.key()).contains("maker's own procedure");
            assertThat(procedure.steps()).as(procedure.key()).isNotEmpty();
            assertThat(procedure.conditions()).as(procedure.key()).isNotEmpty();
            assertThat(procedure.minutes()).as(procedure.key()).isPositive();
            assertThat(procedure.toRead()).as(procedure.key()).isNotEmpty();
            assertThat(procedure.groups()).as(procedure.key()).isNotEmpty();
            for (OutcomeGroup group : procedure.groups()) {
                assertThat(group.outcomes())
                        .as(procedure.key() + " " + group.key())
                        .hasSizeGreaterThan(1);
            }
            if (procedure.state() == KeyState.RUNNING || procedure.state() == KeyState.CRANKING) {
                assertThat(procedure.cautions().toString())
                        .as(procedure.key())
                        .containsAnyOf("Chock the wheels", "One drives");
            }
        }
    }

    /** Words of each notice that general trade and OSHA practice ask for, from memory; each is on some procedure. */
    @ParameterizedTest
    @ValueSource(
            strings = {
                "Chock the wheels",
                "fans",
                "Carbon monoxide",
                "catalyst glow",
                "Relieve fuel pressure",
                "15 MPa",
                "40 kV",
                "Back-probe",
                "airbags",
                "Orange cables",
                "hydrogen",
                "rated stands",
                "hot cooling system",
                "Take away fuel and ignition",
                "One drives and another reads",
                "before anything clears them"
            })
    void showsEveryNoticeSomewhere(String notice) {
        assertThat(CATALOGUE.procedures())
                .anySatisfy(procedure ->
                        assertThat(String.join(" ", procedure.cautions())).contains(notice));
    }

    @Test
    void givesEveryNumberALimitOrTheReasonWhyItHasNone() {
        for (Procedure procedure : CATALOGUE.procedures()) {
            for (Point point : procedure.points()) {
                if (point.kind() != Point.Kind.NUMBER) continue;
                assertThat(point.limit() == null ? point.unjudged() : "limit")
                        .as(procedure.key() + " " + point.key())
                        .isNotBlank();
                assertThat(point.possible() != null || point.isDerived())
                        .as(procedure.key() + " " + point.key() + " has a possible range")
                        .isTrue();
                if (point.limit() != null && point.limit().ground() == Ground.COMMON_PRACTICE) {
                    assertThat(point.limit().citation()).isNotBlank();
                }
            }
        }
    }

    @Test
    void letsEveryCauseBeReachedByASymptomAndByATest() {
        Set<String> spokenFor = new HashSet<>();
        CATALOGUE.procedures().stream()
                .flatMap(procedure -> procedure.groups().stream())
                .flatMap(group -> group.outcomes().stream())
                .forEach(outcome -> outcome.speaks().forEach((cause, speaks) -> {
                    if (speaks.isFor()) spokenFor.add(cause);
                }));
        for (Cause cause : CATALOGUE.causes()) {
            if (cause.isSomethingElse()) continue;
            assertThat(cause.commonness()).as(cause.key()).isNotEmpty();
            assertThat(spokenFor).as("a test that speaks for " + cause.key()).contains(cause.key());
            assertThat(cause.plainWords()).as(cause.key()).endsWith(".");
        }
    }

    @Test
    void canReachEveryOutcomeOfReadings() {
        Set<String> rules = CATALOGUE.procedures().stream()
                .flatMap(procedure -> procedure.groups().stream())
                .flatMap(group -> group.outcomes().stream())
                .filter(outcome -> outcome.rule().toString().isBlank())
                .map(Outcome::key)
                .collect(Collectors.toSet());

        assertThat(rules).isEmpty();
    }

    @Test
    void makesTheOutcomesOfAGroupAddUpToOneForEveryCause() {
        for (Procedure procedure : CATALOGUE.procedures()) {
            for (OutcomeGroup group : procedure.groups()) {
                for (Cause cause : CATALOGUE.causes()) {
                    double sum = group.outcomes().stream()
                            .mapToDouble(outcome -> group.probability(outcome, cause.key()))
                            .sum();
                    assertThat(sum).isCloseTo(1, org.assertj.core.api.Assertions.within(1e-12));
                }
            }
        }
    }

    @Test
    void refusesAnUnknownKeyByItsName() {
        DataNode file =
                DataNode.of("fuel.yaml", new StringReader("procedures: {purge: {name: Purge, cautoins: [maker]}}"));

        assertThatThrownBy(() -> file.each("procedures", named -> named.node().text("name")))
                .isInstanceOf(Refusal.class)
                .hasMessage("fuel.yaml > procedures > purge: unknown key 'cautoins'");
    }

    @Test
    void refusesARuleThatNamesNoReading() {
        Procedure trims = CATALOGUE.procedure("trims").orElseThrow();

        assertThatThrownBy(() -> Rule.parse(
                        "trim-idel high",
                        key -> trims.point(key).orElseThrow(() -> new Refusal("there is no reading '" + key + "'"))))
                .hasMessage("there is no reading 'trim-idel'");
        assertThatThrownBy(() ->
                        Rule.parse("trim-idle sideways", key -> trims.point(key).orElseThrow()))
                .hasMessage("the rule 'trim-idle sideways' cannot be understood");
    }

    @Test
    void turnsAnswersOfTheCustomerIntoEvidence() {
        var answers = java.util.Map.of("engine", "cold", "since", "last week", "weather", "nonsense");

        assertThat(CATALOGUE.asked(answers, PatternsTest.NOON))
                .extracting(Evidence::outcome)
                .containsExactly("engine:cold");
        assertThat(CATALOGUE.outcomeWords("engine:cold")).contains("it happens only with the engine cold");
    }

    /** Else a finding there could never be proved mended: nothing could be answered that is in order. */
    @Test
    void letsEveryChoiceThatIsNotInOrderBecomeInOrderAgain() {
        for (Procedure procedure : CATALOGUE.procedures()) {
            for (Point point : procedure.points()) {
                if (point.choices().stream().anyMatch(choice -> Boolean.FALSE.equals(choice.good()))) {
                    assertThat(point.choices())
                            .as(procedure.key() + " " + point.key())
                            .anyMatch(choice -> Boolean.TRUE.equals(choice.good()));
                }
            }
        }
    }
}
