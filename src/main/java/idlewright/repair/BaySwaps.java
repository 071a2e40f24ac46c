package idlewright.repair;

import idlewright.bench.AtTheCar;
import idlewright.intake.TicketView;
import java.util.Locale;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** A swap that stands open is gone on with before anything else is begun at the car. */
@Component
class BaySwaps implements AtTheCar {

    private final Swaps swaps;

    BaySwaps(Swaps swaps) {
        this.swaps = swaps;
    }

    @Override
    public Optional<Shown> at(@Nullable TicketView ticket) {
        return Optional.empty();
    }

    @Override
    public Optional<Next> next(TicketView ticket) {
        return swaps.of(ticket.number()).stream()
                .filter(SwapView::open)
                .findFirst()
                .map(swap -> new Next(
                        (swap.trial() ? "On trial: the " : "Go on: swap of the ")
                                + swap.fitted().what().toLowerCase(Locale.ROOT),
                        swap.url(),
                        swap.trial()
                                ? "Call it final when it helped, or take it out again."
                                : "Both parts are written down; it is not final yet."));
    }
}
