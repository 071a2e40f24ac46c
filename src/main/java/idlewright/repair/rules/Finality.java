package idlewright.repair.rules;

import idlewright.repair.rules.Answer.Seen;
import idlewright.repair.rules.PartNumbers.Likeness;
import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/** Nothing is final until the number is accounted for and every check is answered. */
public final class Finality {

    private Finality() {}

    /**
     * What still stands against calling a part final, by the field where it is mended; empty when nothing does.
     *
     * @param oldParts what the ticket promised about old parts
     */
    public static Map<String, String> against(
            Likeness likeness, @Nullable NumberGround ground, Map<Check, Answer> answers, Went went, String oldParts) {
        var against = new LinkedHashMap<String, String>();
        if (!likeness.same() && ground == null) {
            against.put("ground", numberWords(likeness));
        }
        against.putAll(wrong(answers, went, oldParts));
        for (Check check : Check.values()) {
            if (!answers.containsKey(check)) {
                against.putIfAbsent(field(check), "Answer “%s”.".formatted(check.asks()));
            }
        }
        answers.forEach((check, answer) -> {
            if (answer.is(Seen.NO) && check == Check.MARK_MATCHED) {
                against.putIfAbsent(field(check), "Turn it round first: the flow mark must point as the old one did.");
            }
            if (answer.is(Seen.NO) && check == Check.LOCKED) {
                against.putIfAbsent(field(check), "Lock the connector first.");
            }
        });
        return against;
    }

    /** Answers that cannot be kept as they are. */
    public static Map<String, String> wrong(Map<Check, Answer> answers, Went went, String oldParts) {
        var wrong = new LinkedHashMap<String, String>();
        answers.forEach((check, answer) -> {
            if (answer.is(Seen.NO) && answer.words().isEmpty()) {
                wrong.put(
                        field(check),
                        "%s: say in a few words what is not as it should be, and what was done about it."
                                .formatted(check.label()));
            }
            if (answer.is(Seen.ABSENT) && !check.mayBeAbsent()) {
                wrong.put(field(check), "%s: answer yes or no.".formatted(check.label()));
            }
        });
        Answer old = answers.get(Check.MARK_OLD);
        Answer fitted = answers.get(Check.MARK_NEW);
        Answer matched = answers.get(Check.MARK_MATCHED);
        if (old != null
                && fitted != null
                && old.seen() != fitted.seen()
                && fitted.words().isEmpty()
                && old.words().isEmpty()) {
            wrong.putIfAbsent(
                    field(Check.MARK_NEW),
                    "One part shows a flow mark and the other does not: say how you know which way it goes.");
        }
        if (matched != null
                && matched.is(Seen.ABSENT)
                && (old != null && old.is(Seen.YES) || fitted != null && fitted.is(Seen.YES))) {
            wrong.putIfAbsent(
                    field(Check.MARK_MATCHED), "There is a mark: say whether it points to the engine side as it must.");
        }
        Answer kept = answers.get(Check.OLD_PART);
        if (kept != null && kept.is(Seen.YES) && !went.keeps(oldParts)) {
            wrong.putIfAbsent(
                    field(Check.OLD_PART),
                    "It went to “%s”, and the customer %s. Answer no and say what was agreed, or get it back."
                            .formatted(
                                    went.words(),
                                    oldParts.equals("GIVE_BACK") ? "wants old parts back" : "wants to see old parts"));
        }
        return wrong;
    }

    /** The form's field of a check. */
    public static String field(Check check) {
        return "check-" + check.name();
    }

    private static String numberWords(Likeness likeness) {
        return switch (likeness) {
            case LOOK_ALIKE ->
                "The two numbers differ in letters and digits that look alike (O and 0, I and 1). Read both again; "
                        + "if they do differ, name the supersession and its source, or the reason and who agreed.";
            case NOT_READ ->
                "The old number could not be read. Name the source that says this number belongs here, or the reason and who agreed.";
            default -> "The numbers differ. Name the supersession and its source, or the reason and who agreed.";
        };
    }
}
