package idlewright.intake.rules;

import java.util.List;

/** One question the counter asks about a symptom; without choices the answer is free; {@code many} takes several choices. */
public record Question(String key, String asks, List<String> choices, boolean many) {

    public Question {
        choices = List.copyOf(choices);
    }
}
