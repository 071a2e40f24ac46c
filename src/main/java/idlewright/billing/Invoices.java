package idlewright.billing;

import idlewright.billing.rules.Exemption;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.billing.rules.Prices;
import idlewright.billing.rules.Remainder;
import idlewright.billing.rules.Rounding;
import idlewright.billing.rules.Taxes;
import idlewright.billing.rules.Total;
import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Paper;
import idlewright.frame.Paper.Attachment;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.frame.Together;
import idlewright.frame.Tuple;
import idlewright.intake.Chapter;
import idlewright.intake.Knot;
import idlewright.intake.Letters;
import idlewright.intake.Strand;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.TicketStamp;
import idlewright.journal.Journal;
import idlewright.journal.rules.Seal;
import idlewright.people.People;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.math.BigDecimal;
import java.sql.Date;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Currency;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;
import tools.jackson.core.type.TypeReference;
import tools.jackson.databind.json.JsonMapper;

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
    private final Together together;
    private final Charges charges;
    private final Rates rates;
    private final List<Strand> strands;
    private final InvoiceBesides besides;
    private final EInvoices eInvoices;
    private final InvoiceTerms invoiceTerms;
    private final People people;
    private final Shops shops;
    private final Letters letters;
    private final Journal journal;
    private final Paper paper;
    private final JdbcClient jdbc;
    private final Clock clock;
    private final Times times;
    private final Credits credits;
    private final Remainders remainders;
    private final DayCloses days;
    private final ApplicationEventPublisher events;
    private final JsonMapper json = JsonMapper.builder().build();

    Invoices(
            Tickets tickets,
            MoneyReads reads,
            Together together,
            Charges charges,
            Rates rates,
            List<Strand> strands,
            InvoiceBesides besides,
            EInvoices eInvoices,
            InvoiceTerms invoiceTerms,
            People people,
            Shops shops,
            Letters letters,
            Journal journal,
            Paper paper,
            JdbcClient jdbc,
            Clock clock,
            Times times,
            Credits credits,
            Remainders remainders,
            DayCloses days,
            ApplicationEventPublisher events) {
        this.events = events;
        this.reads = reads;
        this.together = together;
        this.credits = credits;
        this.remainders = remainders;
        this.days = days;
        this.tickets = tickets;
        this.charges = charges;
        this.rates = rates;
        this.strands = strands;
        this.besides = besides;
        this.eInvoices = eInvoices;
        this.invoiceTerms = invoiceTerms;
        this.people = people;
        this.shops = shops;
        this.letters = letters;
        this.journal = journal;
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
        var story = story(number);
        Total total = Total.of(lines, rates.taxes(ticket.number()), rates.currency());
        return view(
                ticket,
                total,
                parts(headings(ticket), story, lines, rates.currency()),
                smaller(credits.heldFor(number), total.gross()));
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
        var cover = charges.cover(number);
        if (!cover.covers()) {
            throw Refused.because(
                    charges.uncharged(number).stream()
                                    .anyMatch(w -> w.line().kind().deduction())
                            ? cover.whyNot() + " Or charge first what the estimate takes off."
                            : cover.whyNot());
        }
        Total total = Total.of(lines, rates.taxes(ticket.number()), rates.currency());
        var story = story(number);
        tickets.stamp(number, TicketStamp.BILLED, total.gross().text());
        InvoiceView issued = keep(ticket, lines, total, story);
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
        String note = insert(
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
                new Whom(customer, invoice.customer(), invoice.address(), invoice.vehicle(), invoice.distance()),
                number,
                reason);
        for (var piece : taken.pieces()) {
            Line line = piece.line();
            insertLine(note, piece.nr(), line, line.each().negate(), piece.rate());
        }
        Money owed = invoice.owed();
        InvoiceView after = get(number);
        credits.takeBack(after, customer);
        if (owed.isPositive() && !after.owed().isPositive() && !after.creditedInFull()) {
            tickets.stamp(invoice.ticket(), TicketStamp.PAID, "the rest was credited");
        }
        besides.freeze(note, invoice.ticket());
        return print(note);
    }

    /** What is left to credit of an invoice. */
    @OnlyReads
    public Remainder left(String number) {
        return remainders.of(number);
    }

    private void insertLine(String number, int nr, Line line, Money each, TaxRate rate) {
        jdbc.sql("""
                insert into invoice_line (invoice_number, nr, place, kind, what, quantity, each, net, tax_percent, part_number)
                values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)""")
                .param(number)
                .param(nr)
                .param(line.place())
                .param(line.kind().name())
                .param(line.what())
                .param(line.quantity())
                .param(each.amount())
                .param(each.times(line.quantity()).amount())
                .param(rate.percent())
                .param(line.partNumber())
                .update();
    }

    private InvoiceView keep(TicketView ticket, List<Line> lines, Total total, List<Placed> story) {
        TicketNumber ticketNumber = ticket.number();
        var taxes = rates.taxes(ticket.number());
        credits.lock(ticket.customer().id());
        Money deposit = smaller(credits.heldFor(ticketNumber), total.gross());
        String number = insert(ticketNumber, total, terms(taxes, deposit), Whom.of(ticket), null, null);
        int nr = 0;
        for (Line line : lines) {
            insertLine(number, ++nr, line, line.each(), taxes.listed(line.kind()));
        }
        nr = 0;
        for (Placed told : story) {
            jdbc.sql("""
                    insert into invoice_story (invoice_number, nr, place, chapter, title, said, figures)
                    values (?, ?, ?, ?, ?, ?, ?::jsonb)""")
                    .params(
                            number,
                            ++nr,
                            told.place(),
                            told.told().chapter(),
                            told.told().title(),
                            told.told().said(),
                            json.writeValueAsString(told.told().figures()))
                    .update();
        }
        if (deposit.isPositive()) {
            credits.takeOff(ticket, number, deposit);
        }
        besides.freeze(number, ticketNumber);
        invoiceTerms.freeze(number, ticketNumber);
        return print(number);
    }

    /** To whom, and about which car. */
    private record Whom(
            long id,
            String customer,
            @Nullable String address,
            String vehicle,
            @Nullable String distance) {

        static Whom of(TicketView ticket) {
            return new Whom(
                    ticket.customer().id(),
                    ticket.customer().name(),
                    ticket.customer().address(),
                    vehicleWords(ticket),
                    ticket.distanceIn() == null ? null : ticket.distanceIn().words());
        }
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

    /** Gives the next number to the head of an invoice or credit note, with its tax. */
    private String insert(
            TicketNumber ticket,
            Total total,
            InvoiceView.Terms terms,
            Whom whom,
            @Nullable String credits,
            @Nullable String reason) {
        Rates.Card card = rates.card();
        LocalDate due = times.today().plusDays(card.dueDays());
        LocalDate booked = days.bookingDay();
        journal.note(
                credits == null ? "invoice issued" : "credit note issued",
                ticket.value(),
                "%s over %s.".formatted(credits == null ? "An invoice" : "A credit note for " + credits, total.gross()),
                Map.of("total", total.gross().text(), "tax", total.tax().text()));
        String head = journal.head();
        // The counter row is locked as late as possible and until the commit: numbers have no gaps and no doubles.
        int sequence = jdbc.sql("""
                insert into invoice_counter (series, value) values (?, 1)
                on conflict (series) do update set value = invoice_counter.value + 1 returning value""").param(card.series()).query(Integer.class).single();
        String number = "%s-%05d".formatted(card.series(), sequence);
        var exemption = terms.exemption();
        jdbc.sql("""
                insert into invoice (number, series, sequence, ticket_number, credits, reason, issued_at, issued_by, due, currency,
                    net, tax, total, customer, address, vehicle, distance, journal_head, tax_name, prices, rounding,
                    exempt_number, exempt_reason, seller_name, seller_address, seller_phone, seller_tax_number, foot, deposit, booked, customer_id)
                values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)""")
                .param(number)
                .param(card.series())
                .param(sequence)
                .param(ticket.value())
                .param(credits)
                .param(reason)
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .param(Date.valueOf(due))
                .param(total.net().currency().getCurrencyCode())
                .param(total.net().amount())
                .param(total.tax().amount())
                .param(total.gross().amount())
                .param(whom.customer())
                .param(whom.address())
                .param(whom.vehicle())
                .param(whom.distance())
                .param(head)
                .param(terms.taxName())
                .param(terms.prices().name())
                .param(terms.rounding().name())
                .param(exemption == null ? null : exemption.number())
                .param(exemption == null ? null : exemption.reason())
                .param(terms.seller().name())
                .param(terms.seller().address())
                .param(terms.seller().phone())
                .param(terms.seller().taxNumber())
                .param(terms.foot())
                .param(terms.deposit().amount())
                .param(booked)
                .param(whom.id())
                .update();
        for (Total.Part part : total.taxes()) {
            jdbc.sql("insert into invoice_tax (invoice_number, percent, net, tax, left_off) values (?, ?, ?, ?, ?)")
                    .params(
                            number,
                            part.rate().percent(),
                            part.net().amount(),
                            part.tax().amount(),
                            part.leftOff().amount())
                    .update();
        }
        return number;
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
        Tuple found = together.read(Map.of("number", number), WHOLE).get(0).stream()
                .findFirst()
                .orElseThrow(() -> NotFound.of("invoice " + number));
        InvoiceView row = head(found);
        var currency = row.total().currency();
        var lines = found.getRows("lines").stream()
                .map(r -> new Line(
                        r.getInt("place"),
                        LineKind.valueOf(r.getString("kind")),
                        r.getString("what"),
                        r.getBigDecimal("quantity"),
                        new Money(r.getBigDecimal("each"), currency),
                        r.getString("part_number")))
                .toList();
        var story = found.getRows("story").stream()
                .map(r -> new Placed(
                        r.getInt("place"),
                        new InvoiceView.Told(
                                r.getString("chapter"),
                                r.getString("title"),
                                r.getString("said"),
                                json.readValue(r.getString("figures"), new TypeReference<List<Knot.Figure>>() {}))))
                .toList();
        var headings = new TreeMap<Integer, String>();
        tickets.get(row.ticket()).symptoms().forEach(symptom -> headings.put(symptom.place(), symptom.kindName()));
        return new InvoiceView(
                row.number(),
                row.ticket(),
                row.credits(),
                row.creditedBy(),
                row.whole(),
                row.reason(),
                row.issuedAt(),
                row.issuedBy(),
                row.due(),
                row.net(),
                found.getRows("taxes").stream()
                        .map(r -> new InvoiceView.TaxLine(
                                new TaxRate(r.getBigDecimal("percent")),
                                new Money(r.getBigDecimal("net"), currency),
                                new Money(r.getBigDecimal("tax"), currency),
                                new Money(r.getBigDecimal("left_off"), currency)))
                        .toList(),
                row.tax(),
                row.total(),
                row.paid(),
                row.customer(),
                row.address(),
                row.vehicle(),
                row.distance(),
                row.journalHead(),
                row.terms(),
                parts(headings, story, lines, currency));
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

    private static final String HEADS = """
            select i.*,
                   (select json_agg(c order by c.issued_at, c.sequence) from (
                        select n.number, n.sequence, n.total, n.reason, n.issued_at from invoice n where n.credits = i.number) c) credited_by,
                   i.credits is not null and not exists (select from invoice_line o where o.invoice_number = i.credits
                        and not exists (select from invoice_line n where n.invoice_number = i.number and n.nr = o.nr and n.net = -o.net)) whole,
                   (select coalesce(sum(p.amount), 0) from payment p where p.invoice_number = i.number) paid
            from invoice i\s""";

    private static final String WHOLE = """
            select h.*,
                   (select json_agg(l order by l.nr) from invoice_line l where l.invoice_number = h.number) lines,
                   (select json_agg(s order by s.nr) from invoice_story s where s.invoice_number = h.number) story,
                   (select json_agg(t order by t.percent) from invoice_tax t where t.invoice_number = h.number) taxes
            from (%s) h where h.number = :number""".formatted(HEADS);

    /** A ticket's invoice; read by {@link #head(Tuple)}. */
    static final String OF_TICKET = HEADS + "where i.ticket_number = :ticket and i.credits is null";

    /** The latest invoices and credit notes, a page at a time; before is the number the last page ended with. */
    @OnlyReads
    public List<InvoiceLine> latest(@Nullable String before, int limit) {
        var currency = rates.currency();
        return jdbc.sql("""
                select i.number, i.ticket_number, i.customer, i.issued_at, i.due, i.total, i.credits,
                       (select -sum(c.total) from invoice c where c.credits = i.number) credited,
                       (select coalesce(sum(p.amount), 0) from payment p where p.invoice_number = i.number) paid
                from invoice i
                where :before::text is null or (i.issued_at, i.number) < (select b.issued_at, b.number from invoice b where b.number = :before)
                order by i.issued_at desc, i.number desc limit :limit""")
                .param("before", before)
                .param("limit", limit)
                .query((r, n) -> {
                    Money total = Money.rounded(r.getBigDecimal("total"), currency);
                    Money paid = Money.rounded(r.getBigDecimal("paid"), currency);
                    boolean note = r.getString("credits") != null;
                    BigDecimal credited = r.getBigDecimal("credited");
                    Money left = credited == null ? total : total.minus(Money.rounded(credited, currency));
                    Money owed = note || left.isZero() ? Money.zero(currency) : left.minus(paid);
                    String state = note ? "credit note" : InvoiceView.state(credited != null, left, paid, owed);
                    return new InvoiceLine(
                            r.getString("number"),
                            new TicketNumber(r.getInt("ticket_number")),
                            r.getString("customer"),
                            LocalDate.ofInstant(r.getTimestamp("issued_at").toInstant(), times.zone()),
                            r.getObject("due", LocalDate.class),
                            total,
                            owed,
                            state);
                })
                .list();
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

    private static final Set<Chapter> TOLD =
            EnumSet.of(Chapter.COMPLAINT, Chapter.TEST, Chapter.CAUSE, Chapter.CORRECTION, Chapter.PROOF);

    private record Placed(int place, InvoiceView.Told told) {}

    /** What is told on paper: complaint, cause, correction and proof in words, the tests by their readings. */
    private List<Placed> story(TicketNumber number) {
        return Strand.told(strands.stream(), number, TOLD)
                .filter(knot -> !knot.open() && knot.place() > 0)
                .flatMap(knot -> told(knot).map(told -> new Placed(knot.place(), told)).stream())
                .toList();
    }

    private static Optional<InvoiceView.Told> told(Knot knot) {
        String chapter = knot.chapter().name();
        if (!knot.figures().isEmpty()) {
            return Optional.of(new InvoiceView.Told(chapter, knot.title(), "", knot.figures()));
        }
        return switch (knot.chapter()) {
            // The circumstances of a complaint stay on the ticket; its words are enough for paper.
            case COMPLAINT -> Optional.of(new InvoiceView.Told(chapter, knot.title(), "", List.of()));
            case CAUSE, CORRECTION, PROOF ->
                knot.paper() == null
                        ? Optional.of(new InvoiceView.Told(chapter, knot.title(), knot.said(), List.of()))
                        : Optional.of(knot.paper())
                                .filter(words -> !words.isBlank())
                                .map(words -> new InvoiceView.Told(chapter, "", words, List.of()));
            case TEST, AGREEMENT, AFTER -> Optional.empty();
        };
    }

    private static Map<Integer, String> headings(TicketView ticket) {
        var headings = new TreeMap<Integer, String>();
        ticket.symptoms().forEach(symptom -> headings.put(symptom.place(), symptom.kindName()));
        return headings;
    }

    private static List<InvoiceView.Part> parts(
            Map<Integer, String> headings, List<Placed> story, List<Line> lines, Currency currency) {
        var places = new java.util.TreeSet<Integer>(headings.keySet());
        lines.forEach(line -> places.add(line.place()));
        var parts = new ArrayList<InvoiceView.Part>();
        for (int place : places) {
            var its = lines.stream().filter(line -> line.place() == place).toList();
            var told = story.stream()
                    .filter(placed -> placed.place() == place)
                    .map(Placed::told)
                    .toList();
            if (its.isEmpty() && told.isEmpty()) {
                continue;
            }
            parts.add(new InvoiceView.Part(
                    place,
                    headings.getOrDefault(place, "The visit"),
                    told,
                    its,
                    Money.sum(its.stream().map(Line::net).toList(), currency)));
        }
        return parts;
    }

    private InvoiceView view(TicketView ticket, Total total, List<InvoiceView.Part> parts, Money deposit) {
        Whom whom = Whom.of(ticket);
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
                deposit,
                whom.customer(),
                whom.address(),
                whom.vehicle(),
                whom.distance(),
                "",
                terms(rates.taxes(ticket.number()), deposit),
                parts);
    }

    static InvoiceView head(Tuple r) {
        var currency = Currency.getInstance(r.getString("currency"));
        return new InvoiceView(
                r.getString("number"),
                new TicketNumber(r.getInt("ticket_number")),
                r.getString("credits"),
                r.getRows("credited_by").stream()
                        .map(c -> new InvoiceView.CreditNote(
                                c.getString("number"),
                                Money.rounded(c.getBigDecimal("total"), currency)
                                        .negate(),
                                Objects.requireNonNullElse(c.getString("reason"), ""),
                                c.getInstant("issued_at")))
                        .toList(),
                r.getBoolean("whole"),
                r.getString("reason"),
                r.getInstant("issued_at"),
                r.getString("issued_by"),
                r.getDate("due"),
                new Money(r.getBigDecimal("net"), currency),
                List.of(),
                new Money(r.getBigDecimal("tax"), currency),
                new Money(r.getBigDecimal("total"), currency),
                new Money(r.getBigDecimal("paid"), currency),
                r.getString("customer"),
                r.getString("address"),
                r.getString("vehicle"),
                r.getString("distance"),
                r.getString("journal_head"),
                new InvoiceView.Terms(
                        r.getString("tax_name"),
                        Prices.valueOf(r.getString("prices")),
                        Rounding.valueOf(r.getString("rounding")),
                        r.getString("exempt_number") == null
                                ? null
                                : new Exemption(r.getString("exempt_number"), r.getString("exempt_reason")),
                        new InvoiceView.Seller(
                                r.getString("seller_name"),
                                r.getString("seller_address"),
                                r.getString("seller_phone"),
                                r.getString("seller_tax_number")),
                        r.getString("foot"),
                        new Money(r.getBigDecimal("deposit"), currency)),
                List.of());
    }

    private static String vehicleWords(TicketView ticket) {
        var vehicle = ticket.vehicle();
        return vehicle.name()
                + (vehicle.modelYear() == null ? "" : " " + vehicle.modelYear())
                + (vehicle.plate() == null ? "" : ", " + vehicle.plate())
                + (vehicle.vin() == null ? "" : ", VIN " + vehicle.vin());
    }
}
