package idlewright.intake;

import idlewright.intake.rules.Move;
import org.jspecify.annotations.Nullable;

/** One open ticket as a sentence: the car, the customer, their words, what was found, and whose move it is. */
public record CounterLine(
        TicketNumber number,
        String vehicle,
        @Nullable String plate,
        String customer,
        @Nullable String words,
        @Nullable String symptomKind,
        @Nullable String found,
        @Nullable String hand,
        @Nullable String keyTag,
        boolean comeback,
        Move move) {}
