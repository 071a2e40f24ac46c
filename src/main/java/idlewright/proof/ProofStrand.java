package idlewright.proof;

import idlewright.bench.Bench;
import idlewright.frame.OnlyReads;
import idlewright.intake.Act;
import idlewright.intake.Chapter;
import idlewright.intake.Knot;
import idlewright.intake.Strand;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.TicketView.SymptomView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.TicketStamp;
import idlewright.people.Role;
import idlewright.proof.FollowUps.Comeback;
import idlewright.proof.FollowUps.Explained;
import idlewright.proof.FollowUps.Said;
import idlewright.proof.ProofView.Proved;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** What the proof tells on a thread: that it helped and by what, what the customer said later; and what is still missing. */
@Component
@Order(9)
class ProofStrand implements Strand {

    private final Tickets tickets;
    private final Bench bench;
    private final Proofs proofs;
    private final FollowUps followUps;

    ProofStrand(Tickets tickets, Bench bench, Proofs proofs, FollowUps followUps) {
        this.bench = bench;
        this.tickets = tickets;
        this.proofs = proofs;
        this.followUps = followUps;
    }

    @Override
    public Set<Chapter> chapters() {
        return EnumSet.of(Chapter.PROOF, Chapter.AFTER);
    }

    @Override
    @OnlyReads
    public List<Knot> knots(TicketNumber number) {
        TicketView ticket = tickets.get(number);
        var knots = new ArrayList<Knot>();
        // The stamps say whether there is anything to look up.
        if (any(ticket, ThreadStamp.PROVED)) {
            for (Proved proved : proofs.of(number)) {
                knots.add(proved(proved, ticket));
                if (proved.measured() && changedSince(proved, number)) {
                    knots.add(Knot.open(
                            proved.place(),
                            Chapter.PROOF,
                            "Look at the proof again",
                            "A reading of a test after the repair was corrected after it had proved the repair.",
                            Act.also(
                                    "Before and after",
                                    ticket.symptom(proved.place()).ref().url() + "/proof",
                                    Role.TECHNICIAN,
                                    Role.OWNER,
                                    Role.WRITER)));
                }
            }
        }
        if (ticket.has(TicketStamp.HANDED_BACK)) {
            followUps.said(number).forEach(said -> knots.add(said(said)));
        }
        if (any(ticket, ThreadStamp.EXPLAINED)) {
            followUps.explained(number).forEach(why -> knots.add(explained(why)));
        }
        List<Comeback> comebacks = any(ticket, ThreadStamp.RETURNED) ? followUps.comebacks(number) : List.of();
        ticket.symptoms().forEach(symptom -> missing(ticket, symptom, comebacks, knots));
        if (followUps.waits(ticket)) {
            knots.add(Knot.open(
                    0,
                    Chapter.AFTER,
                    "Follow-up",
                    "The customer has not said yet whether it stayed away.",
                    Act.main("Ask the customer", "/follow-ups/" + number, Role.WRITER)));
        }
        return knots;
    }

    private static boolean any(TicketView ticket, ThreadStamp stamp) {
        return ticket.symptoms().stream().anyMatch(symptom -> symptom.has(stamp));
    }

    private boolean changedSince(Proved proved, TicketNumber number) {
        return bench.of(number).stream()
                .filter(test -> test.after()
                        && test.places().contains(proved.place())
                        && test.startedAt().isBefore(proved.at())
                        && !test.struck().isEmpty())
                .flatMap(test -> test.readings().stream())
                .anyMatch(reading -> reading.at() != null && reading.at().isAfter(proved.at()));
    }

    private static Knot explained(Explained why) {
        return Knot.told(
                why.place(),
                why.at(),
                why.who(),
                Chapter.AFTER,
                "Why it came back: " + why.reason().words(),
                why.words());
    }

    /** Without figures: the tests on both sides stand on the thread with theirs already. */
    private static Knot proved(Proved proved, TicketView ticket) {
        return Knot.told(
                        proved.place(),
                        proved.at(),
                        proved.who(),
                        Chapter.PROOF,
                        proved.measured() ? "Proved by the same test" : "Road test only, not measured",
                        proved.measured() ? proved.statement() : proved.statement() + ". " + proved.besides())
                .with("proof/knots :: proof", proved)
                .onPaper(proved.onPaper())
                .with(Act.also(
                        "Before and after",
                        ticket.symptom(proved.place()).ref().url() + "/proof",
                        Role.TECHNICIAN,
                        Role.OWNER,
                        Role.WRITER));
    }

    private static Knot said(Said said) {
        return Knot.told(
                said.place(),
                said.at(),
                said.by(),
                Chapter.AFTER,
                said.title(),
                said.note() == null ? "" : said.note());
    }

    private static void missing(TicketView ticket, SymptomView symptom, List<Comeback> comebacks, List<Knot> knots) {
        if (symptom.has(ThreadStamp.MENDED) && !symptom.ended() && !ticket.has(TicketStamp.BILLED)) {
            knots.add(Knot.open(
                    symptom.place(),
                    Chapter.PROOF,
                    "The proof",
                    "The same tests, after the repair.",
                    Act.main("Prove it now", symptom.ref().url() + "/proof", Role.TECHNICIAN)));
        }
        if (!symptom.has(ThreadStamp.RETURNED)) {
            return;
        }
        var comeback = comebacks.stream()
                .filter(each -> each.place() == symptom.place())
                .findFirst();
        if (comeback.isPresent()) {
            knots.add(Knot.open(
                    symptom.place(),
                    Chapter.AFTER,
                    "The comeback",
                    "Ticket %s goes on with it.".formatted(comeback.get().ticket()),
                    Act.also(
                            "To ticket " + comeback.get().ticket(),
                            comeback.get().ticket().url(),
                            Role.values())));
        } else {
            knots.add(Knot.open(
                    symptom.place(),
                    Chapter.AFTER,
                    "The comeback",
                    "No visit is open for it yet.",
                    Act.main("Open the comeback", "/follow-ups/" + ticket.number(), Role.WRITER)));
        }
        if (!symptom.has(ThreadStamp.EXPLAINED)) {
            knots.add(Knot.open(
                    symptom.place(),
                    Chapter.AFTER,
                    "Why it came back",
                    "For the owner to say.",
                    Act.main("Say why", symptom.ref().url() + "/return", Role.OWNER)));
        }
    }
}
