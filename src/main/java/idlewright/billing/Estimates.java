package idlewright.billing;

import idlewright.billing.EstimateView.Told;
import idlewright.billing.model.Estimate;
import idlewright.billing.model.EstimateRows;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.Total;
import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Paper;
import idlewright.frame.Refused;
import idlewright.intake.Chapter;
import idlewright.intake.Knot;
import idlewright.intake.Strand;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.TicketStamp;
import idlewright.journal.Journal;
import idlewright.journal.rules.Seal;
import idlewright.people.People;
import idlewright.people.Shops;
import java.sql.Timestamp;
import java.time.Clock;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The front door for estimates. */
@Component
@Transactional
public class Estimates {

    private final EstimateRows rows;
    private final MoneyReads reads;
    private final Tickets tickets;
    private final Rates rates;
    private final Consents consents;
    private final ObjectProvider<Strand> strands;
    private final Paper paper;
    private final Shops shops;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    Estimates(
            EstimateRows rows,
            MoneyReads reads,
            Tickets tickets,
            Rates rates,
            Consents consents,
            ObjectProvider<Strand> strands,
            Paper paper,
            Shops shops,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock) {
        this.rows = rows;
        this.reads = reads;
        this.tickets = tickets;
        this.rates = rates;
        this.consents = consents;
        this.strands = strands;
        this.paper = paper;
        this.shops = shops;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Writes an estimate; an earlier one of the ticket stays as it was. */
    public EstimateView write(TicketNumber number, List<Line> lines, @Nullable String note) {
        TicketView ticket = tickets.get(number);
        if (ticket.has(TicketStamp.BILLED)) {
            throw Refused.because("The invoice of ticket %s is issued.".formatted(number));
        }
        if (lines.isEmpty()) {
            throw Refused.because("Write at least one line.");
        }
        for (Line line : lines) {
            if (line.place() > 0) {
                ticket.symptom(line.place());
            }
            line.wrong().ifPresent(why -> {
                throw Refused.because(why);
            });
        }
        rates.keepPrices(number);
        if (Total.of(lines, rates.taxes(ticket), rates.currency()).belowZero()) {
            throw Refused.because("More is taken off than there is. An estimate comes to 0 at least.");
        }
        int issue = jdbc.sql("select coalesce(max(issue), 0) + 1 from estimate where ticket_number = ?")
                .param(number.value())
                .query(Integer.class)
                .single();
        Estimate written = rows.saveAndFlush(
                new Estimate(number.value(), issue, clock.instant(), people.me().name(), note, lines));
        EstimateView view = get(written.id());
        journal.note(
                "estimate written",
                number.value(),
                "Estimate %d of ticket %s over %s."
                        .formatted(issue, number, view.total().gross()),
                Map.of("estimate", written.id(), "total", view.total().gross().text()));
        return view;
    }

    /** Puts it to the customer: now it is the customer's move. */
    public EstimateView offer(long id, String how) {
        Estimate estimate = rows.findById(id).orElseThrow(() -> NotFound.of("estimate"));
        if (!get(id).latest()) {
            throw Refused.because("A newer estimate was written since. Offer that one.");
        }
        if (!estimate.offered() && !get(id).asks()) {
            throw Refused.because("All of it is agreed already; there is nothing to ask.");
        }
        if (!estimate.offered()) {
            estimate.offer(clock.instant(), people.me().name(), how);
            rows.saveAndFlush(estimate);
            tickets.stamp(
                    new TicketNumber(estimate.ticketNumber()),
                    TicketStamp.OFFERED,
                    "estimate of %s, %s".formatted(get(id).total().gross().text(), how));
            keepPaper(id);
        }
        return get(id);
    }

    @OnlyReads
    public EstimateView get(long id) {
        return jdbc.sql("select ticket_number from estimate where id = ?")
                .param(id)
                .query(Integer.class)
                .optional()
                .flatMap(number -> of(new TicketNumber(number)).stream()
                        .filter(estimate -> estimate.id() == id)
                        .findFirst())
                .orElseThrow(() -> NotFound.of("estimate"));
    }

    /** Every issue of a ticket's estimate, the newest first. */
    @OnlyReads
    public List<EstimateView> of(TicketNumber number) {
        return reads.of(number).estimates();
    }

    @OnlyReads
    public Optional<EstimateView> latest(TicketNumber number) {
        return of(number).stream().filter(EstimateView::latest).findFirst();
    }

    /** The estimate group by group as a stranger understands it: the words, the cause, the readings, what is new. */
    @OnlyReads
    public List<Told> told(EstimateView estimate) {
        TicketView ticket = tickets.get(estimate.ticket());
        List<Knot> tests = Strand.told(strands.orderedStream(), estimate.ticket(), Set.of(Chapter.TEST))
                .filter(knot -> !knot.open() && knot.chapter() == Chapter.TEST)
                .toList();
        return estimate.groups().stream()
                .map(group -> {
                    var changes = estimate.changes().stream()
                            .filter(change -> change.place() == group.place())
                            .toList();
                    if (group.place() == 0) {
                        return new Told(group, "The visit", null, null, List.of(), changes);
                    }
                    var symptom = ticket.symptom(group.place());
                    return new Told(
                            group,
                            symptom.kindName(),
                            symptom.words(),
                            symptom.found(),
                            readings(tests, group),
                            changes);
                })
                .toList();
    }

    /** What was found wrong, in plain sentences; where nothing was, all that was read. */
    private static List<String> readings(List<Knot> tests, EstimateView.Group group) {
        List<Knot.Figure> before = tests.stream()
                .filter(knot -> knot.place() == group.place())
                .flatMap(knot -> knot.figures().stream())
                .filter(figure -> !figure.after())
                .toList();
        List<Knot.Figure> wrong = before.stream()
                .filter(figure -> !figure.verdict().startsWith("within")
                        && !figure.verdict().startsWith("in order"))
                .toList();
        var said = new ArrayList<String>();
        for (Knot.Figure figure : wrong.isEmpty() ? before : wrong) {
            // What was chosen from a list says itself what is wrong; a number does not.
            String held = figure.verdict().endsWith("in order") ? "" : ", " + figure.verdict();
            String ground = held.isEmpty() || figure.ground().isEmpty() ? "" : " (" + figure.ground() + ")";
            said.add(figure.label() + ": " + figure.shown() + held + ground);
        }
        int fine = before.size() - wrong.size();
        if (!wrong.isEmpty() && fine > 0) {
            said.add(fine == 1 ? "One other reading is in order." : fine + " other readings are in order.");
        }
        return said;
    }

    /**
     * The estimate as paper: drawn anew until it is put to the customer, the same bytes from then on. What was put to the
     * customer before papers were kept is kept when it is first asked for.
     */
    public byte[] pdf(long id) {
        return kept(id).orElseGet(() -> {
            if (!rows.findById(id).orElseThrow(() -> NotFound.of("estimate")).offered()) {
                return drawn(id);
            }
            keepPaper(id);
            return kept(id).orElseThrow();
        });
    }

    private Optional<byte[]> kept(long id) {
        return jdbc.sql("select pdf from estimate_paper where estimate_id = ?")
                .param(id)
                .query((r, n) -> r.getBytes(1))
                .optional();
    }

    private byte[] drawn(long id) {
        return paper.pdf("billing/paper-estimate", model(get(id)), List.of());
    }

    private void keepPaper(long id) {
        byte[] pdf = drawn(id);
        jdbc.sql("insert into estimate_paper (estimate_id, pdf, sha256, at) values (?, ?, ?, ?) on conflict do nothing")
                .params(id, pdf, Seal.sha256(pdf), Timestamp.from(clock.instant()))
                .update();
    }

    /** What a template needs to show one estimate. */
    @OnlyReads
    public Map<String, Object> model(EstimateView estimate) {
        var model = new LinkedHashMap<String, Object>();
        model.put("estimate", estimate);
        model.put("told", told(estimate));
        TicketView ticket = tickets.get(estimate.ticket());
        model.put("ticket", ticket);
        model.put("card", rates.card());
        model.put("taxes", rates.taxes(ticket));
        model.put("consent", consents.terms().words());
        model.put("shop", shops.shop());
        model.put("sheet", shops.sheet());
        model.put("author", shops.shop().name());
        return model;
    }
}
