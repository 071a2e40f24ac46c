package idlewright.intake.rules;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.intake.rules.Facts.Mark;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;

class MoveTest {

    private static final Instant MORNING = Instant.parse("2026-11-09T08:12:00Z");

    private final List<Mark> marks = new ArrayList<>();
    private final Map<Integer, String> symptoms = new TreeMap<>();
    private LocalDate today = LocalDate.of(2026, 11, 9);

    @Test
    void asksForTheWordsFirst() {
        whole(TicketStamp.OPENED);
        assertMove(Whose.COUNTER, "Take down what the customer says.");
    }

    @Test
    void asksForTheDiagnosisToBeAgreedBeforeTheBayBegins() {
        heard(1);
        assertMove(Whose.COUNTER, "Get the diagnosis agreed.");
        whole(TicketStamp.AGREED);
        assertMove(Whose.BAY, "Reproduce it.");
    }

    @Test
    void walksOneComplaintFromTheBayToTheCustomerAndBack() {
        heard(1);
        whole(TicketStamp.AGREED);
        thread(1, ThreadStamp.REPRODUCED);
        assertMove(Whose.BAY, "Find the cause.");
        thread(1, ThreadStamp.TRACED);
        assertMove(Whose.COUNTER, "Write the estimate.");
        whole(TicketStamp.OFFERED);
        assertThat(move().whose()).isEqualTo(Whose.CUSTOMER);
        whole(TicketStamp.AGREED);
        assertMove(Whose.BAY, "Repair it.");
        thread(1, ThreadStamp.MENDED);
        assertMove(Whose.BAY, "Prove the repair.");
        thread(1, ThreadStamp.PROVED);
        assertMove(Whose.COUNTER, "Write the invoice.");
        whole(TicketStamp.BILLED);
        assertMove(Whose.COUNTER, "Take the payment.");
        whole(TicketStamp.PAID);
        assertMove(Whose.COUNTER, "Hand the car back.");
    }

    @Test
    void showsTheCountersMoveBeforeTheBaysWhenTwoSymptomsDiffer() {
        heard(1);
        heard(2);
        whole(TicketStamp.AGREED);
        thread(2, ThreadStamp.TRACED);
        assertThat(move()).returns(Whose.COUNTER, Move::whose).returns(2, Move::place);
    }

    @Test
    void comesBackToTheCounterOnTheDayOfTheFollowUpOnly() {
        heard(1);
        whole(TicketStamp.AGREED);
        thread(1, ThreadStamp.DECLINED);
        heard(2);
        thread(2, ThreadStamp.TRACED);
        thread(2, ThreadStamp.MENDED);
        thread(2, ThreadStamp.PROVED);
        whole(TicketStamp.BILLED);
        whole(TicketStamp.PAID);
        mark(0, TicketStamp.HANDED_BACK.name(), today.plusDays(7));
        assertThat(move().whose()).isEqualTo(Whose.NOBODY);
        assertThat(move().ended()).isFalse();
        today = today.plusDays(7);
        assertThat(move().whose()).isEqualTo(Whose.COUNTER);
        thread(2, ThreadStamp.WATCHED);
        assertThat(move().ended()).isTrue();
    }

    @Test
    void asksTheOwnerWhyASymptomCameBack() {
        heard(1);
        whole(TicketStamp.AGREED);
        thread(1, ThreadStamp.TRACED);
        thread(1, ThreadStamp.MENDED);
        thread(1, ThreadStamp.PROVED);
        whole(TicketStamp.BILLED);
        mark(0, TicketStamp.HANDED_BACK.name(), today);
        thread(1, ThreadStamp.RETURNED);
        assertMove(Whose.OWNER, "Say why it came back.");
        thread(1, ThreadStamp.EXPLAINED);
        assertThat(move().ended()).isTrue();
    }

    @Test
    void letsOnlyAMendedThreadBeProved() {
        assertThat(ThreadStamp.PROVED.mayFollow(java.util.EnumSet.of(ThreadStamp.HEARD, ThreadStamp.TRACED)))
                .isFalse();
        assertThat(ThreadStamp.PROVED.mayFollow(
                        java.util.EnumSet.of(ThreadStamp.HEARD, ThreadStamp.TRACED, ThreadStamp.MENDED)))
                .isTrue();
    }

    @Test
    void takesNoMoreMarksInTheBayOnceAThreadHasEnded() {
        var ended = java.util.EnumSet.of(ThreadStamp.HEARD, ThreadStamp.DECLINED);
        assertThat(List.of(ThreadStamp.values()))
                .filteredOn(stamp -> stamp.mayFollow(ended))
                .containsExactly(ThreadStamp.WATCHED, ThreadStamp.RETURNED);
    }

    private void assertMove(Whose whose, String what) {
        assertThat(move()).returns(whose, Move::whose).returns(what, Move::what);
    }

    private Move move() {
        return Move.of(new Facts(marks, symptoms, today));
    }

    @Test
    void remindsTheCounterOnTheDayItWasPutOffTo() {
        heard(1);
        whole(TicketStamp.AGREED);
        thread(1, ThreadStamp.TRACED);
        thread(1, ThreadStamp.MENDED);
        thread(1, ThreadStamp.PROVED);
        whole(TicketStamp.BILLED);
        whole(TicketStamp.PAID);
        mark(0, TicketStamp.HANDED_BACK.name(), today);
        assertMove(Whose.COUNTER, "Call the customer: the follow-up is due.");
        mark(0, TicketStamp.PUT_OFF.name(), today.plusDays(3));
        assertMove(Whose.NOBODY, "Nobody was reached; to be asked again later.");
        today = today.plusDays(3);
        assertMove(Whose.COUNTER, "Call the customer again: nobody was reached.");
        thread(1, ThreadStamp.WATCHED);
        assertThat(move().ended()).isTrue();
    }

    private void heard(int place) {
        if (marks.isEmpty()) {
            whole(TicketStamp.OPENED);
        }
        symptoms.put(place, "It hesitates");
        thread(place, ThreadStamp.HEARD);
    }

    private void whole(TicketStamp kind) {
        mark(0, kind.name(), null);
    }

    private void thread(int place, ThreadStamp kind) {
        mark(place, kind.name(), null);
    }

    private void mark(int place, String kind, LocalDate due) {
        int order = marks.size() + 1;
        marks.add(new Mark(order, place, kind, MORNING.plus(order, ChronoUnit.MINUTES), null, due));
    }
}
