package idlewright.warranty;

import idlewright.intake.Act;
import idlewright.intake.Chapter;
import idlewright.intake.Finds;
import idlewright.intake.Knot;
import idlewright.intake.Strand;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.people.Role;
import idlewright.warranty.Coverages.Covered;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import org.springframework.context.annotation.Lazy;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** What is still covered when a car comes, which dossiers were sealed, and what is claimed back. */
@Component
@Order(10)
class WarrantyStrand implements Strand, Finds {

    private final Tickets tickets;
    private final Coverages coverages;
    private final Dossiers dossiers;
    private final WarrantyReads reads;

    WarrantyStrand(Tickets tickets, Coverages coverages, @Lazy Dossiers dossiers, WarrantyReads reads) {
        this.tickets = tickets;
        this.coverages = coverages;
        this.dossiers = dossiers;
        this.reads = reads;
    }

    @Override
    public Set<Chapter> chapters() {
        return EnumSet.of(Chapter.AGREEMENT, Chapter.AFTER);
    }

    @Override
    public List<Knot> knots(TicketNumber number) {
        TicketView ticket = tickets.get(number);
        var knots = new ArrayList<Knot>();
        var earlier = coverages.at(number);
        if (!earlier.isEmpty()) {
            var open = earlier.stream().filter(one -> one.coverage().covered()).toList();
            knots.add(Knot.told(
                            0,
                            ticket.openedAt(),
                            ticket.openedBy(),
                            Chapter.AGREEMENT,
                            open.isEmpty()
                                    ? "No warranty left from earlier visits"
                                    : "Still covered from earlier visits",
                            open.isEmpty()
                                    ? ""
                                    : "work of ticket %s: look here before charging for it".formatted(tickets(open)))
                    .with("warranty/knots :: covered", earlier));
        }
        var law = coverages.emissionsAt(number);
        if (!law.isEmpty()) {
            boolean open = law.stream().anyMatch(quoted -> quoted.coverage().covered());
            knots.add(Knot.told(
                            0,
                            ticket.openedAt(),
                            ticket.openedBy(),
                            Chapter.AGREEMENT,
                            open ? "Emission parts may still be the maker’s" : "No emissions warranty left",
                            "by law of the United States, from memory: check before quoting")
                    .with("warranty/knots :: emissions", law));
        }
        var sheet = reads.of(ticket);
        var sealed = sheet.dossiers();
        for (var dossier : sealed) {
            knots.add(Knot.told(
                            dossier.place(),
                            dossier.sealedAt(),
                            dossier.sealedBy(),
                            Chapter.AFTER,
                            "Dossier %s sealed".formatted(dossier.code()),
                            dossier.replaces() == null ? "" : "in the place of " + dossier.replaces())
                    .with(Act.also("Look at it", "/dossiers/" + dossier.code(), Role.WRITER, Role.OWNER)));
        }
        for (var claim : sheet.claims()) {
            knots.add(Knot.told(
                            claim.place(),
                            claim.madeAt(),
                            claim.madeBy(),
                            Chapter.AFTER,
                            "Claimed %s back from %s".formatted(claim.amount().text(), claim.supplier()),
                            "%s; %s".formatted(claim.part(), claim.state()))
                    .with(Act.also("Look at it", "/claims/" + claim.id(), Role.WRITER, Role.OWNER)));
        }
        for (var symptom : ticket.symptoms()) {
            boolean none = sealed.stream().noneMatch(dossier -> dossier.place() == symptom.place());
            if (none && symptom.ended() && symptom.has(ThreadStamp.MENDED)) {
                knots.add(Knot.open(
                        symptom.place(),
                        Chapter.AFTER,
                        "Evidence for a claim",
                        "Not sealed; only needed when a supplier or an insurer asks.",
                        Act.also(
                                "Seal a dossier",
                                new SymptomRef(number, symptom.place()).url() + "/dossiers/new",
                                Role.WRITER,
                                Role.OWNER)));
            }
        }
        return knots;
    }

    private static String tickets(List<Covered> open) {
        return open.stream().map(one -> one.ticket().toString()).distinct().collect(Collectors.joining(", "));
    }

    @Override
    public List<Hit> find(String words) {
        return dossiers.find(words);
    }
}
