package idlewright.repair.rules;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.repair.rules.Answer.Seen;
import idlewright.repair.rules.PartNumbers.Likeness;
import java.util.EnumMap;
import java.util.Map;
import java.util.Random;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

@DisplayName("A part")
class FinalityTest {

    private static final NumberGround SUPERSESSION = new NumberGround.Supersession("Halden parts list, 2 March");

    @Test
    void isFinalWhenTheNumberIsTheSameAndEveryCheckIsYes() {
        assertThat(against(Likeness.SAME, null, all())).isEmpty();
        assertThat(against(Likeness.SAME_WRITTEN_OTHERWISE, null, all())).isEmpty();
    }

    @Test
    void isStoppedByAnotherNumberUntilSomebodySaysWhyItIsRight() {
        for (Likeness likeness : new Likeness[] {Likeness.DIFFERENT, Likeness.LOOK_ALIKE, Likeness.NOT_READ}) {
            assertThat(against(likeness, null, all())).containsOnlyKeys("ground");
            assertThat(against(likeness, SUPERSESSION, all())).isEmpty();
            assertThat(against(likeness, new NumberGround.Consent("no longer made", "Ines Grand", "by phone"), all()))
                    .isEmpty();
        }
        assertThat(against(Likeness.LOOK_ALIKE, null, all()).get("ground")).contains("O and 0", "Read both again");
    }

    @Test
    void isNotFinalWhileOneCheckIsOpen() {
        var random = new Random(3);
        for (int i = 0; i < 300; i++) {
            var some = new EnumMap<Check, Answer>(Check.class);
            all().forEach((check, answer) -> {
                if (random.nextInt(4) > 0) {
                    some.put(check, answer);
                }
            });
            var against = against(Likeness.SAME, null, some);
            for (Check check : Check.values()) {
                assertThat(against.containsKey(Finality.field(check))).isEqualTo(!some.containsKey(check));
            }
        }
    }

    @Test
    void needsWordsForEveryNo() {
        for (Check check : Check.values()) {
            assertThat(Finality.wrong(with(check, new Answer(Seen.NO, " ")), Went.KEPT, "NOT_WANTED"))
                    .containsKey("check-" + check.name());
        }
        assertThat(against(Likeness.SAME, null, with(Check.CLAMPS, new Answer(Seen.NO, "rusted, a fresh one fitted"))))
                .isEmpty();
    }

    @Test
    void isTurnedRoundBeforeItIsFinal() {
        assertThat(against(Likeness.SAME, null, with(Check.MARK_MATCHED, new Answer(Seen.NO, "points to the filter"))))
                .containsEntry(
                        "check-MARK_MATCHED", "Turn it round first: the flow mark must point as the old one did.");
    }

    @Test
    void isLockedInBeforeItIsFinal() {
        assertThat(against(Likeness.SAME, null, with(Check.LOCKED, new Answer(Seen.NO, "latch broken"))))
                .containsKey("check-LOCKED");
    }

    @Test
    void mayHaveNoFlowMarkAtAll() {
        var none = all();
        for (Check check : new Check[] {Check.MARK_OLD, Check.MARK_NEW, Check.MARK_MATCHED}) {
            none.put(check, new Answer(Seen.ABSENT, ""));
        }
        assertThat(against(Likeness.SAME, null, none)).isEmpty();
    }

    @Test
    void asksForWordsWhereOnlyOneOfThePartsShowsAMark() {
        var one = with(Check.MARK_NEW, new Answer(Seen.ABSENT, ""));
        assertThat(Finality.wrong(one, Went.KEPT, "SHOW")).containsKey("check-MARK_NEW");
        one.put(Check.MARK_NEW, new Answer(Seen.ABSENT, "shape fits one way only"));
        assertThat(Finality.wrong(one, Went.KEPT, "SHOW")).isEmpty();
    }

    @Test
    void cannotBeWithoutAnAnswerToTheMarkThatIsThere() {
        assertThat(Finality.wrong(with(Check.MARK_MATCHED, new Answer(Seen.ABSENT, "")), Went.KEPT, "SHOW"))
                .containsKey("check-MARK_MATCHED");
    }

    @Test
    void isNotKeptAsAgreedInTheScrapBin() {
        assertThat(Finality.against(Likeness.SAME, null, all(), Went.SCRAP, "GIVE_BACK")
                        .get("check-OLD_PART"))
                .contains("scrap", "wants old parts back");
        assertThat(Finality.against(Likeness.SAME, null, all(), Went.SCRAP, "NOT_WANTED"))
                .isEmpty();
        assertThat(Finality.against(Likeness.SAME, null, all(), Went.WARRANTY_HOLD, "GIVE_BACK"))
                .isEmpty();
    }

    private static Map<String, String> against(
            Likeness likeness, @Nullable NumberGround ground, Map<Check, Answer> answers) {
        return Finality.against(likeness, ground, answers, Went.KEPT, "SHOW");
    }

    private static Map<Check, Answer> all() {
        var all = new EnumMap<Check, Answer>(Check.class);
        for (Check check : Check.values()) {
            all.put(check, Answer.yes());
        }
        return all;
    }

    private static Map<Check, Answer> with(Check check, Answer answer) {
        var all = all();
        all.put(check, answer);
        return all;
    }
}
