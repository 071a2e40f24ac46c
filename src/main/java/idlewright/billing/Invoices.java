package idlewright.billing;

import idlewright.billing.rules.Line;
import idlewright.billing.rules.Remainder;
import idlewright.billing.rules.Taxes;
import idlewright.billing.rules.Total;
import idlewright.frame.OnlyReads;
import idlewright.frame.Paper;
import idlewright.frame.Paper.Attachment;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.intake.Letters;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.TicketStamp;
import idlewright.journal.rules.Seal;
import idlewright.people.People;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import java.time.Clock;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The front door for invoices: numbers without gaps, frozen words, kept paper. */
@Component
@Transactional
public class Invoices {

    /** One line of the list of invoices. */
    public record InvoiceLine(
            String number,
            TicketNumber ticket,
            String customer,
            LocalDate issued,
            LocalDate due,
            Money total,
            Money owed,
            String state) {}

    /** An invoice or a credit note has got its number. */
    record Issued(String number) {}

    private final Tickets tickets;
    private final MoneyReads reads;
    private final Charges charges;
    private final Rates rates;
    private final InvoiceRows rows;
    private final InvoiceStory story;
    private final InvoiceBesides besides;
    private final EInvoices eInvoices;
    private final InvoiceTerms invoiceTerms;
    private final People people;
    private final Shops shops;
    private final Letters letters;
    private final Paper paper;
    private final JdbcClient jdbc;
    private final Clock clock;
    private final Times times;
    private final Credits credits;
    private final Remainders remainders;
    private final ApplicationEventPublisher events;

    Invoices(
            Tickets tickets,
            MoneyReads reads,
            Charges charges,
            Rates rates,
            InvoiceRows rows,
            InvoiceStory story,
            InvoiceBesides besides,
            EInvoices eInvoices,
            InvoiceTerms invoiceTerms,
            People people,
            Shops shops,
            Letters letters,
            Paper paper,
            JdbcClient jdbc,
            Clock clock,
            Times times,
            Credits credits,
            Remainders remainders,
            ApplicationEventPublisher events) {
        this.rows = rows;
        this.story = story;
        this.events = events;
        this.reads = reads;
        this.credits = credits;
        this.remainders = remainders;
        this.tickets = tickets;
        this.charges = charges;
        this.rates = rates;
        this.besides = besides;
        this.eInvoices = eInvoices;
        this.invoiceTerms = invoiceTerms;
        this.people = people;
        this.shops = shops;
        this.letters = letters;
        this.paper = paper;
        this.jdbc = jdbc;
        this.clock = clock;
        this.times = times;
    }

    /** What the invoice would say if it were issued now; it has no number yet. */
    @OnlyReads
    public InvoiceView draft(TicketNumber number) {
        TicketView ticket = tickets.get(number);
        List<Line> lines = charges.lines(number);
        Taxes taxes = rates.taxes(number);
        Total total = Total.of(lines, taxes, rates.currency());
        return view(
                ticket,
                total,
                InvoiceStory.parts(InvoiceStory.headings(ticket), story.of(number), lines, rates.currency()),
                terms(taxes, smaller(credits.heldFor(number), total.gross())));
    }

    /** Issues the invoice of a ticket: from here on nothing in it changes. */
    public InvoiceView issue(TicketNumber number) {
        tickets.takeTurns(number);
        TicketView ticket = tickets.get(number);
        if (ticket.has(TicketStamp.BILLED)) {
            throw Refused.because("The invoice of ticket %s is issued already.".formatted(number));
        }
        List<Line> lines = charges.lines(number);
        if (lines.isEmpty()) {
            throw Refused.because("There is nothing to invoice yet: no work and no part is charged.");
        }
        for (var symptom : ticket.symptoms()) {
            if (!symptom.ended()) {
                throw Refused.because("“%s” is still open. Prove it, or end it without a repair and say why."
                        .formatted(symptom.words()));
            }
        }
        var cover = charges.cover(number, lines);
        if (!cover.covers()) {
            throw Refused.because(
                    charges.uncharged(number).stream()
                                    .anyMatch(w -> w.line().kind().deduction())
                            ? cover.whyNot() + " Or charge first what the estimate takes off."
                            : cover.whyNot());
        }
        Taxes taxes = rates.taxes(number);
        Total total = Total.of(lines, taxes, rates.currency());
        tickets.stamp(number, TicketStamp.BILLED, total.gross().text());
        InvoiceView issued = keep(ticket, lines, taxes, total);
        if (!issued.owed().isPositive()) {
            tickets.stamp(
                    number,
                    TicketStamp.PAID,
                    total.gross().isPositive()
                            ? issued.terms().deposit().text() + " from the deposit"
                            : "nothing is owed");
        }
        return issued;
    }

    /** Takes back all that is left of an invoice, with a number of its own. */
    public InvoiceView credit(String number, String reason) {
        return credit(number, reason, Remainder::rest);
    }

    /** Takes back some of an invoice: lines, quantities or amounts of them; never more than is left. */
    public InvoiceView credit(String number, String reason, List<Remainder.Wish> wishes) {
        return credit(number, reason, left -> {
            if (wishes.isEmpty()) {
                throw Refused.at(
                        "all-" + left.open().get(0).nr(), "Choose what is credited: a line, or a part of one.");
            }
            Refused.ifAny(left.wrong(wishes));
            return left.take(wishes);
        });
    }

    private InvoiceView credit(String number, String reason, Function<Remainder, Remainder.Note> chosen) {
        credits.lockInvoice(number);
        InvoiceView invoice = get(number);
        if (reason.isBlank()) {
            throw Refused.at("reason", "Say why it is taken back.");
        }
        Remainder left = remainders.of(number);
        if (invoice.creditNote() || (!invoice.creditedBy().isEmpty() && left.nothingLeft())) {
            throw Refused.because("This paper is credited already.");
        }
        Remainder.Note taken = chosen.apply(left);
        var terms = invoice.terms();
        long customer = tickets.get(invoice.ticket()).customer().id();
        String note = rows.give(
                invoice.ticket(),
                taken.total().negate(),
                new InvoiceView.Terms(
                        terms.taxName(),
                        terms.prices(),
                        terms.rounding(),
                        terms.exemption(),
                        terms.seller(),
                        terms.foot(),
                        Money.zero(invoice.total().currency())),
                new InvoiceRows.Whom(
                        customer, invoice.customer(), invoice.address(), invoice.vehicle(), invoice.distance()),
                number,
                reason);
        for (var piece : taken.pieces()) {
            Line line = piece.line();
            rows.line(note, piece.nr(), line, line.each().negate(), piece.rate());
        }
        Money owed = invoice.owed();
        InvoiceView after = get(number);
        credits.takeBack(after, customer);
        if (owed.isPositive() && !after.owed().isPositive() && !after.creditedInFull()) {
            tickets.stamp(invoice.ticket(), TicketStamp.PAID, "the rest was credited");
        }
        besides.freeze(note, besides.now(invoice.ticket()));
        return print(note);
    }

    /** What is left to credit of an invoice. */
    @OnlyReads
    public Remainder left(String number) {
        return remainders.of(number);
    }

    private InvoiceView keep(TicketView ticket, List<Line> lines, Taxes taxes, Total total) {
        TicketNumber ticketNumber = ticket.number();
        credits.lock(ticket.customer().id());
        Money deposit = smaller(credits.heldFor(ticketNumber), total.gross());
        // All that has to be read is read before the number is given: from then on other terminals wait.
        var told = story.of(ticketNumber);
        var beside = besides.now(ticketNumber);
        var promises = invoiceTerms.now(ticketNumber);
        String number = rows.give(ticketNumber, total, terms(taxes, deposit), InvoiceRows.Whom.of(ticket), null, null);
        int nr = 0;
        for (Line line : lines) {
            rows.line(number, ++nr, line, line.each(), taxes.listed(line.kind()));
        }
        rows.story(number, told);
        if (deposit.isPositive()) {
            credits.takeOff(ticket, number, deposit);
        }
        besides.freeze(number, beside);
        invoiceTerms.freeze(number, promises);
        return print(number);
    }

    private InvoiceView.Terms terms(Taxes taxes, Money deposit) {
        var shop = shops.shop();
        return new InvoiceView.Terms(
                taxes.name(),
                taxes.prices(),
                taxes.rounding(),
                taxes.exemption(),
                new InvoiceView.Seller(shop.name(), shop.address(), shop.phone(), shop.taxNumber()),
                rates.card().foot(),
                deposit);
    }

    private static Money smaller(Money one, Money other) {
        return one.isMoreThan(other) ? other : one;
    }

    /** Keeps the electronic invoice of what was just issued; its paper is drawn once the number is no longer held. */
    private InvoiceView print(String number) {
        InvoiceView view = get(number);
        eInvoices.keep(view);
        events.publishEvent(new Issued(number));
        return view;
    }

    @OnlyReads
    public InvoiceView get(String number) {
        return rows.get(number);
    }

    /** The latest invoices and credit notes, a page at a time; before is the number the last page ended with. */
    @OnlyReads
    public List<InvoiceLine> latest(@Nullable String before, int limit) {
        return rows.latest(before, limit);
    }

    /** The paper of what is issued: drawn of its frozen rows by whoever comes first, and the same bytes from then on. */
    public byte[] pdf(String number) {
        return printed(number).orElseGet(() -> {
            jdbc.sql("select pg_advisory_xact_lock(hashtextextended('paper ' || ?, 0))")
                    .param(number)
                    .query((r, n) -> 0)
                    .single();
            return printed(number).orElseGet(() -> draw(number));
        });
    }

    private Optional<byte[]> printed(String number) {
        return jdbc.sql("select pdf from invoice_paper where invoice_number = ?")
                .param(number)
                .query((r, n) -> r.getBytes(1))
                .optional();
    }

    private byte[] draw(String number) {
        byte[] pdf = paper.pdf(
                "billing/paper",
                model(get(number)),
                eInvoices.kept(number).map(Attachment::eInvoice).stream().toList());
        jdbc.sql("insert into invoice_paper (invoice_number, pdf, sha256) values (?, ?, ?)")
                .params(number, pdf, Seal.sha256(pdf))
                .update();
        return pdf;
    }

    /** Issued, with a paper that nobody drew yet: the app was stopped in between. */
    @OnlyReads
    public List<String> unprinted() {
        return jdbc.sql("""
                select i.number from invoice i
                where not exists (select from invoice_paper p where p.invoice_number = i.number) order by i.issued_at""").query(String.class).list();
    }

    /** Mails the paper to the customer of its ticket. */
    public void mail(String number) {
        InvoiceView invoice = get(number);
        TicketView ticket = tickets.get(invoice.ticket());
        String kind = invoice.creditNote() ? "credit note" : "invoice";
        String shop = shops.shop().name();
        letters.write(
                ticket.customer(),
                invoice.ticket(),
                "%s %s".formatted(kind, number),
                "%s: %s %s".formatted(shop, kind, number),
                """
                Here is our %s %s for your %s over %s. It is in the enclosed file.

                %s%s
                """.formatted(
                                kind,
                                number,
                                ticket.vehicle().name(),
                                invoice.total(),
                                shop,
                                shops.shop().phone().isEmpty()
                                        ? ""
                                        : "\n" + shops.shop().phone()),
                new Letters.Enclosure(number + ".pdf", pdf(number)));
    }

    @OnlyReads
    public Optional<InvoiceView> of(TicketNumber number) {
        return head(number).map(invoice -> get(invoice.number()));
    }

    /** A ticket's invoice as it stands, without its lines and its story. */
    @OnlyReads
    public Optional<InvoiceView> head(TicketNumber number) {
        return reads.of(number).invoice();
    }

    /** What a template needs to show one paper. */
    @OnlyReads
    public Map<String, Object> model(InvoiceView view) {
        var model = new LinkedHashMap<String, Object>();
        model.put("invoice", view);
        model.put("readings", BeforeAfter.of(view.parts()));
        model.put("besides", besides.of(view));
        model.put("shop", shops.shop());
        model.put("promises", invoiceTerms.of(view));
        model.put("sheet", shops.sheet());
        model.put("author", shops.shop().name());
        return model;
    }

    private InvoiceView view(TicketView ticket, Total total, List<InvoiceView.Part> parts, InvoiceView.Terms terms) {
        var whom = InvoiceRows.Whom.of(ticket);
        return new InvoiceView(
                "draft",
                ticket.number(),
                null,
                List.of(),
                false,
                null,
                clock.instant(),
                people.me().name(),
                times.today().plusDays(rates.card().dueDays()),
                total.net(),
                total.taxes().stream()
                        .map(part -> new InvoiceView.TaxLine(part.rate(), part.net(), part.tax(), part.leftOff()))
                        .toList(),
                total.tax(),
                total.gross(),
                terms.deposit(),
                whom.customer(),
                whom.address(),
                whom.vehicle(),
                whom.distance(),
                "",
                terms,
                parts);
    }
}
