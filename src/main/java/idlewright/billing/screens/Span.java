package idlewright.billing.screens;

import idlewright.frame.Refused;
import idlewright.frame.Typing;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;

/** From one day to another, both included, as a person or a program asked for it. */
record Span(LocalDate from, LocalDate to) {

    /** Reads both; what was left out is as said. */
    static Span read(@Nullable String from, @Nullable String to, LocalDate otherwiseFrom, LocalDate otherwiseTo) {
        var typing = new Typing();
        LocalDate first = typing.day("from", from);
        LocalDate last = typing.day("to", to);
        typing.done();
        LocalDate until = last == null ? otherwiseTo : last;
        LocalDate since = first == null ? (otherwiseFrom.isAfter(until) ? until : otherwiseFrom) : first;
        if (since.isAfter(until)) {
            throw Refused.at("to", "The last day comes before the first.");
        }
        return new Span(since, until);
    }
}
