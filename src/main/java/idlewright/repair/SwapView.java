package idlewright.repair;

import idlewright.intake.SymptomRef;
import idlewright.journal.Exhibit;
import idlewright.repair.rules.Answer;
import idlewright.repair.rules.Check;
import idlewright.repair.rules.FittedPart;
import idlewright.repair.rules.NumberGround;
import idlewright.repair.rules.PartNumbers;
import idlewright.repair.rules.PartNumbers.Likeness;
import idlewright.repair.rules.Pay;
import idlewright.repair.rules.RemovedPart;
import idlewright.repair.rules.Went;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * A part removed and a part fitted, with all that was checked.
 *
 * @param went where the old part is now
 * @param ground why another number is right, or null
 * @param ended how and when it was called final or taken back, or null while it stands open
 */
public record SwapView(
        long id,
        SymptomRef thread,
        RemovedPart removed,
        Went went,
        FittedPart fitted,
        boolean trial,
        Pay pay,
        Likeness likeness,
        @Nullable NumberGround ground,
        Map<Check, Answer> answers,
        List<Photo> photos,
        Instant at,
        String who,
        @Nullable Ended ended) {

    /** Called final, or taken back with a reason. */
    public record Ended(boolean isFinal, String words, Instant at, String who) {}

    /** A photo of one of the two parts. */
    public record Photo(Exhibit exhibit, boolean ofRemoved) {}

    public boolean isFinal() {
        return ended != null && ended.isFinal();
    }

    public boolean takenBack() {
        return ended != null && !ended.isFinal();
    }

    public boolean open() {
        return ended == null;
    }

    public String url() {
        return "/swaps/" + id;
    }

    /** "trial", "final", "taken back", "not final yet". */
    public String state() {
        if (isFinal()) {
            return "final";
        }
        return takenBack() ? "taken back" : trial ? "on trial" : "not final yet";
    }

    /** "Air-flow sensor replaced"; "Air-flow sensor on trial". */
    public String title() {
        String what = fitted.what().substring(0, 1).toUpperCase(Locale.ROOT)
                + fitted.what().substring(1);
        return what
                + (isFinal()
                        ? " replaced"
                        : takenBack() ? " tried and taken back" : trial ? " on trial" : ": swap not final yet");
    }

    public List<Photo> photosOf(boolean removedPart) {
        return photos.stream().filter(photo -> photo.ofRemoved() == removedPart).toList();
    }

    /** The old part's number in pieces, those that the other has not marked; empty when it could not be read. */
    public List<PartNumbers.Run> oldNumberRuns() {
        return removed.number() == null ? List.of() : PartNumbers.against(removed.number(), fitted.number());
    }

    public List<PartNumbers.Run> fittedNumberRuns() {
        return PartNumbers.against(fitted.number(), removed.number());
    }

    public String mark(Check check) {
        Answer answer = answers.get(check);
        return answer == null ? "not answered" : answer.text();
    }

    /** How the numbers stand to each other, with the ground where they differ. */
    public String numberWords() {
        return ground == null ? likeness.words() : likeness.words() + ", " + ground.words();
    }

    /** The checks as one sentence: what is in order, what the part has not, then what is to be said about it. */
    public String checkedWords() {
        var inOrder = new ArrayList<String>();
        var absent = new ArrayList<String>();
        var remarks = new ArrayList<String>();
        answers.forEach((check, answer) -> {
            String label = check.label().toLowerCase(Locale.ROOT);
            if (!answer.words().isEmpty()) {
                remarks.add(label + ": " + answer.text());
            } else if (answer.is(Answer.Seen.ABSENT)) {
                absent.add(label);
            } else {
                inOrder.add(label);
            }
        });
        var said = new ArrayList<String>();
        if (!inOrder.isEmpty()) {
            said.add("Checked and in order: " + String.join(", ", inOrder));
        }
        if (!absent.isEmpty()) {
            said.add("Not there on this part: " + String.join(", ", absent));
        }
        said.addAll(remarks);
        return said.isEmpty() ? "Nothing checked yet" : String.join("; ", said);
    }

    /** For the customer: number, maker, lot, why another number is right, and where the old part is. */
    public String said() {
        String lot = fitted.serial() == null ? "" : ", lot " + fitted.serial();
        String number = ground == null ? "" : "; " + ground.words();
        return "%s by %s%s%s; old part %s".formatted(fitted.number(), fitted.maker(), lot, number, went.words())
                + (ended != null && takenBack() ? "; taken back: " + ended.words() : "");
    }
}
