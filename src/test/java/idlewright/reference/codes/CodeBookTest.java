package idlewright.reference.codes;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Set;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CodeBookTest {

    /** The keys of the catalogue of causes; a twin to keep in step with it. */
    private static final Set<String> CAUSES =
            Set.of(("air-sensor-low air-sensor-high air-sensor-supply air-sensor-signal"
                            + " air-sensor-wrong air-leak intake-blocked crankcase-vent map-biased fuel-low fuel-high"
                            + " injector-restricted injector-leaking fuel-stale purge-open plugs leads coil ignition-timing"
                            + " knock-control compression-low valve-timing exhaust-blocked coolant-sensor intake-temp-sensor"
                            + " throttle-sensor crank-cam-sensor oxygen-sensor knock-sensor throttle-dirty egr-open egr-blocked"
                            + " battery-charging engine-ground relay-connector adaptation software thermostat dragging-brake not-engine"
                            + " something-else")
                    .split(" "));

    private static final Set<String> PROCEDURES = Set.of(("reproduce visual battery codes trims load air-flow"
                    + " sensor-supply sensor-signal sweep wiggle smoke vacuum fuel-pressure injector-balance ignition"
                    + " contribution compression leak-down back-pressure oxygen-sensor throttle-sweep coolant-check"
                    + " map-baro purge egr-idle cam-crank ground-drop exhaust-gas economy log-drive relearn road-test")
            .split(" "));

    @Test
    void explainsAtLeastTwoHundredAndFiftyCodes() {
        assertThat(CodeBook.all()).hasSizeGreaterThan(750);
        assertThat(CodeBook.all()).allSatisfy(entry -> {
            assertThat(entry.generic()).as(entry.code()).isTrue();
            assertThat(entry.meaning()).matches("[A-Z].{5,}[^.]");
            assertThat(entry.causes()).isNotEmpty().doesNotHaveDuplicates().isSubsetOf(CAUSES);
            assertThat(entry.procedures()).isNotEmpty().doesNotHaveDuplicates().isSubsetOf(PROCEDURES);
        });
        assertThat(CodeBook.all()).extracting(CodeBook.Entry::code).doesNotHaveDuplicates();
        assertThat(CodeBook.all()).extracting(CodeBook.Entry::meaning).doesNotHaveDuplicates();
    }

    @Test
    void pointsToEveryCauseOfTheCatalogue() {
        assertThat(CodeBook.all().stream().flatMap(entry -> entry.causes().stream()))
                .containsAll(CAUSES);
    }

    @ParameterizedTest(name = "{0} is {1}")
    @CsvSource(
            delimiter = '|',
            value = {
                // meanings as check table section 4 gives them (from memory, spot-checked there against makers' tables)
                "P0031|Oxygen sensor heater control, bank 1 sensor 1: circuit low",
                "P0038|Oxygen sensor heater control, bank 1 sensor 2: circuit high",
                "P0087|Fuel rail pressure too low",
                "P0101|Air-flow sensor A: signal not believable for engine speed and throttle",
                "P0102|Air-flow sensor A: signal low",
                "P0103|Air-flow sensor A: signal high",
                "P0108|Manifold pressure or barometer sensor: signal high",
                "P0113|Intake air temperature sensor 1: signal high",
                "P0117|Coolant temperature sensor 1: signal low",
                "P0128|Coolant stays below the thermostat temperature",
                "P0133|Oxygen sensor, bank 1 sensor 1: slow to respond",
                "P0141|Oxygen sensor, bank 1 sensor 2: heater fault",
                "P0161|Oxygen sensor, bank 2 sensor 2: heater fault",
                "P0171|Mixture too lean, bank 1",
                "P0175|Mixture too rich, bank 2",
                "P0208|Injector, cylinder 8: circuit fault or open",
                "P0302|Misfire: cylinder 2",
                "P0328|Knock sensor 1: signal high",
                "P0336|Crankshaft sensor A: signal not believable",
                "P0358|Ignition coil H: primary or secondary circuit fault",
                "P0402|Exhaust gas recirculation: too much flow",
                "P0430|Catalyst, bank 2: efficiency too low",
                "P0443|Purge valve A: circuit fault",
                "P0456|Fuel vapour system: very small leak",
                "P0507|Idle faster than wanted",
                "P0562|System voltage: low",
                "P2190|Mixture too rich at idle, bank 2"
            })
    void saysItInOurOwnWords(String code, String meaning) {
        assertThat(CodeBook.explain(new TroubleCode(code)).meaning()).isEqualTo(meaning);
    }

    @Test
    void keepsCylindersAndCoilsInOrder() {
        IntStream.rangeClosed(1, 12).forEach(cylinder -> {
            assertThat(CodeBook.explain(new TroubleCode("P0%03d".formatted(300 + cylinder)))
                            .meaning())
                    .endsWith("cylinder " + cylinder);
            assertThat(CodeBook.explain(new TroubleCode("P0%03d".formatted(200 + cylinder)))
                            .meaning())
                    .contains("cylinder " + cylinder + ":");
        });
    }

    @Test
    void pointsFromTheAirFlowCodesToTheSensorItsSupplyAndLeaks() {
        CodeBook.Entry entry = CodeBook.explain(new TroubleCode("P0101"));
        assertThat(entry.causes()).startsWith("air-sensor-low").contains("air-leak", "intake-blocked");
        assertThat(entry.procedures()).contains("visual", "air-flow", "sweep", "smoke");
        assertThat(entry.system()).isEqualTo("powertrain");
        assertThat(CodeBook.explain(new TroubleCode("P0102")).causes()).startsWith("air-sensor-supply");
    }

    @Test
    void saysWhereToLookForACodeItDoesNotHave() {
        CodeBook.Entry makers = CodeBook.explain(new TroubleCode("P1101"));
        assertThat(makers.known()).isFalse();
        assertThat(makers.meaning()).startsWith("A code of the maker's own");
        assertThat(makers.causes()).isEmpty();
        assertThat(CodeBook.explain(new TroubleCode("P0FFF")).meaning()).startsWith("A standard code that this book");
    }

    @Test
    void findsCodesByStartAndByWords() {
        assertThat(CodeBook.search("p010")).extracting(CodeBook.Entry::code).contains("P0101", "P0108");
        assertThat(CodeBook.search("lean idle"))
                .extracting(CodeBook.Entry::code)
                .isEqualTo(List.of("P2177", "P2179", "P2187", "P2189"));
        assertThat(CodeBook.search("  ")).isEmpty();
    }
}
