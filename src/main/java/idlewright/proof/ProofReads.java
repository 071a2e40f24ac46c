package idlewright.proof;

import idlewright.frame.ReadOnce;
import idlewright.frame.Together;
import idlewright.intake.TicketNumber;
import idlewright.proof.FollowUps.Comeback;
import idlewright.proof.FollowUps.Explained;
import idlewright.proof.FollowUps.Said;
import idlewright.proof.ProofView.Proved;
import java.util.List;
import java.util.Map;
import org.springframework.stereotype.Component;

/** Reads all that the proof knows of a ticket, in one statement. */
@Component
class ProofReads {

    /** Everything the oldest first. */
    record Sheet(List<Proved> proofs, List<Said> said, List<Explained> explained, List<Comeback> comebacks) {}

    private record SheetOf(TicketNumber ticket) {}

    private final Together together;
    private final ReadOnce once;

    ProofReads(Together together, ReadOnce once) {
        this.together = together;
        this.once = once;
    }

    Sheet of(TicketNumber number) {
        return once.of(new SheetOf(number), () -> read(number));
    }

    private Sheet read(TicketNumber number) {
        var told = together.read(
                Map.of("ticket", number.value()),
                Proofs.OF_TICKET,
                FollowUps.SAID,
                FollowUps.EXPLAINED,
                FollowUps.COMEBACKS);
        return new Sheet(
                told.get(0).stream().map(Proofs::view).toList(),
                told.get(1).stream().map(FollowUps::said).toList(),
                told.get(2).stream().map(FollowUps::explained).toList(),
                told.get(3).stream().map(FollowUps::comeback).toList());
    }
}
