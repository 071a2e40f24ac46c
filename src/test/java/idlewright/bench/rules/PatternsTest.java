package idlewright.bench.rules;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.bench.rules.Ranking.RankedCause;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Patterns of the trade, each a fact of common practice without a source. */
class PatternsTest {
    static final Catalogue CATALOGUE = Catalogue.load();
    static final Instant NOON = Instant.parse("2026-11-25T12:00:00Z");
    static final VehicleFacts VEHICLE =
            new VehicleFacts(4.4, 8, 2, Map.of(Trait.MASS_AIR_FLOW, true, Trait.MANIFOLD_PRESSURE, false));

    @ParameterizedTest(name = "{0}: {1} with {2} points to {3}")
    @CsvSource({
        "lean at idle and normal above is an air leak, rough-idle, trims-lean-idle, air-leak",
        "lean at idle with smoke at a hose is an air leak, idle-hunts, trims-lean-idle smoke-leak, air-leak",
        "lean with load and little air is the air-flow sensor, lack-of-power, trims-lean-load flow-low, air-sensor-low",
        "lean with load and little air on hesitation is the air-flow sensor, hesitation, trims-lean-load flow-low supply-good, air-sensor-low",
        "lean with load and right air is fuel delivery, lack-of-power, trims-lean-load flow-normal, fuel-low",
        "lean with load and low pressure is fuel delivery, hesitation, trims-lean-load fuel-pressure-low, fuel-low",
        "rich at idle and better above after a fill-up is the purge valve, rough-idle, began:after-fuel trims-rich-idle purge-leaks, purge-open",
        "rich at idle with falling rest pressure is a leaking injector, hard-start-hot, trims-rich-idle fuel-holding-bad, injector-leaking",
        "rich everywhere with high pressure is the regulator, smoke-black, trims-rich-all fuel-pressure-high, fuel-high",
        "rich with load and too much air is an over-reading sensor, smoke-black, trims-rich-load flow-high, air-sensor-high",
        "one bank lean with uneven injectors is an injector, misfire-load, trims-lean-load trims-one-bank balance-restricted, injector-restricted",
        "little air at full throttle with normal trims and back pressure is the exhaust, lack-of-power, trims-normal load-full-low back-pressure-high, exhaust-blocked",
        "little air at full throttle with normal trims and free exhaust is the intake, lack-of-power, trims-normal load-full-low back-pressure-low visual-filter-blocked, intake-blocked",
        "vacuum that sinks at held speed is the exhaust, lack-of-power, trims-normal vacuum-sinks, exhaust-blocked",
        "a low supply with a good battery is the wiring, hesitation, cranking-good supply-low, air-sensor-supply",
        "a low feed alone is the wiring, stalls, cranking-good supply-low feed-bad, air-sensor-supply",
        "cold only and a coolant sensor that disagrees is the coolant sensor, hard-start-cold, coolant-off, coolant-sensor",
        "cold only and rich is the coolant sensor, stalls, engine:cold gas-rich, coolant-sensor",
        "hot restart with pressure that drains is fuel holding, hard-start-hot, fuel-holding-bad trims-normal start-helps:key-twice, fuel-low",
        "dies driving and must cool is the crank signal, stalls, restarts:must-cool engine:hot cam-crank-broken, crank-cam-sensor",
        "economy poor with all normal and cold coolant is the thermostat, poor-economy, trims-normal stays-cold, thermostat",
        "economy poor with all normal and a dragging brake is not the engine, poor-economy, trims-normal warms-up rolling-drags, dragging-brake",
        "economy poor with a lazy sensor is the oxygen sensor, poor-economy, oxygen-bad, oxygen-sensor",
        "right air at idle but flat in the sweep is an ageing sensor, hesitation, flow-normal sweep-flat supply-good, air-sensor-low",
        "spikes in the sweep are the signal wire, surge, sweep-broken wiggle-sensor-wire supply-good, air-sensor-signal",
        "trouble after work with nothing found is a missing relearn, idle-hunts, began:after-work trims-normal smoke-tight idle-follows codes-none, adaptation",
        "one cylinder misfires and the fault goes with the coil is the coil, misfire-load, code-misfire-one contribution-uneven fault-follows-coil, coil",
        "one cylinder misfires with even compression and worn plugs is the plugs, misfire-load, code-misfire-one spark-one plugs-worn compression-even, plugs",
        "worse in the wet with misfire is the leads, misfire-load, weather:damp code-misfire-one, leads",
        "one cylinder weak with uneven compression is compression, rough-idle, contribution-uneven compression-uneven, compression-low",
        "low steady vacuum with cam out of step is valve timing, lack-of-power, vacuum-low cam-crank-out-of-step, valve-timing",
        "no spark on all without signal is the crank sensor, cranks-no-start, spark-none cam-crank-broken, crank-cam-sensor",
        "strong spark and no pressure is fuel, cranks-no-start, spark-good fuel-pressure-low, fuel-low",
        "slow cranking voltage is the battery, hard-start-cold, cranking-low, battery-charging",
        "a ground that loses voltage is the ground, hard-start-cold, cranking-good engine-ground-bad, engine-ground",
        "a stumble with a broken throttle sweep is the throttle sensor, stumble-tip-in, throttle-broken, throttle-sensor",
        "dying to idle with deposits is the throttle body, stalls, stall-when:to-idle idle-sluggish trims-normal, throttle-dirty",
        "knock without EGR flow is EGR, knock, egr-dead, egr-blocked",
        "knock after a lower grade is the fuel, knock, fuel-grade:lower knock-retard, fuel-stale",
        "a new sensor the wrong way round is the wrong sensor, hesitation, began:after-work visual-sensor-wrong flow-low, air-sensor-wrong",
        "blue smoke with a breather that leaks is the breather, smoke-blue, visual-breather compression-even, crankcase-vent",
        "white smoke with a bad leak-down is compression, smoke-white, leak-down-bad, compression-low",
        "a failed supply outweighs all the sensor reports, stumble-tip-in, phase:tip-in began:slowly trims-lean-load flow-low load-full-low sweep-flat cranking-good feed-bad, air-sensor-supply",
        "a failed ground outweighs an idle and a load that read high, poor-economy, trims-rich-load flow-high ground-bad, air-sensor-supply",
        "a failed supply on a hard start is the wiring although a dirty element was seen, hard-start-cold, visual-sensor-dirty code-lean flow-low supply-low, air-sensor-supply",
        "a dirty element with a good supply is the sensor, stumble-tip-in, visual-sensor-dirty trims-lean-load flow-low supply-good, air-sensor-low",
        "a pending lean code and little air with a good supply is the sensor, hesitation, code-lean-pending flow-low supply-good, air-sensor-low",
        "economy poor with a hot wheel is the brake although nothing changed in driving, poor-economy, economy-driving:nothing reproduced-seen rolling-drags tyres-right, dragging-brake",
        "power missing with a hot wheel and a load that stays low on a hill is the brake, lack-of-power, reproduced-seen trims-normal rolling-drags, dragging-brake",
        "economy poor with soft tyres is the tyres, poor-economy, trims-normal warms-up rolling-free tyres-off, not-engine",
        "comes and goes and changes at a connector is the connector, stalls, reproduced-intermittent wiggle-connector, relay-connector",
    })
    void ranksTheTextbookCauseFirst(String pattern, String symptom, String outcomes, String expected) {
        Ranking ranking = new Causes(CATALOGUE).rank(symptom, evidence(outcomes), Learned.nothing(), VEHICLE);

        assertThat(ranking.causes().stream().limit(5).map(each -> each.cause().key() + " " + each.share()))
                .as(pattern)
                .first()
                .asString()
                .startsWith(expected);
        RankedCause first = ranking.likeliest();
        assertThat(first.speakingFor()).as("its reason").isNotEmpty();
        assertThat(first.speakingFor().get(0).words()).contains("speaks");
    }

    static List<Evidence> evidence(String outcomes) {
        var evidence = new ArrayList<Evidence>();
        for (String outcome : outcomes.split(" ")) {
            if (outcome.equals("codes-none")) {
                CATALOGUE
                        .procedure("codes")
                        .orElseThrow()
                        .groups()
                        .forEach(group -> evidence.add(new Evidence(
                                "codes",
                                group.outcomes()
                                        .get(group.outcomes().size() - 1)
                                        .key(),
                                NOON)));
            } else {
                evidence.add(evidenceOf(outcome));
            }
        }
        return evidence;
    }

    static Evidence evidenceOf(String outcome) {
        String procedure = CATALOGUE.procedures().stream()
                .filter(each -> each.groups().stream()
                        .flatMap(group -> group.outcomes().stream())
                        .anyMatch(one -> one.key().equals(outcome)))
                .map(Procedure::key)
                .collect(Collectors.joining());
        var evidence = new Evidence(procedure.isEmpty() ? Evidence.ASKED : procedure, outcome, NOON);
        assertThat(CATALOGUE.placeOf(evidence)).as(outcome).isPresent();
        return evidence;
    }
}
