package idlewright.billing;

import idlewright.billing.Authorisations.AuthorisationView;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.Total;
import idlewright.intake.Act;
import idlewright.intake.Chapter;
import idlewright.intake.Finds;
import idlewright.intake.Knot;
import idlewright.intake.Strand;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.TicketStamp;
import idlewright.people.Role;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import org.springframework.core.annotation.Order;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** What the money tells on a ticket: agreements, estimates, the invoice; and what of it is still missing. */
@Component
@Order(7)
class MoneyStrand implements Strand, Finds {

    private final Tickets tickets;
    private final Estimates estimates;
    private final Authorisations authorisations;
    private final Charges charges;
    private final Invoices invoices;
    private final Payments payments;
    private final Rates rates;
    private final JdbcClient jdbc;

    MoneyStrand(
            Tickets tickets,
            Estimates estimates,
            Authorisations authorisations,
            Charges charges,
            @org.springframework.context.annotation.Lazy Invoices invoices,
            @org.springframework.context.annotation.Lazy Payments payments,
            Rates rates,
            JdbcClient jdbc) {
        this.tickets = tickets;
        this.estimates = estimates;
        this.authorisations = authorisations;
        this.charges = charges;
        this.invoices = invoices;
        this.payments = payments;
        this.rates = rates;
        this.jdbc = jdbc;
    }

    @Override
    public Set<Chapter> chapters() {
        return EnumSet.of(Chapter.AGREEMENT, Chapter.AFTER);
    }

    @Override
    public List<Knot> knots(TicketNumber number) {
        TicketView ticket = tickets.get(number);
        var knots = new ArrayList<Knot>();
        // With one complaint its thread tells the money too; with several the money belongs to the visit.
        int place = ticket.symptoms().size() == 1 ? 1 : 0;
        List<AuthorisationView> agreements = ticket.has(TicketStamp.AGREED) ? authorisations.of(number) : List.of();
        for (AuthorisationView agreed : agreements) {
            Knot knot = Knot.told(
                    place,
                    agreed.at(),
                    agreed.takenBy(),
                    Chapter.AGREEMENT,
                    (agreed.replaced() ? "Corrected: agreed " : "Agreed ")
                            + agreed.amount().text() + " for " + agreed.kind().words(),
                    agreed.said());
            knots.add(
                    agreed.replaced() || ticket.has(TicketStamp.BILLED) || agreed.channel() == Channel.LINK
                            ? knot
                            : knot.with(Act.also(
                                    "Correct it", "/authorisations/" + agreed.id() + "/correction", Role.WRITER)));
        }
        if (!ticket.has(TicketStamp.BILLED) && ticket.has(TicketStamp.AGREED)) {
            deposits(number, knots);
        }
        List<EstimateView> written = estimates.of(number);
        for (EstimateView estimate : written) {
            knots.add(Knot.told(
                            place,
                            estimate.madeAt(),
                            estimate.madeBy(),
                            Chapter.AGREEMENT,
                            "Estimate %d over %s"
                                    .formatted(
                                            estimate.issue(),
                                            estimate.total().gross().text()),
                            said(estimate))
                    .with(Act.also(
                            "Look at it", "/estimates/" + estimate.id(), Role.WRITER, Role.OWNER, Role.TECHNICIAN)));
        }
        if (ticket.has(TicketStamp.BILLED)) {
            invoices.head(number).ifPresent(invoice -> {
                Knot billed = Knot.told(
                        0,
                        invoice.issuedAt(),
                        invoice.issuedBy(),
                        Chapter.AFTER,
                        "Invoice %s over %s"
                                .formatted(invoice.number(), invoice.total().text()),
                        invoice.creditedInPart()
                                ? "%s; %s of it was credited"
                                        .formatted(
                                                invoice.state(),
                                                invoice.credited().text())
                                : invoice.state());
                knots.add(
                        invoice.owed().isPositive()
                                ? billed.with(
                                        Act.main(
                                                "Take the payment",
                                                "/invoices/" + invoice.number() + "/payments/new",
                                                Role.WRITER),
                                        Act.also(
                                                "Look at it", "/invoices/" + invoice.number(), Role.WRITER, Role.OWNER))
                                : billed.with(Act.also(
                                        "Look at it", "/invoices/" + invoice.number(), Role.WRITER, Role.OWNER)));
            });
        } else {
            missing(ticket, agreements, written, knots);
        }
        return knots;
    }

    private void deposits(TicketNumber number, List<Knot> knots) {
        for (var move : payments.depositsOf(number)) {
            knots.add(Knot.told(
                            0,
                            move.at(),
                            move.who(),
                            Chapter.AGREEMENT,
                            move.amount().isNegative()
                                    ? "Deposit of %s given back"
                                            .formatted(move.amount().negate().text())
                                    : "Deposit of %s".formatted(move.amount().text()),
                            move.how().words())
                    .with(Act.also("Look at it", number.url() + "/deposits", Role.WRITER, Role.OWNER)));
        }
    }

    private static String said(EstimateView estimate) {
        String offered =
                estimate.offered() ? "put to the customer " + estimate.offeredHow() : "not yet put to the customer";
        return estimate.changes().isEmpty()
                ? offered
                : "%s; %d changed against the former"
                        .formatted(offered, estimate.changes().size());
    }

    /** What the customer does not want stays in sight until somebody ends its thread or offers something else. */
    private static void declined(TicketView ticket, EstimateView estimate, List<Knot> knots) {
        for (EstimateView.Group group : estimate.groups()) {
            if (!group.standing().declined()) {
                continue;
            }
            var symptom = group.place() == 0 ? null : ticket.symptom(group.place());
            if (symptom != null && symptom.ended()) {
                continue;
            }
            String said = "%s with tax, %s%s."
                    .formatted(
                            group.total().gross().text(),
                            group.standing().words(),
                            group.answer() == null
                                    ? ""
                                    : " by %s, %s"
                                            .formatted(
                                                    group.answer().byWhom(),
                                                    group.answer().channel().words()));
            knots.add(
                    symptom == null
                            ? Knot.open(0, Chapter.AGREEMENT, "Declined: the lines of the visit", said)
                            : Knot.open(
                                    symptom.place(),
                                    Chapter.AGREEMENT,
                                    "The customer declined this repair",
                                    said,
                                    Act.main(
                                            "End it, not repaired",
                                            symptom.ref().url() + "/ending?how=DECLINED",
                                            Role.WRITER),
                                    Act.also(
                                            "Write another estimate",
                                            ticket.number().url() + "/estimates/new",
                                            Role.WRITER)));
        }
    }

    private void missing(
            TicketView ticket, List<AuthorisationView> agreements, List<EstimateView> written, List<Knot> knots) {
        TicketNumber number = ticket.number();
        if (!ticket.symptoms().isEmpty() && !ticket.has(TicketStamp.AGREED)) {
            knots.add(Knot.open(
                    0,
                    Chapter.AGREEMENT,
                    "The diagnosis",
                    "Not agreed yet.",
                    Act.main("Record the agreement", number.url() + "/authorisations/new", Role.WRITER)));
        }
        var latest = written.stream().filter(EstimateView::latest).findFirst();
        // Only a thread that still waits for its repair asks for an estimate.
        long tracedAfter = ticket.symptoms().stream()
                .filter(symptom -> !symptom.ended() && !symptom.has(ThreadStamp.MENDED))
                .flatMap(symptom -> symptom.latest(ThreadStamp.TRACED).stream())
                .mapToLong(TicketView.StampView::order)
                .max()
                .orElse(0);
        long offered = ticket.latest(TicketStamp.OFFERED)
                .map(TicketView.StampView::order)
                .orElse(0L);
        long agreed = ticket.latest(TicketStamp.AGREED)
                .map(TicketView.StampView::order)
                .orElse(0L);
        if (latest.isPresent() && !latest.get().offered() && latest.get().asks()) {
            knots.add(Knot.open(
                    0,
                    Chapter.AGREEMENT,
                    "The estimate",
                    "Written, not yet put to the customer.",
                    Act.main(
                            "Put it to the customer",
                            "/estimates/" + latest.get().id(),
                            Role.WRITER)));
        } else if (tracedAfter > offered && tracedAfter > agreed) {
            knots.add(Knot.open(
                    0,
                    Chapter.AGREEMENT,
                    "The estimate",
                    "A cause is found; the repair is not estimated yet.",
                    Act.main("Write the estimate", number.url() + "/estimates/new", Role.WRITER)));
        } else if (offered > agreed && !latest.map(EstimateView::answered).orElse(false)) {
            knots.add(Knot.open(
                    0,
                    Chapter.AGREEMENT,
                    "The customer's answer",
                    "The estimate is with the customer.",
                    Act.main("Record the answer", number.url() + "/authorisations/new", Role.WRITER)));
        }
        latest.ifPresent(estimate -> declined(ticket, estimate, knots));
        boolean allEnded =
                !ticket.symptoms().isEmpty() && ticket.symptoms().stream().allMatch(TicketView.SymptomView::ended);
        List<Line> charged = charges.lines(number);
        if (allEnded || !charged.isEmpty()) {
            knots.add(Knot.open(
                    0,
                    Chapter.AFTER,
                    "Invoice",
                    "Agreed so far %s, charged %s with tax."
                            .formatted(
                                    Authorisations.sum(agreements, rates.currency())
                                            .text(),
                                    Total.of(charged, rates.taxes(ticket), rates.currency())
                                            .gross()
                                            .text()),
                    allEnded
                            ? Act.main("Write the invoice", number.url() + "/invoice", Role.WRITER)
                            : Act.also("Charges so far", number.url() + "/invoice", Role.WRITER, Role.OWNER),
                    Act.also("Take down another agreement", number.url() + "/authorisations/new", Role.WRITER),
                    Act.also("Take a deposit", number.url() + "/deposits", Role.WRITER, Role.OWNER)));
        }
    }

    @Override
    public List<Hit> find(String words) {
        return jdbc.sql(
                        "select number, customer, ticket_number from invoice where number like upper(?) || '%' order by number limit 5")
                .param(words.replace("%", ""))
                .query((r, n) ->
                        new Hit("invoice", "Invoice " + r.getString(1), r.getString(2), "/invoices/" + r.getString(1)))
                .list();
    }
}
