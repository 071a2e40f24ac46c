package idlewright.repair;

import idlewright.frame.ReadOnce;
import idlewright.frame.Times;
import idlewright.frame.Together;
import idlewright.intake.TicketNumber;
import idlewright.people.Shops;
import idlewright.repair.Clocks.Span;
import idlewright.repair.Labours.CorrectionView;
import idlewright.repair.Labours.LabourView;
import java.time.Clock;
import java.util.List;
import java.util.Map;
import org.springframework.stereotype.Component;

/** Reads all that the repair knows of a ticket, in one statement. */
@Component
class RepairReads {

    /** Everything the oldest first. */
    record Sheet(
            List<FindingView> findings,
            List<SwapView> swaps,
            List<LabourView> labours,
            List<CorrectionView> corrections,
            List<Span> spans) {}

    private record SheetOf(TicketNumber ticket) {}

    private final Together together;
    private final Shops shops;
    private final ReadOnce once;
    private final Clock clock;
    private final Times times;

    RepairReads(Together together, Shops shops, ReadOnce once, Clock clock, Times times) {
        this.together = together;
        this.shops = shops;
        this.once = once;
        this.clock = clock;
        this.times = times;
    }

    Sheet of(TicketNumber number) {
        return once.of(new SheetOf(number), () -> read(number));
    }

    private Sheet read(TicketNumber number) {
        var told = together.read(
                Map.of("ticket", number.value()),
                Findings.OF_TICKET,
                SwapReads.OF_TICKET,
                Labours.OF_TICKET,
                Labours.CORRECTIONS,
                Clocks.OF_TICKET);
        var currency = shops.shop().currency();
        var now = clock.instant();
        return new Sheet(
                told.get(0).stream().map(Findings::view).toList(),
                told.get(1).stream().map(r -> SwapReads.view(r, currency)).toList(),
                told.get(2).stream().map(Labours::labour).toList(),
                told.get(3).stream().map(Labours::correction).toList(),
                told.get(4).stream().map(r -> Clocks.span(r, now, times)).toList());
    }
}
