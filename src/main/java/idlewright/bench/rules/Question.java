package idlewright.bench.rules;

import java.util.List;
import java.util.Optional;

/**
 * What the counter asks about a symptom, in words for the customer.
 *
 * @param choices empty unless {@link Form#CHOICE}
 */
public record Question(String key, String words, Form form, List<Choice> choices, boolean required) {

    /** How it is answered. */
    public enum Form {
        CHOICE,
        YES_NO,
        TEXT,
        NUMBER
    }

    public Question {
        choices = List.copyOf(choices);
        if ((form == Form.CHOICE) == choices.isEmpty()) {
            throw new Refusal("The question '" + key + "' must have choices exactly if it is answered by one.");
        }
    }

    public Optional<Choice> choice(String key) {
        return choices.stream().filter(choice -> choice.key().equals(key)).findFirst();
    }
}
