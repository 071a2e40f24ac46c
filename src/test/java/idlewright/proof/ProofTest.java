package idlewright.proof;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import idlewright.bench.Bench;
import idlewright.bench.MeasurementView;
import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.KeyState;
import idlewright.bench.rules.Motion;
import idlewright.billing.Authorisations;
import idlewright.billing.Invoices;
import idlewright.billing.Rates;
import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.frame.MovableClock;
import idlewright.frame.NotFound;
import idlewright.frame.Refused;
import idlewright.ground.WithDatabase;
import idlewright.intake.Knot;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.Whose;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.proof.rules.Codes;
import idlewright.proof.rules.Monitors;
import idlewright.proof.rules.Outcome;
import idlewright.proof.rules.ReturnReason;
import idlewright.proof.rules.RoadTest;
import idlewright.proof.rules.Statement;
import idlewright.proof.rules.Turn;
import idlewright.reference.money.Money;
import idlewright.repair.Findings;
import idlewright.repair.Labours;
import idlewright.repair.Visit;
import idlewright.repair.rules.Pay;
import java.math.BigDecimal;
import java.time.Duration;
import java.util.List;
import java.util.Map;
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
@DisplayName("The proof")
class ProofTest {

    private static final Conditions KEY_ON =
            new Conditions(KeyState.KEY_ON_ENGINE_OFF, null, null, null, null, Motion.PARKED, null, null);
    private static final Statement GONE =
            new Statement(Codes.NONE_STORED, "", Monitors.READY, "", RoadTest.GONE, "", "");

    @Autowired
    Visit visit;

    @Autowired
    People people;

    @Autowired
    Tickets tickets;

    @Autowired
    Bench bench;

    @Autowired
    Rates rates;

    @Autowired
    Authorisations authorisations;

    @Autowired
    Invoices invoices;

    @Autowired
    Findings findings;

    @Autowired
    Labours labours;

    @Autowired
    Proofs proofs;

    @Autowired
    FollowUps followUps;

    @Autowired
    AnswerLinks links;

    @Autowired
    ProofStrand strand;

    @Autowired
    MovableClock clock;

    @Autowired
    JdbcClient sql;

    Person tamsin;
    SymptomRef thread;

    @BeforeEach
    void openAVisit() {
        tamsin = visit.hire(Role.TECHNICIAN, Role.WRITER, Role.OWNER);
        thread = people.as(tamsin, () -> {
            SymptomRef heard = visit.open("It hesitates when I pull out of the yard.");
            authorisations.agree(
                    heard.ticket(),
                    Agreement.DIAGNOSIS,
                    Money.rounded(new BigDecimal("114"), rates.currency()),
                    "Go ahead.",
                    Channel.PHONE,
                    "Ines Grand",
                    null);
            return heard;
        });
    }

    @Test
    void isHadByTheSameTestAndFeedsTheKnownGood() {
        measure(false, "12.4", "10.9");
        mend();
        assertThat(proofs.look(thread).missing())
                .containsExactly(
                        "Air-flow sensor, supply and ground was outside before the repair and is not repeated yet.");
        assertThatThrownBy(() -> prove()).isInstanceOf(Refused.class).hasMessageContaining("not repeated yet");
        measure(true, "12.5", "12.44");
        prove();
        assertThat(tickets.get(thread.ticket())
                        .symptom(1)
                        .latest(ThreadStamp.PROVED)
                        .orElseThrow()
                        .note())
                .isEqualTo("Battery less supply was outside and is within: 1.5 V before, 0.06 V after.");
        assertThat(sql.sql("select count(*) from known_good where ticket_number = ?")
                        .param(thread.ticket().value())
                        .query(Integer.class)
                        .single())
                .isPositive();
        assertThat(proofs.of(thread).orElseThrow().pairs())
                .anySatisfy(pair ->
                        assertThat(pair.beforeShown() + " " + pair.afterShown()).startsWith("1.5 V 0.06"));
        assertThat(strand.knots(thread.ticket())).extracting(Knot::title).contains("Proved by the same test");
    }

    @Test
    void isNotHadWhileTheTestStillSaysOutsideWhateverTheRoadSays() {
        measure(false, "12.4", "10.9");
        mend();
        measure(true, "12.4", "11.2");
        assertThatThrownBy(this::prove).hasMessageContaining("still outside");
        assertThatThrownBy(() -> proveByRoadTest("drives well")).hasMessageContaining("does not outweigh");
    }

    @Test
    void byRoadTestOnlyIsKeptAsThatAndBringsNothingIntoTheKnownGood() {
        mend();
        assertThatThrownBy(this::prove).hasMessageContaining("No test before the repair found anything outside");
        assertThatThrownBy(() -> proveByRoadTest(" ")).hasMessageContaining("Say plainly why");
        proveByRoadTest("it came twice a month, never here");
        var proved = proofs.of(thread).orElseThrow();
        assertThat(proved.measured()).isFalse();
        assertThat(tickets.get(thread.ticket())
                        .symptom(1)
                        .latest(ThreadStamp.PROVED)
                        .orElseThrow()
                        .note())
                .isEqualTo("By road test only, not measured: it came twice a month, never here");
        assertThat(strand.knots(thread.ticket())).extracting(Knot::title).contains("Road test only, not measured");
        assertThat(sql.sql("select count(*) from known_good where ticket_number = ?")
                        .param(thread.ticket().value())
                        .query(Integer.class)
                        .single())
                .isZero();
    }

    @Test
    void isNotHadTwiceAndNeverChanged() {
        mend();
        proveByRoadTest("comes and goes");
        assertThatThrownBy(() -> proveByRoadTest("again")).hasMessageContaining("has ended");
        assertThatThrownBy(() -> sql.sql("update proof set how = 'MEASURED', reason = null where ticket_number = ?")
                        .param(thread.ticket().value())
                        .update())
                .hasMessageContaining("proof");
    }

    @Test
    void callsTheCustomerWhenTheDayHasCome() {
        handBack();
        assertThat(mine().turn()).isEqualTo(Turn.COMING);
        clock.at(clock.instant().plus(Duration.ofDays(7)), () -> {
            assertThat(mine().turn()).isEqualTo(Turn.DUE);
            return null;
        });
        clock.at(clock.instant().plus(Duration.ofDays(9)), () -> {
            assertThat(mine().turn()).isEqualTo(Turn.OVERDUE);
            return null;
        });
    }

    @Test
    void asksAgainWhereNobodyWasReached() {
        handBack();
        record(Outcome.NOT_REACHED, "", 3);
        assertThat(mine().asked()).isEqualTo(1);
        assertThat(Duration.between(
                                clock.instant(),
                                mine().due()
                                        .atStartOfDay(java.time.ZoneOffset.UTC)
                                        .toInstant())
                        .toDays())
                .isBetween(1L, 3L);
        assertThat(tickets.get(thread.ticket()).move().what())
                .isEqualTo("Nobody was reached; to be asked again later.");
        clock.at(clock.instant().plus(Duration.ofDays(3)), () -> {
            assertThat(tickets.open())
                    .filteredOn(line -> line.number().equals(thread.ticket()))
                    .singleElement()
                    .satisfies(line ->
                            assertThat(line.move().what()).isEqualTo("Call the customer again: nobody was reached."));
            record(Outcome.NOT_REACHED, "", 30);
            assertThat(tickets.open()).noneMatch(line -> line.number().equals(thread.ticket()));
            return null;
        });
        assertThatThrownBy(() -> record(Outcome.NOT_REACHED, "", null))
                .isInstanceOfSatisfying(
                        Refused.class, no -> assertThat(no.problems()).containsOnlyKeys("again"));
    }

    @Test
    void isWatchedWhenTheCustomerSaysThatItStayedAway() {
        handBack();
        record(Outcome.STAYED_AWAY, "", null);
        assertThat(followUps.due()).noneMatch(due -> due.ticket().equals(thread.ticket()));
        assertThat(tickets.get(thread.ticket()).move().whose()).isEqualTo(Whose.NOBODY);
    }

    @Test
    void opensTheComebackOfASymptomThatReturnedAndAsksTheOwnerWhy() {
        handBack();
        assertThatThrownBy(() -> record(Outcome.RETURNED, "", null))
                .isInstanceOfSatisfying(
                        Refused.class, no -> assertThat(no.problems()).containsOnlyKeys("note"));
        record(Outcome.RETURNED, "Same as before, since Tuesday.", null);
        assertThat(tickets.get(thread.ticket()).move().whose()).isEqualTo(Whose.OWNER);
        TicketNumber back = people.as(
                tamsin, () -> followUps.openComeback(thread, "Same as before.", new BigDecimal("87500"), null));
        assertThat(tickets.get(back).comebackOf()).isEqualTo(thread.ticket());
        assertThat(tickets.get(back).symptom(1).returnsPlace()).isEqualTo(1);
        assertThatThrownBy(() ->
                        people.as(tamsin, () -> followUps.openComeback(thread, "x", new BigDecimal("87500"), null)))
                .hasMessageContaining("open for it already");
        people.as(tamsin, () -> {
            followUps.explain(thread, ReturnReason.WRONG_DIAGNOSIS, "The hose was not looked at.");
            return null;
        });
        assertThat(tickets.get(thread.ticket())
                        .symptom(1)
                        .latest(ThreadStamp.EXPLAINED)
                        .orElseThrow()
                        .note())
                .isEqualTo("wrong diagnosis");
        assertThat(strand.knots(thread.ticket()))
                .extracting(Knot::title)
                .contains("Came back", "Why it came back: wrong diagnosis", "The comeback");
    }

    @Test
    void takesTheCustomersAnswerByLinkAndCountsItOnceTheCounterConfirmed() {
        handBack();
        String path = people.as(tamsin, () -> links.make(thread.ticket())).path();
        String secret = path.substring("/answers/".length());
        assertThat(secret).hasSize(22);
        assertThat(sql.sql("select seed from answer_link where ticket_number = ?")
                        .param(thread.ticket().value())
                        .query(String.class)
                        .single())
                .isNotEqualTo(secret);
        assertThat(links.of(thread.ticket()).orElseThrow().path()).isEqualTo(path);
        assertThat(links.open(secret).symptoms()).hasSize(1);
        links.answer(secret, Map.of(1, Outcome.STAYED_AWAY), "All fine.");
        assertThat(tickets.get(thread.ticket()).symptom(1).has(ThreadStamp.WATCHED))
                .isFalse();
        assertThat(links.pending(thread.ticket()))
                .singleElement()
                .satisfies(answer -> assertThat(answer.words()).isEqualTo("All fine."));
        assertThat(mine().answered()).isTrue();
        people.as(tamsin, () -> {
            followUps.record(thread.ticket(), Map.of(1, Outcome.STAYED_AWAY), "All fine.", true, null);
            return null;
        });
        assertThat(links.pending(thread.ticket())).isEmpty();
        assertThat(followUps.said(thread.ticket()).get(0).by()).startsWith("the customer, by link");
        assertThat(tickets.get(thread.ticket())
                        .symptom(1)
                        .latest(ThreadStamp.WATCHED)
                        .orElseThrow()
                        .note())
                .isEqualTo("the customer, by link");
    }

    @Test
    void opensNoPageForAGuessOrAfterSixtyDays() {
        handBack();
        String secret =
                people.as(tamsin, () -> links.make(thread.ticket())).path().substring("/answers/".length());
        assertThatThrownBy(() -> links.open("AAAAAAAAAAAAAAAAAAAAAA")).isInstanceOf(NotFound.class);
        clock.at(clock.instant().plus(Duration.ofDays(61)), () -> {
            assertThatThrownBy(() -> links.open(secret)).isInstanceOf(NotFound.class);
            assertThat(links.of(thread.ticket())).isEmpty();
            return null;
        });
    }

    private FollowUps.Due mine() {
        return followUps.due().stream()
                .filter(due -> due.ticket().equals(thread.ticket()))
                .findFirst()
                .orElseThrow();
    }

    private void record(Outcome outcome, String note, Integer again) {
        people.as(tamsin, () -> {
            followUps.record(thread.ticket(), Map.of(1, outcome), note, false, again);
            return null;
        });
    }

    @Test
    void saysOnTheThreadThatAReadingBehindTheProofWasCorrected() {
        measure(false, "12.50", "10.90");
        mend();
        measure(true, "12.50", "12.44");
        prove();
        assertThat(strand.knots(thread.ticket())).extracting(Knot::title).doesNotContain("Look at the proof again");
        long reading = bench.of(thread.ticket()).stream()
                .filter(MeasurementView::after)
                .flatMap(test -> test.readings().stream())
                .filter(each -> each.point().equals("supply"))
                .findFirst()
                .orElseThrow()
                .id();
        clock.at(
                clock.instant().plusSeconds(60),
                () -> people.as(tamsin, () -> bench.correct(reading, "10.90", "V", true, "misread")));
        assertThat(strand.knots(thread.ticket())).extracting(Knot::title).contains("Look at the proof again");
    }

    @Test
    void putsCodesAndMonitorsSideBySideAndKeepsThemWithTheProof() {
        readCodes(false, "P0102", "P0300", "ready", "0");
        measure(false, "12.4", "10.9");
        mend();
        assertThat(proofs.look(thread).noted())
                .extracting(each -> each.label() + ": "
                        + (each.before() == null ? "-" : each.before().shown()) + " / "
                        + (each.after() == null ? "-" : each.after().shown()))
                .containsExactly(
                        "Stored codes: P0102 / -",
                        "Pending codes: P0300 / -",
                        "Monitors: all ready / -",
                        "Monitors not ready: 0 / -");
        assertThat(proofs.look(thread).recordedCodes()).isEqualTo("P0102 stored, P0300 pending");
        measure(true, "12.5", "12.44");
        readCodes(true, "none", "none", "some", "4");
        assertThat(proofs.look(thread).noted())
                .filteredOn(each -> each.label().equals("Monitors not ready"))
                .singleElement()
                .satisfies(each -> assertThat(each.after().shown()).isEqualTo("4"));
        assertThatThrownBy(() -> prove(Monitors.READY, ""))
                .isInstanceOf(Refused.class)
                .hasMessageContaining("not all monitors were ready");
        prove(Monitors.SOME_NOT_READY, "4, catalyst among them");
        assertThat(proofs.of(thread).orElseThrow().pairs())
                .extracting(ProofView.Frozen::words)
                .contains("Monitors not ready: 0 before; 4 after", "Monitors: all ready before; some not ready after")
                .filteredOn(words -> words.startsWith("Stored codes"))
                .hasSize(1);
    }

    private void prove(Monitors monitors, String note) {
        people.as(tamsin, () -> {
            proofs.prove(
                    thread,
                    new Statement(Codes.RECORDED_CLEARED, "P0102 and P0300", monitors, note, RoadTest.GONE, "", ""));
            return null;
        });
    }

    private void readCodes(boolean after, String stored, String pending, String monitors, String notReady) {
        people.as(tamsin, () -> {
            long id = bench.start(thread.ticket(), "codes", after, List.of(1), KEY_ON, null);
            bench.keep(id, "stored", stored, "");
            bench.keep(id, "pending", pending, "");
            bench.keep(id, "monitors", monitors, "");
            bench.keep(id, "not-ready", notReady, "");
            bench.finish(id);
            return null;
        });
    }

    private void measure(boolean after, String battery, String supply) {
        people.as(tamsin, () -> {
            long id = bench.start(thread.ticket(), "sensor-supply", after, List.of(1), KEY_ON, null);
            bench.keep(id, "battery", battery, "V");
            bench.keep(id, "supply", supply, "V");
            bench.finish(id);
            return null;
        });
    }

    private void mend() {
        people.as(tamsin, () -> {
            findings.decide(thread, "air-sensor-supply", "green joint behind the battery", "Renew the joint");
            labours.add(thread, "Renewed the joint", new BigDecimal("0.5"), new Pay.Free("goodwill"));
            labours.done(thread, "The corroded joint of the sensor's feed was renewed.");
            return null;
        });
    }

    private void prove() {
        people.as(tamsin, () -> {
            proofs.prove(thread, GONE);
            return null;
        });
    }

    private void proveByRoadTest(String reason) {
        people.as(tamsin, () -> {
            proofs.proveByRoadTest(thread, GONE, reason);
            return null;
        });
    }

    private void handBack() {
        mend();
        proveByRoadTest("comes and goes");
        people.as(tamsin, () -> {
            invoices.issue(thread.ticket());
            tickets.handBack(thread.ticket(), new BigDecimal("86950"), null, 7);
            return null;
        });
    }
}
