package idlewright.repair;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import idlewright.billing.Authorisations;
import idlewright.billing.Charges;
import idlewright.billing.Estimates;
import idlewright.billing.Rates;
import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.frame.Refused;
import idlewright.ground.WithDatabase;
import idlewright.intake.Chapter;
import idlewright.intake.Knot;
import idlewright.intake.SymptomRef;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.reference.money.Money;
import idlewright.repair.rules.Answer;
import idlewright.repair.rules.Check;
import idlewright.repair.rules.FittedPart;
import idlewright.repair.rules.NumberGround;
import idlewright.repair.rules.Pay;
import idlewright.repair.rules.RemovedPart;
import idlewright.repair.rules.Went;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.math.BigDecimal;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import javax.imageio.ImageIO;
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
@DisplayName("The repair")
class RepairTest {

    @Autowired
    Visit visit;

    @Autowired
    People people;

    @Autowired
    Tickets tickets;

    @Autowired
    Estimates estimates;

    @Autowired
    Authorisations authorisations;

    @Autowired
    Charges charges;

    @Autowired
    Rates rates;

    @Autowired
    Findings findings;

    @Autowired
    Swaps swaps;

    @Autowired
    Labours labours;

    @Autowired
    RepairStrand strand;

    @Autowired
    JdbcClient sql;

    Person tamsin;
    SymptomRef thread;

    @BeforeEach
    void openAVisit() {
        tamsin = visit.hire(Role.TECHNICIAN, Role.WRITER);
        thread = people.as(tamsin, () -> visit.open("It hesitates when I pull out of the yard."));
    }

    @Test
    void keepsTheCauseAndMarksTheThread() {
        agree("DIAGNOSIS", "114.00");
        find("filter oil on the film");
        assertThat(findings.of(thread)).get().satisfies(finding -> {
            assertThat(finding.causeName()).isEqualTo("Air-flow sensor reads too low");
            assertThat(finding.who()).isEqualTo(tamsin.name());
        });
        assertThat(tickets.get(thread.ticket())
                        .symptom(1)
                        .latest(ThreadStamp.TRACED)
                        .orElseThrow()
                        .note())
                .isEqualTo("air-flow sensor reads too low, filter oil on the film");
    }

    @Test
    void keepsBothFindingsWhenALaterOneReplacesTheEarlier() {
        agree("DIAGNOSIS", "114.00");
        find("filter oil on the film");
        assertThatThrownBy(() -> find("it is the hose"))
                .isInstanceOfSatisfying(
                        Refused.class, no -> assertThat(no.problems()).containsOnlyKeys("reason"));
        people.as(tamsin, () -> {
            findings.decide(thread, "air-leak", "split hose", "Renew the hose", "smoke came out of the hose");
            return null;
        });
        assertThat(findings.all(thread.ticket()))
                .extracting(FindingView::replaced)
                .containsExactly(true, false);
        assertThat(findings.of(thread).orElseThrow().reason()).isEqualTo("smoke came out of the hose");
        assertThatThrownBy(() -> sql.sql("update finding set words = 'x' where ticket_number = ?")
                        .param(thread.ticket().value())
                        .update())
                .hasMessageContaining("finding");
    }

    @Test
    void refusesAPartWhoseNumberDiffers() {
        ready();
        long id = start("AF-2210-7", "AF-2210-8", new Pay.Free("warranty of the supplier"));
        answerAll(id);
        assertThatThrownBy(() -> makeFinal(id))
                .isInstanceOfSatisfying(
                        Refused.class,
                        no -> assertThat(no.problems())
                                .containsOnlyKeys("ground")
                                .extractingByKey("ground")
                                .asString()
                                .contains("The numbers differ"));
        assertThat(tickets.get(thread.ticket()).symptom(1).has(ThreadStamp.MENDED))
                .isFalse();

        people.as(tamsin, () -> {
            swaps.account(id, new NumberGround.Supersession("Halden parts list of 2 March"));
            return null;
        });
        makeFinal(id);
        assertThat(swaps.get(id).state()).isEqualTo("final");
        assertThat(swaps.get(id).said()).contains("supersedes the old number, as Halden parts list of 2 March says");
        assertThat(tickets.get(thread.ticket()).symptom(1).has(ThreadStamp.MENDED))
                .isTrue();
    }

    @Test
    void takesAnotherPartOnPurposeOnlyWithTheOwnersConsent() {
        ready();
        long id = start("AF-2210-7", "ZX-1", new Pay.Free("goodwill"));
        assertThatThrownBy(() -> people.as(tamsin, () -> {
                    swaps.account(id, new NumberGround.Consent("no longer made", "", ""));
                    return null;
                }))
                .isInstanceOfSatisfying(
                        Refused.class, no -> assertThat(no.problems()).containsOnlyKeys("byWhom", "how"));
    }

    @Test
    void isNotFinalBeforeEveryCheckIsAnswered() {
        ready();
        long id = start("AF-2210-7", "AF 2210 7", new Pay.Free("goodwill"));
        assertThatThrownBy(() -> makeFinal(id))
                .isInstanceOfSatisfying(
                        Refused.class, no -> assertThat(no.problems()).hasSize(Check.values().length));
        answerAll(id);
        makeFinal(id);
        assertThat(charges.lines(thread.ticket())).singleElement().satisfies(line -> {
            assertThat(line.what()).isEqualTo("air-flow sensor, not charged: goodwill");
            assertThat(line.net().isZero()).isTrue();
        });
        assertThat(swaps.get(id).numberWords()).isEqualTo("same number, written differently");
    }

    @Test
    void chargesTheAgreedLineWithTheNumberThatWasFitted() {
        ready();
        long line = charges.uncharged(thread.ticket()).stream()
                .filter(l -> l.line().kind() == LineKind.PART)
                .findFirst()
                .orElseThrow()
                .id();
        long id = start("AF-2210-7", "AF 2210 7", new Pay.ByEstimate(line));
        answerAll(id);
        assertThat(charges.lines(thread.ticket())).isEmpty();
        makeFinal(id);
        assertThat(charges.lines(thread.ticket()))
                .singleElement()
                .satisfies(charge -> assertThat(charge.partNumber()).isEqualTo("AF 2210 7"));
    }

    @Test
    void takesTheChargeThatTheCounterMadeBeforeAndChargesNothingTwice() {
        ready();
        long line = charges.uncharged(thread.ticket()).stream()
                .filter(l -> l.line().kind() == LineKind.PART)
                .findFirst()
                .orElseThrow()
                .id();
        long charged = people.as(tamsin, () -> charges.addFromEstimate(thread.ticket(), line, null, null));
        assertThat(swaps.chargedAlready(thread.ticket()))
                .singleElement()
                .satisfies(charge -> assertThat(charge.id()).isEqualTo(charged));
        long id = start("AF-2210-7", "AF 2210 7", new Pay.ByEstimate(line));
        answerAll(id);
        makeFinal(id);
        assertThat(charges.lines(thread.ticket())).hasSize(1);
        assertThat(swaps.chargedAlready(thread.ticket()))
                .as("it is a fitted part's now")
                .isEmpty();
    }

    @Test
    void isNotFinalWhenItWouldCostMoreThanIsAgreed() {
        ready();
        long id = start(
                "AF-2210-7", "AF 2210 7", new Pay.ByHand(Money.rounded(new BigDecimal("9000"), rates.currency())));
        answerAll(id);
        assertThatThrownBy(() -> makeFinal(id))
                .isInstanceOfSatisfying(
                        Refused.class,
                        no -> assertThat(no.problems())
                                .extractingByKey("charge")
                                .asString()
                                .contains("Get the rise of"));
        assertThat(swaps.get(id).open()).isTrue();
    }

    @Test
    void takesATrialPartOutAgainAndNeverChargesIt() {
        ready();
        long id = people.as(
                tamsin,
                () -> swaps.start(thread, removed("AF-2210-7"), fitted("AF 2210 7"), true, new Pay.Free("trial")));
        people.as(tamsin, () -> {
            swaps.takeBack(id, "made no difference");
            return null;
        });
        assertThat(swaps.get(id).title()).isEqualTo("Air-flow sensor tried and taken back");
        assertThatThrownBy(() -> makeFinal(id)).hasMessageContaining("taken back already");
        assertThat(charges.lines(thread.ticket())).isEmpty();
        assertThat(sql.sql("select kind || ':' || words from swap_step where swap_id = ? order by id")
                        .param(id)
                        .query(String.class)
                        .list())
                .containsExactly("WENT:", "TAKEN_BACK:made no difference");
    }

    @Test
    void keepsAPhotoOfEachPart() {
        ready();
        long id = start("AF-2210-7", "AF 2210 7", new Pay.Free("goodwill"));
        people.as(tamsin, () -> {
            swaps.photograph(id, true, png(), "old.png");
            swaps.photograph(id, false, png(), "fitted.png");
            return null;
        });
        assertThat(swaps.get(id).photosOf(true)).hasSize(1);
        assertThat(swaps.get(id).photosOf(false).get(0).exhibit().caption()).isEqualTo("fitted air-flow sensor");
    }

    @Test
    void knowsWhereTheOldPartIsAlsoLater() {
        ready();
        long id = start("AF-2210-7", "AF 2210 7", new Pay.Free("goodwill"));
        answerAll(id);
        makeFinal(id);
        people.as(tamsin, () -> {
            swaps.moveOldPart(id, Went.WARRANTY_HOLD, "tag 14");
            return null;
        });
        assertThat(swaps.get(id).went()).isEqualTo(Went.WARRANTY_HOLD);
    }

    @Test
    void isDoneWithoutAPartToo() {
        ready();
        people.as(tamsin, () -> {
            labours.add(thread, "Cleaned the sensor", new BigDecimal("0.4"), new Pay.ByHand(rates.labourRate()));
            labours.done(thread, "The air-flow sensor was cleaned.");
            return null;
        });
        assertThat(tickets.get(thread.ticket())
                        .symptom(1)
                        .latest(ThreadStamp.MENDED)
                        .orElseThrow()
                        .note())
                .isEqualTo("The air-flow sensor was cleaned.");
        assertThat(charges.lines(thread.ticket()).get(0).quantity()).isEqualByComparingTo("0.4");
        assertThat(labours.of(thread.ticket()).get(0).hoursWords()).isEqualTo("0.4 h");
    }

    @Test
    void fitsNothingBeforeACauseIsFound() {
        agree("DIAGNOSIS", "114.00");
        assertThatThrownBy(() -> start("A-1", "A-1", new Pay.Free("goodwill")))
                .hasMessageContaining("Record the cause first");
    }

    @Test
    void tellsTheThreadWhatIsMissingAndWhatWasDone() {
        agree("DIAGNOSIS", "114.00");
        assertThat(strand.knots(thread.ticket())).singleElement().satisfies(knot -> {
            assertThat(knot.open()).isTrue();
            assertThat(knot.chapter()).isEqualTo(Chapter.CAUSE);
        });
        ready();
        assertThat(strand.knots(thread.ticket())).extracting(Knot::title).contains("The repair");
        long id = start("AF-2210-7", "AF 2210 7", new Pay.Free("goodwill"));
        answerAll(id);
        makeFinal(id);
        assertThat(strand.knots(thread.ticket()).stream().filter(k -> k.chapter() == Chapter.CORRECTION && !k.open()))
                .singleElement()
                .satisfies(knot -> {
                    assertThat(knot.title()).isEqualTo("Air-flow sensor replaced");
                    assertThat(knot.said()).contains("AF 2210 7 by Halden, lot L-77", "kept in the shop to be shown");
                });
    }

    @Test
    void findsPartsByNumberHoweverItIsTypedAndByLotAndCause() {
        ready();
        String number = "Q" + thread.ticket() + "-7 7";
        people.as(tamsin, () -> swaps.start(thread, removed(number), fitted(number), false, new Pay.Free("goodwill")));
        assertThat(strand.find("q" + thread.ticket() + "77"))
                .extracting(hit -> hit.kind())
                .contains("part");
        assertThat(strand.find("L-77")).isNotEmpty();
        assertThat(strand.find("filter oil")).extracting(hit -> hit.kind()).contains("cause");
        assertThat(strand.find("100%_")).isEmpty();
    }

    private void ready() {
        if (tickets.get(thread.ticket()).symptom(1).has(ThreadStamp.TRACED)) {
            return;
        }
        agree("DIAGNOSIS", "114.00");
        find("filter oil on the film");
        people.as(tamsin, () -> {
            var currency = rates.currency();
            var estimate = estimates.write(
                    thread.ticket(),
                    List.of(
                            new Line(
                                    1,
                                    LineKind.PART,
                                    "Air-flow sensor",
                                    BigDecimal.ONE,
                                    Money.rounded(new BigDecimal("186.00"), currency),
                                    "AF-2210-7"),
                            new Line(
                                    1,
                                    LineKind.LABOUR,
                                    "Renew the sensor",
                                    new BigDecimal("0.6"),
                                    rates.labourRate(),
                                    null)),
                    null);
            estimates.offer(estimate.id(), "by phone");
            authorisations.agree(
                    thread.ticket(),
                    Agreement.REPAIR,
                    estimate.total().gross(),
                    "Go ahead.",
                    Channel.PHONE,
                    "Ines Grand",
                    estimate.id());
            return null;
        });
    }

    private void agree(String kind, String amount) {
        people.as(
                tamsin,
                () -> authorisations.agree(
                        thread.ticket(),
                        Agreement.valueOf(kind),
                        Money.rounded(new BigDecimal(amount), rates.currency()),
                        "Go ahead and look.",
                        Channel.PHONE,
                        "Ines Grand",
                        null));
    }

    private void find(String words) {
        people.as(tamsin, () -> {
            findings.decide(thread, "air-sensor-low", words, "Replace the sensor, clean the filter housing");
            return null;
        });
    }

    private long start(String removed, String fitted, Pay pay) {
        return people.as(tamsin, () -> swaps.start(thread, removed(removed), fitted(fitted), false, pay));
    }

    private void answerAll(long id) {
        var all = new EnumMap<Check, Answer>(Check.class);
        for (Check check : Check.values()) {
            all.put(check, Answer.yes());
        }
        people.as(tamsin, () -> {
            swaps.answer(id, Map.copyOf(all));
            return null;
        });
    }

    private void makeFinal(long id) {
        people.as(tamsin, () -> {
            swaps.makeFinal(id);
            return null;
        });
    }

    private static RemovedPart removed(String number) {
        return new RemovedPart(number, "Halden", "4W19", "oil film on the element", Went.KEPT);
    }

    private FittedPart fitted(String number) {
        return new FittedPart(
                "air-flow sensor",
                number,
                "Halden",
                "L-77",
                "Marlow Parts",
                Money.rounded(new BigDecimal("143.00"), rates.currency()));
    }

    private static ByteArrayInputStream png() {
        try {
            var out = new ByteArrayOutputStream();
            ImageIO.write(new BufferedImage(40, 30, BufferedImage.TYPE_INT_RGB), "png", out);
            return new ByteArrayInputStream(out.toByteArray());
        } catch (java.io.IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }
}
