package idlewright.repair;

import idlewright.billing.EstimateView;
import idlewright.billing.EstimateView.Written;
import idlewright.billing.Estimates;
import idlewright.billing.FittedOtherwise;
import idlewright.billing.rules.LineKind;
import idlewright.frame.OnlyReads;
import idlewright.intake.TicketNumber;
import idlewright.repair.rules.PartNumbers;
import idlewright.repair.rules.Pay;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.springframework.stereotype.Component;

/** Tells where a part that is in has another number than the estimate the customer agreed to. */
@Component
public class PartsNotAsAgreed implements FittedOtherwise {

    private final Swaps swaps;
    private final Estimates estimates;

    PartsNotAsAgreed(Swaps swaps, Estimates estimates) {
        this.swaps = swaps;
        this.estimates = estimates;
    }

    @Override
    @OnlyReads
    public List<Part> of(TicketNumber number) {
        return swaps.of(number).stream().flatMap(swap -> of(swap).stream()).toList();
    }

    /** The agreed number of this part, where it is another one. */
    @OnlyReads
    public Optional<Part> of(SwapView swap) {
        if (swap.takenBack()) {
            return Optional.empty();
        }
        Optional<EstimateView> latest = estimates.latest(swap.thread().ticket());
        return latest.flatMap(estimate -> named(estimate, swap)
                .filter(line -> named(estimate, swap).noneMatch(other -> same(other, swap)))
                .findFirst()
                .map(line -> new FittedOtherwise.Part(
                        swap.thread().place(),
                        estimate.id(),
                        line.line().what(),
                        String.valueOf(line.line().partNumber()),
                        swap.fitted().number(),
                        swap.url())));
    }

    /** Lines that are this part: the one it is charged by, or else those that call it the same. */
    private static Stream<Written> named(EstimateView estimate, SwapView swap) {
        return estimate.lines().stream()
                .filter(line ->
                        line.line().kind() == LineKind.PART && line.line().partNumber() != null)
                .filter(line -> swap.pay() instanceof Pay.ByEstimate by
                                && estimate.lines().stream().anyMatch(each -> each.id() == by.estimateLineId())
                        ? line.id() == by.estimateLineId()
                        : line.line().what().equalsIgnoreCase(swap.fitted().what()));
    }

    private static boolean same(Written line, SwapView swap) {
        return PartNumbers.compare(line.line().partNumber(), swap.fitted().number())
                .same();
    }
}
