package idlewright.bench.rules;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.bench.rules.UnitShown.Taken;
import idlewright.reference.units.Typed;
import idlewright.reference.units.Unit;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

class EntryTest {
    private static final Catalogue CATALOGUE = PatternsTest.CATALOGUE;

    private static Point point(String procedure, String point) {
        return CATALOGUE.procedure(procedure).orElseThrow().point(point).orElseThrow();
    }

    @Test
    void keepsAnUsualValueWithoutAWord() {
        assertThat(Entry.of(point("sensor-supply", "supply"), 12.04, Unit.VOLT))
                .isEqualTo(new Entry.Accepted(12.04, Unit.VOLT, ""));
    }

    @Test
    void refusesAnImpossibleValueAndNamesTheRange() {
        Entry entry = Entry.of(point("sensor-supply", "supply"), 120, Unit.VOLT);

        assertThat(entry)
                .isInstanceOfSatisfying(
                        Entry.Refused.class,
                        refused -> assertThat(refused.words())
                                .isEqualTo(
                                        "120 V cannot be: supply across the sensor lies between 0 and 18 V. Check the figure and the unit."));
        assertThat(Entry.of(point("sensor-supply", "supply"), Double.NaN, Unit.VOLT))
                .isInstanceOf(Entry.Refused.class);
    }

    @Test
    void namesTheRangeInTheUnitThatWasTyped() {
        Entry entry = Entry.of(point("fuel-pressure", "pressure-key-on"), 300, Unit.PSI);

        assertThat(((Entry.Refused) entry).words()).contains("between 0 and 174 psi");
    }

    @Test
    void refusesAUnitOfAnotherKind() {
        assertThat(Entry.of(point("sensor-supply", "supply"), 12, Unit.PSI))
                .isEqualTo(new Entry.Refused("Supply across the sensor is read in V or mV, not in psi."));
    }

    @Test
    void turnsReversedProbesRoundAndSaysSo() {
        Entry entry = Entry.of(point("sensor-supply", "supply"), -12.04, Unit.VOLT);

        assertThat(entry)
                .isEqualTo(new Entry.Accepted(
                        12.04,
                        Unit.VOLT,
                        "The probes were reversed: the sign was turned round, the magnitude stands."));
    }

    @Test
    void leavesASignAloneWhereBothAreUsual() {
        assertThat(Entry.of(point("trims", "short-idle"), -4.7, Unit.PERCENT))
                .isEqualTo(new Entry.Accepted(-4.7, Unit.PERCENT, ""));
    }

    @Test
    void asksOnceAboutASlippedDecimalPoint() {
        Entry tooMuch = Entry.of(point("fuel-pressure", "pressure-key-on"), 38, Unit.KILOPASCAL);
        Entry tooLittle = Entry.of(point("air-flow", "flow-idle"), 49, Unit.GRAM_PER_SECOND);

        assertThat(((Entry.Asked) tooMuch).question())
                .isEqualTo("38 kPa is about a tenth of the usual 180 to 650 kPa. Keep it?");
        assertThat(((Entry.Asked) tooLittle).question())
                .isEqualTo("49 g/s is about ten times the usual 1.5 to 15 g/s. Keep it?");
    }

    @Test
    void asksAboutEveryTenfoldAndTenthOfAUsualValue() {
        for (Procedure procedure : CATALOGUE.procedures()) {
            for (Point point : procedure.points()) {
                Range usual = point.usual();
                Range possible = point.possible();
                if (usual == null || possible == null || usual.low() <= 0) continue;
                double middle = Math.sqrt(usual.low() * usual.high());
                for (double slipped : new double[] {middle * 10, middle / 10}) {
                    if (usual.holds(slipped)) continue;
                    assertThat(Entry.of(point, slipped, point.unit()))
                            .as(procedure.key() + " " + point.key() + " " + slipped)
                            .isInstanceOf(possible.holds(slipped) ? Entry.Asked.class : Entry.Refused.class);
                }
            }
        }
    }

    @Test
    void judgesReversedProbesByTheirMagnitude() {
        TestResult result = CATALOGUE
                .procedure("sensor-supply")
                .orElseThrow()
                .read(
                        Readings.none()
                                .number("battery", 12.14, Unit.VOLT, Accuracy.unknown())
                                .number("supply", -12.04, Unit.VOLT, Accuracy.unknown()),
                        VehicleFacts.unknown(),
                        Map.of());

        assertThat(result.at("supply").get(0).shown()).isEqualTo("12.04 V");
        assertThat(result.at("supply").get(0).remark()).contains("probes were reversed");
        assertThat(result.outcomes()).extracting(Outcome::key).contains("supply-good");
    }

    @Test
    void readsThousandsWhereThingsAreCounted() {
        for (String typed : new String[] {"1,650", "1.650", "1 650", "1'650", "1650", "1,650 rpm"}) {
            assertThat(Entry.meant(point("codes", "freeze-rpm"), Typed.meanings(typed, Unit.RPM))
                            .orElseThrow()
                            .value())
                    .as(typed)
                    .isEqualByComparingTo("1650");
        }
        assertThat(Entry.meant(point("codes", "freeze-rpm"), Typed.meanings("812.5", Unit.RPM))
                        .orElseThrow()
                        .value())
                .isEqualByComparingTo("812.5");
    }

    @Test
    void takesTheOneMeaningThatIsPossible() {
        assertThat(Entry.meant(point("sensor-signal", "signal-idle"), Typed.meanings("1,650", Unit.VOLT))
                        .orElseThrow()
                        .value())
                .hasToString("1.650");
        assertThat(Entry.meant(point("air-flow", "barometer"), Typed.meanings("1,013", Unit.HECTOPASCAL))
                        .orElseThrow()
                        .value())
                .hasToString("1013");
        assertThat(Entry.meant(point("sensor-supply", "supply"), Typed.meanings("-12.040", Unit.VOLT))
                        .orElseThrow()
                        .value())
                .hasToString("-12.040");
    }

    @Test
    void asksBackWhereBothMeaningsArePossible() {
        var meanings = Typed.meanings("1,200", Unit.KILOPASCAL);

        assertThat(Entry.meant(point("compression", "dry"), meanings)).isEmpty();
        assertThat(Entry.whichIsMeant("1,200", Entry.likelierFirst(point("compression", "dry"), meanings)))
                .isEqualTo("1,200 is read as 1200 kPa. If you mean 1.2 kPa, type 1.2. Keep 1200 kPa?");
        assertThat(Entry.eitherWay("1,200", meanings)).isEqualTo("1,200 can be read two ways: type 1.2 or 1200.");
    }

    @Test
    void takesABareNumberInTheUnitThatIsShown() {
        Point feed = point("sensor-supply", "feed-alone");
        Point dry = point("compression", "dry");
        Point wet = point("compression", "wet");

        // "12 mV" at the ground pin was meant for that reading, and so was mV by its button
        assertThat(UnitShown.at(feed, List.of(new Taken("ground-pin", Unit.MILLIVOLT, true))))
                .isEqualTo(Unit.VOLT);
        assertThat(UnitShown.at(feed, List.of(new Taken("ground-pin", Unit.MILLIVOLT, false))))
                .isEqualTo(Unit.VOLT);
        // a gauge in psi is read in psi all day, cylinder by cylinder and with oil
        assertThat(UnitShown.at(dry, List.of(new Taken("dry", Unit.PSI, true)))).isEqualTo(Unit.PSI);
        assertThat(UnitShown.at(wet, List.of(new Taken("dry", Unit.PSI, false))))
                .isEqualTo(Unit.PSI);
        assertThat(UnitShown.at(wet, List.of(new Taken("dry", Unit.PSI, true)))).isEqualTo(Unit.KILOPASCAL);
        assertThat(UnitShown.at(dry, List.of())).isEqualTo(Unit.KILOPASCAL);
    }
}
