package idlewright.repair;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import idlewright.billing.Authorisations;
import idlewright.billing.Charges;
import idlewright.billing.WorkRates;
import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.HoursStep;
import idlewright.frame.MovableClock;
import idlewright.frame.Refused;
import idlewright.frame.Stale;
import idlewright.ground.WithDatabase;
import idlewright.intake.SymptomRef;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.reference.money.Money;
import idlewright.repair.rules.Pay;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.Executors;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.context.annotation.Import;
import org.springframework.jdbc.core.simple.JdbcClient;

@SpringBootTest
@WithDatabase
@Import(Visit.class)
@DisplayName("The clock at the bay")
class ClocksTest {

    private static final Instant NINE = Instant.parse("2027-03-03T09:00:00Z");

    @Autowired
    Visit visit;

    @Autowired
    People people;

    @Autowired
    Clocks clocks;

    @Autowired
    Labours labours;

    @Autowired
    Findings findings;

    @Autowired
    Charges charges;

    @Autowired
    Authorisations authorisations;

    @Autowired
    WorkRates workRates;

    @Autowired
    MovableClock clock;

    @Autowired
    JdbcClient sql;

    private Person tamsin;
    private Person odile;
    private SymptomRef first;
    private SymptomRef second;

    @BeforeEach
    void twoCars() {
        tamsin = visit.hire(Role.TECHNICIAN);
        odile = visit.hire(Role.OWNER, Role.WRITER);
        first = people.as(odile, () -> visit.open("It hesitates."));
        second = people.as(odile, () -> visit.open("It stalls."));
    }

    /** The database is shared by all tests: others reckon at the shop's hour. */
    @AfterEach
    void noCostRate() {
        people.as(odile, () -> {
            var card = workRates.card();
            if (card.costRate() != null) {
                workRates.set(
                        List.of(
                                new WorkRates.Kind("Diagnosis", null),
                                new WorkRates.Kind("Mechanical", null),
                                new WorkRates.Kind("Electrical", null),
                                new WorkRates.Kind("Programming", null)),
                        HoursStep.TENTH,
                        null,
                        card.version());
            }
            return null;
        });
    }

    @Test
    void stopsAtTheFirstCarWhenItIsStartedAtAnother() {
        at(0, () -> clocks.start(first, "Mechanical"));
        at(40, () -> clocks.start(second, "Diagnosis"));
        at(55, () -> {
            assertThat(clocks.mine().orElseThrow().thread()).isEqualTo(second);
            assertThat(clocks.of(first.ticket())).singleElement().satisfies(span -> {
                assertThat(span.words()).isEqualTo("0:40");
                assertThat(span.running()).isFalse();
            });
        });
    }

    @Test
    void goesOnWhereItIsStartedAgainAtTheSameWork() {
        at(0, () -> clocks.start(first, "Mechanical"));
        at(10, () -> clocks.start(first, "Mechanical"));
        at(30, clocks::stop);
        at(31, clocks::stop);
        at(
                60,
                () -> assertThat(clocks.of(first.ticket()))
                        .singleElement()
                        .satisfies(span -> assertThat(span.words()).isEqualTo("0:30")));
    }

    @Test
    void runsOnceThoughTwoTerminalsStartItTogether() throws Exception {
        var terminals = Executors.newFixedThreadPool(2);
        try {
            List<Callable<Void>> presses = List.of(press(first), press(second), press(first), press(second));
            for (var pressed : terminals.invokeAll(presses)) {
                pressed.get();
            }
        } finally {
            terminals.shutdown();
        }
        assertThat(sql.sql("select count(*) from clock_span where person_id = ? and stopped_at is null")
                        .param(tamsin.id())
                        .query(Integer.class)
                        .single())
                .isEqualTo(1);
    }

    private Callable<Void> press(SymptomRef ref) {
        return () -> {
            people.as(tamsin, () -> {
                clocks.start(ref, "Mechanical");
                return null;
            });
            return null;
        };
    }

    @Test
    void isCorrectedByANewRowThatNamesTheOneItReplaces() {
        at(0, () -> clocks.start(first, "Mechanical"));
        long forgotten = clocks.of(first.ticket()).get(0).id();
        at(15 * 60, () -> {
            assertThat(clocks.mine().orElseThrow().pastMidnight()).isTrue();
            assertThatThrownBy(() -> clocks.correct(forgotten, NINE, NINE.minusSeconds(1), ""))
                    .isInstanceOfSatisfying(
                            Refused.class, no -> assertThat(no.problems()).containsOnlyKeys("to", "reason"));
            clocks.correct(forgotten, NINE, NINE.plusSeconds(5400), "forgot to stop it");
            assertThat(clocks.mine()).isEmpty();
            assertThat(clocks.of(first.ticket())).singleElement().satisfies(span -> {
                assertThat(span.words()).isEqualTo("1:30");
                assertThat(span.correctedBecause()).isEqualTo("forgot to stop it");
            });
        });
        assertThat(sql.sql("select replaces from clocked where replaces = ?")
                        .param(forgotten)
                        .query(Long.class)
                        .list())
                .containsExactly(forgotten);
        assertThatThrownBy(() -> sql.sql("update clocked set reason = 'none' where replaces = ?")
                        .param(forgotten)
                        .update())
                .isInstanceOf(RuntimeException.class);
    }

    @Test
    void isNotCorrectedIntoATimeWorkedElsewhereNorByAColleague() {
        at(0, () -> clocks.start(first, "Mechanical"));
        at(60, () -> clocks.start(second, "Mechanical"));
        at(90, clocks::stop);
        long later = clocks.of(second.ticket()).get(0).id();
        at(
                120,
                () -> assertThatThrownBy(() ->
                                clocks.correct(later, NINE.plusSeconds(1800), NINE.plusSeconds(5400), "began sooner"))
                        .isInstanceOfSatisfying(
                                Refused.class, no -> assertThat(no.problems()).containsOnlyKeys("from")));
        Person other = visit.hire(Role.TECHNICIAN);
        assertThatThrownBy(() -> people.as(other, () -> {
                    clocks.correct(later, NINE, NINE.plusSeconds(60), "mine");
                    return null;
                }))
                .hasMessageContaining("or the owner");
    }

    @Test
    void becomesLabourOnceAndIsChargedByTheRoundedHour() {
        people.as(
                odile,
                () -> authorisations.agree(
                        first.ticket(), Agreement.REPAIR, euros("900"), "go on", Channel.PHONE, "Ines", null));
        people.as(odile, () -> {
            var card = workRates.card();
            workRates.set(
                    List.of(
                            new WorkRates.Kind("Mechanical", new BigDecimal("100")),
                            new WorkRates.Kind("Diagnosis", null)),
                    HoursStep.QUARTER,
                    new BigDecimal("40"),
                    card.version());
            assertThatThrownBy(() -> workRates.set(card.kinds(), HoursStep.EXACT, null, card.version()))
                    .isInstanceOf(Stale.class);
            return null;
        });
        at(0, () -> clocks.start(first, "Mechanical"));
        at(42, clocks::stop);
        at(50, () -> {
            findings.decide(first, "air-sensor-supply", "green joint", "Renew the joint");
            assertThat(labours.clocked(first)).singleElement().satisfies(clocked -> {
                assertThat(clocked.words()).isEqualTo("Mechanical, 0:42 by the clock");
                assertThat(clocked.hoursForCharge()).isEqualByComparingTo("0.75");
            });
            labours.addClocked(first, "Joint renewed", "Mechanical", new Pay.ByHand(workRates.rate("Mechanical")));
            assertThat(labours.clocked(first)).isEmpty();
            assertThatThrownBy(() -> labours.addClocked(first, "Again", "Mechanical", new Pay.Free("goodwill")))
                    .hasMessageContaining("not written down yet");
        });
        assertThat(charges.lines(first.ticket()))
                .filteredOn(line -> line.what().equals("Joint renewed"))
                .singleElement()
                .satisfies(line -> assertThat(line.net()).isEqualTo(euros("75")));
        assertThat(charges.of(first.ticket()))
                .filteredOn(charge -> charge.line().what().equals("Joint renewed"))
                .singleElement()
                .satisfies(charge -> assertThat(charge.cost()).isEqualTo(euros("28")));
        assertThat(labours.of(first.ticket()))
                .singleElement()
                .satisfies(labour -> assertThat(labour.hoursWords()).isEqualTo("0:42 h by the clock"));
    }

    private Money euros(String amount) {
        return Money.rounded(
                new BigDecimal(amount), charges.total(first.ticket()).gross().currency());
    }

    private void at(int minute, Runnable what) {
        clock.at(
                NINE.plus(Duration.ofMinutes(minute)),
                () -> people.as(tamsin, () -> {
                    what.run();
                    return null;
                }));
    }
}
