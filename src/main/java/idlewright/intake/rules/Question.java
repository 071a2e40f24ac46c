package idlewright.intake.rules;

import java.util.List;

/**
 * One question the counter asks about a symptom; without choices the answer is free.
 *
 * @param many takes several choices
 * @param carries the answer is as a rule the same for every symptom of a visit
 */
public record Question(String key, String asks, List<String> choices, boolean many, boolean carries) {

    public Question {
        choices = List.copyOf(choices);
    }
}
