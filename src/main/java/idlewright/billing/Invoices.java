package idlewright.billing;

import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.billing.rules.Total;
import idlewright.frame.NotFound;
import idlewright.frame.Paper;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.intake.Knot;
import idlewright.intake.Strand;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.TicketStamp;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.sql.Date;
import java.sql.ResultSet;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
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

    private final Tickets tickets;
    private final Charges charges;
    private final Rates rates;
    private final List<Strand> strands;
    private final InvoiceBesides besides;
    private final People people;
    private final Shops shops;
    private final Journal journal;
    private final Paper paper;
    private final JdbcClient jdbc;
    private final Clock clock;
    private final Times times;
    private final JsonMapper json = JsonMapper.builder().build();

    Invoices(
            Tickets tickets,
            Charges charges,
            Rates rates,
            List<Strand> strands,
            InvoiceBesides besides,
            People people,
            Shops shops,
            Journal journal,
            Paper paper,
            JdbcClient jdbc,
            Clock clock,
            Times times) {
        this.tickets = tickets;
        this.charges = charges;
        this.rates = rates;
        this.strands = strands;
        this.besides = besides;
        this.people = people;
        this.shops = shops;
        this.journal = journal;
        this.paper = paper;
        this.jdbc = jdbc;
        this.clock = clock;
        this.times = times;
    }

    /** What the invoice would say if it were issued now; it has no number yet. */
    @Transactional(readOnly = true)
    public InvoiceView draft(TicketNumber number) {
        TicketView ticket = tickets.get(number);
        List<Line> lines = charges.lines(number);
        var story = story(number);
        Total total = Total.of(lines, rates.taxes(), rates.currency());
        return view(
                "draft",
                ticket,
                null,
                null,
                total,
                parts(headings(ticket), story, lines),
                Money.zero(rates.currency()));
    }

    /** Issues the invoice of a ticket: from here on nothing in it changes. */
    public InvoiceView issue(TicketNumber number) {
        TicketView ticket = tickets.get(number);
        jdbc.sql("select number from ticket where number = ? for update")
                .param(number.value())
                .query(Integer.class)
                .single();
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
        Total total = Total.of(lines, rates.taxes(), rates.currency());
        var story = story(number);
        tickets.stamp(number, TicketStamp.BILLED, total.gross().text());
        InvoiceView issued = keep(ticket, lines, total, story, null, null);
        if (!total.gross().isPositive()) {
            tickets.stamp(number, TicketStamp.PAID, "nothing is owed");
        }
        return issued;
    }

    /** Takes an invoice back as a whole, with a number of its own. */
    public InvoiceView credit(String number, String reason) {
        InvoiceView invoice = get(number);
        if (reason.isBlank()) {
            throw Refused.at("reason", "Say why the invoice is taken back.");
        }
        if (invoice.creditNote() || invoice.creditedBy() != null) {
            throw Refused.because("This paper is credited already.");
        }
        TicketView ticket = tickets.get(invoice.ticket());
        List<Line> lines = invoice.parts().stream()
                .flatMap(part -> part.lines().stream())
                .map(line -> new Line(
                        line.place(),
                        line.kind(),
                        line.what(),
                        line.quantity(),
                        line.each().negate(),
                        line.partNumber()))
                .toList();
        Total total = Total.of(lines, taxesOf(number), invoice.total().currency());
        return keep(ticket, lines, total, List.of(), number, reason);
    }

    private InvoiceView keep(
            TicketView ticket,
            List<Line> lines,
            Total total,
            List<Placed> story,
            @Nullable String credits,
            @Nullable String reason) {
        Rates.Card card = rates.card();
        LocalDate due = times.today().plusDays(card.dueDays());
        journal.note(
                credits == null ? "invoice issued" : "credit note issued",
                ticket.number().value(),
                "%s over %s.".formatted(credits == null ? "An invoice" : "A credit note for " + credits, total.gross()),
                Map.of("total", total.gross().text(), "lines", lines.size()));
        String head = journal.head();
        // The counter row is locked as late as possible and until the commit: numbers have no gaps and no doubles.
        int sequence = jdbc.sql("""
                insert into invoice_counter (series, value) values (?, 1)
                on conflict (series) do update set value = invoice_counter.value + 1 returning value""").param(card.series()).query(Integer.class).single();
        String number = "%s-%05d".formatted(card.series(), sequence);
        jdbc.sql("""
                insert into invoice (number, series, sequence, ticket_number, credits, reason, issued_at, issued_by, due, currency,
                    net, tax, total, customer, address, vehicle, distance, journal_head)
                values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)""")
                .param(number)
                .param(card.series())
                .param(sequence)
                .param(ticket.number().value())
                .param(credits)
                .param(reason)
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .param(Date.valueOf(due))
                .param(total.net().currency().getCurrencyCode())
                .param(total.net().amount())
                .param(total.tax().amount())
                .param(total.gross().amount())
                .param(ticket.customer().name())
                .param(ticket.customer().address())
                .param(vehicleWords(ticket))
                .param(ticket.distanceIn() == null ? null : ticket.distanceIn().words())
                .param(head)
                .update();
        var taxes = credits == null ? rates.taxes() : taxesOf(credits);
        int nr = 0;
        for (Line line : lines) {
            jdbc.sql("""
                    insert into invoice_line (invoice_number, nr, place, kind, what, quantity, each, net, tax_percent, part_number)
                    values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)""")
                    .param(number)
                    .param(++nr)
                    .param(line.place())
                    .param(line.kind().name())
                    .param(line.what())
                    .param(line.quantity())
                    .param(line.each().amount())
                    .param(line.net().amount())
                    .param(taxes.on(line.kind()).percent())
                    .param(line.partNumber())
                    .update();
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
        besides.freeze(number, ticket.number());
        InvoiceView view = get(number);
        byte[] pdf = paper.pdf("billing/paper", model(view), List.of());
        jdbc.sql("insert into invoice_paper (invoice_number, pdf, sha256) values (?, ?, ?)")
                .params(number, pdf, sha256(pdf))
                .update();
        return view;
    }

    @Transactional(readOnly = true)
    public InvoiceView get(String number) {
        var row = heads("i.number = ?", number).orElseThrow(() -> NotFound.of("invoice " + number));
        var currency = row.total().currency();
        var lines = jdbc.sql("select * from invoice_line where invoice_number = ? order by nr")
                .param(number)
                .query((r, n) -> new Line(
                        r.getInt("place"),
                        LineKind.valueOf(r.getString("kind")),
                        r.getString("what"),
                        r.getBigDecimal("quantity"),
                        new Money(r.getBigDecimal("each"), currency),
                        r.getString("part_number")))
                .list();
        var story = jdbc.sql("select * from invoice_story where invoice_number = ? order by nr")
                .param(number)
                .query((r, n) -> new Placed(
                        r.getInt("place"),
                        new InvoiceView.Told(
                                r.getString("chapter"),
                                r.getString("title"),
                                r.getString("said"),
                                json.readValue(r.getString("figures"), new TypeReference<List<Knot.Figure>>() {}))))
                .list();
        var headings = new TreeMap<Integer, String>();
        tickets.get(row.ticket()).symptoms().forEach(symptom -> headings.put(symptom.place(), symptom.kindName()));
        return new InvoiceView(
                row.number(),
                row.ticket(),
                row.credits(),
                row.creditedBy(),
                row.reason(),
                row.issuedAt(),
                row.issuedBy(),
                row.due(),
                row.net(),
                taxLines(number, currency),
                row.tax(),
                row.total(),
                row.paid(),
                row.customer(),
                row.address(),
                row.vehicle(),
                row.distance(),
                row.journalHead(),
                parts(headings, story, lines));
    }

    /** The paper as it was issued: the same bytes every time. */
    @Transactional(readOnly = true)
    public byte[] pdf(String number) {
        return jdbc.sql("select pdf from invoice_paper where invoice_number = ?")
                .param(number)
                .query((r, n) -> r.getBytes(1))
                .optional()
                .orElseThrow(() -> NotFound.of("invoice " + number));
    }

    @Transactional(readOnly = true)
    public Optional<InvoiceView> of(TicketNumber number) {
        return jdbc.sql("select number from invoice where ticket_number = ? and credits is null")
                .param(number.value())
                .query(String.class)
                .optional()
                .map(this::get);
    }

    /** A ticket's invoice as it stands, without its lines and its story. */
    @Transactional(readOnly = true)
    public Optional<InvoiceView> head(TicketNumber number) {
        return heads("i.ticket_number = ? and i.credits is null", number.value());
    }

    private Optional<InvoiceView> heads(String where, Object key) {
        return jdbc.sql("""
                select i.*, (select c.number from invoice c where c.credits = i.number) credited_by,
                       (select coalesce(sum(p.amount), 0) from payment p where p.invoice_number = i.number) paid
                from invoice i where %s""".formatted(where))
                .param(key)
                .query((r, n) -> read(r))
                .optional();
    }

    /** The latest invoices and credit notes, a page at a time; before is the number the last page ended with. */
    @Transactional(readOnly = true)
    public List<InvoiceLine> latest(@Nullable String before, int limit) {
        var currency = rates.currency();
        return jdbc.sql("""
                select i.number, i.ticket_number, i.customer, i.issued_at, i.due, i.total, i.credits,
                       exists (select from invoice c where c.credits = i.number) credited,
                       (select coalesce(sum(p.amount), 0) from payment p where p.invoice_number = i.number) paid
                from invoice i
                where :before::text is null or (i.issued_at, i.number) < (select b.issued_at, b.number from invoice b where b.number = :before)
                order by i.issued_at desc, i.number desc limit :limit""")
                .param("before", before)
                .param("limit", limit)
                .query((r, n) -> {
                    Money total = Money.rounded(r.getBigDecimal("total"), currency);
                    Money paid = Money.rounded(r.getBigDecimal("paid"), currency);
                    boolean credit = r.getString("credits") != null;
                    boolean credited = r.getBoolean("credited");
                    Money owed = credit || credited ? Money.zero(currency) : total.minus(paid);
                    String state = credit
                            ? "credit note"
                            : credited ? "credited" : owed.isPositive() ? paid.isZero() ? "open" : "part paid" : "paid";
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
    public Map<String, Object> model(InvoiceView view) {
        var model = new LinkedHashMap<String, Object>();
        model.put("invoice", view);
        model.put("readings", BeforeAfter.of(view.parts()));
        model.put("besides", besides.of(view));
        model.put("shop", shops.shop());
        model.put("card", rates.card());
        model.put("sheet", shops.sheet());
        model.put("author", shops.shop().name());
        return model;
    }

    private record Placed(int place, InvoiceView.Told told) {}

    /** What is told on paper: complaint, cause, correction and proof in words, the tests by their readings. */
    private List<Placed> story(TicketNumber number) {
        return strands.stream()
                .flatMap(strand -> strand.knots(number).stream())
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

    private List<InvoiceView.Part> parts(Map<Integer, String> headings, List<Placed> story, List<Line> lines) {
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
                    Money.sum(its.stream().map(Line::net).toList(), rates.currency())));
        }
        return parts;
    }

    private InvoiceView view(
            String number,
            TicketView ticket,
            @Nullable String credits,
            @Nullable String reason,
            Total total,
            List<InvoiceView.Part> parts,
            Money paid) {
        return new InvoiceView(
                number,
                ticket.number(),
                credits,
                null,
                reason,
                clock.instant(),
                people.me().name(),
                times.today().plusDays(rates.card().dueDays()),
                total.net(),
                total.taxes().stream()
                        .map(part -> new InvoiceView.TaxLine(part.rate(), part.net(), part.tax()))
                        .toList(),
                total.tax(),
                total.gross(),
                paid,
                ticket.customer().name(),
                ticket.customer().address(),
                vehicleWords(ticket),
                ticket.distanceIn() == null ? null : ticket.distanceIn().words(),
                journal.head(),
                parts);
    }

    private idlewright.billing.rules.Taxes taxesOf(String number) {
        TaxRate work = TaxRate.NONE;
        TaxRate parts = TaxRate.NONE;
        for (var row : jdbc.sql("select distinct kind, tax_percent from invoice_line where invoice_number = ?")
                .param(number)
                .query((r, n) -> Map.entry(LineKind.valueOf(r.getString(1)), new TaxRate(r.getBigDecimal(2))))
                .list()) {
            if (row.getKey().work()) {
                work = row.getValue();
            } else {
                parts = row.getValue();
            }
        }
        return new idlewright.billing.rules.Taxes(rates.card().taxName(), work, parts);
    }

    private List<InvoiceView.TaxLine> taxLines(String number, java.util.Currency currency) {
        return jdbc.sql("""
                select tax_percent, sum(net) net from invoice_line where invoice_number = ? group by tax_percent order by tax_percent""")
                .param(number)
                .query((r, n) -> {
                    var rate = new TaxRate(r.getBigDecimal(1));
                    var net = new Money(r.getBigDecimal(2), currency);
                    return new InvoiceView.TaxLine(rate, net, rate.on(net));
                })
                .list();
    }

    private static InvoiceView read(ResultSet r) throws java.sql.SQLException {
        var currency = java.util.Currency.getInstance(r.getString("currency"));
        return new InvoiceView(
                r.getString("number"),
                new TicketNumber(r.getInt("ticket_number")),
                r.getString("credits"),
                r.getString("credited_by"),
                r.getString("reason"),
                r.getTimestamp("issued_at").toInstant(),
                r.getString("issued_by"),
                r.getObject("due", LocalDate.class),
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
                List.of());
    }

    private static String vehicleWords(TicketView ticket) {
        var vehicle = ticket.vehicle();
        return vehicle.name()
                + (vehicle.modelYear() == null ? "" : " " + vehicle.modelYear())
                + (vehicle.plate() == null ? "" : ", " + vehicle.plate())
                + (vehicle.vin() == null ? "" : ", VIN " + vehicle.vin());
    }

    private static String sha256(byte[] bytes) {
        try {
            return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException(e);
        }
    }
}
