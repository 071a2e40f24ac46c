package idlewright.intake;

import java.time.Instant;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * What a later room remembers of a customer. Every room that keeps something said by or about one says so as a bean; the
 * counter asks them all when a customer takes their data along or wants to be forgotten, and never looks ahead.
 */
public interface Memory {

    /**
     * Whom it is about.
     *
     * @param tickets the numbers of all visits
     * @param forgotten when the customer was made anonymous, null when they are not
     */
    record Whose(
            long customer, List<Integer> tickets, @Nullable Instant forgotten) {

        public Integer[] numbers() {
            return tickets.toArray(Integer[]::new);
        }
    }

    /** A thing that stays when the customer is forgotten. */
    record Thing(String words, String url) {}

    /**
     * What stays, and why.
     *
     * @param asks whether the owner has to choose: keep it for a reason, or have it destroyed
     */
    record Kept(String what, String why, boolean asks, List<Thing> things) {}

    /**
     * What the owner chose for what need not stay.
     *
     * @param reason why it stays, or why it goes
     */
    record Choice(boolean keep, String reason) {}

    /** What goes along in the customer's file, by heading. */
    Map<String, List<Map<String, Object>>> of(Whose whose);

    /** What would stay, or what has stayed of a customer who is forgotten. */
    default List<Kept> kept(Whose whose) {
        return List.of();
    }

    /** Takes away what need not stay. */
    default void forget(Whose whose, Choice choice) {}
}
