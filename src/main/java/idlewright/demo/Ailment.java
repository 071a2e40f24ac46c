package idlewright.demo;

import idlewright.billing.rules.LineKind;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;

/**
 * A fault as it walks into the demo shop: what customers say of it, what the tests show, and what ends it.
 *
 * @param words ways in which customers put it
 * @param cause key of the catalogue's cause
 * @param before tests before the repair
 * @param after tests that prove it; empty where only the road can tell
 */
record Ailment(
        String kind,
        List<String> words,
        Map<String, String> answers,
        String cause,
        String seen,
        String correction,
        @Nullable Part part,
        String hours,
        String labour,
        Function<Bay, List<Trial>> before,
        Function<Bay, List<Trial>> after) {

    /** A part with its numbers; price and cost before tax. */
    record Part(
            String what,
            String removed,
            String fitted,
            String maker,
            String supplier,
            String price,
            String cost,
            String condition) {

        Part as(String fittedNumber) {
            return new Part(what, removed, fittedNumber, maker, supplier, price, cost, condition);
        }

        LineKind kind() {
            return LineKind.PART;
        }
    }
}
