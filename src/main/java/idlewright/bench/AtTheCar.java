package idlewright.bench;

import idlewright.intake.TicketView;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/** What a later room shows at the bay, such as the clock; the bay's pages ask all of them and look at none. */
public interface AtTheCar {

    /** A fragment and what it shows, in the template as {@code shown.model}. */
    record Shown(String fragment, Object model) {}

    /**
     * Something for the top of a bay page.
     *
     * @param ticket null on the list of cars
     */
    Optional<Shown> at(@Nullable TicketView ticket);

    /** The one thing to do now at a car, and why. */
    record Next(String label, String url, String why) {}

    /** What was begun in a later room and comes before any other test, such as a swap whose checks are open. */
    default Optional<Next> next(TicketView ticket) {
        return Optional.empty();
    }
}
