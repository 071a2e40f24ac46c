package idlewright.billing;

import idlewright.billing.Invoices.InvoiceLine;
import idlewright.billing.rules.Exemption;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.billing.rules.Prices;
import idlewright.billing.rules.Rounding;
import idlewright.billing.rules.Total;
import idlewright.frame.NotFound;
import idlewright.frame.Times;
import idlewright.frame.Together;
import idlewright.frame.Tuple;
import idlewright.intake.Knot;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.math.BigDecimal;
import java.sql.Date;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.LocalDate;
import java.util.Currency;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import tools.jackson.core.type.TypeReference;
import tools.jackson.databind.json.JsonMapper;

/** The rows of invoices and credit notes: written once, with their number, and only read from then on. */
@Component
class InvoiceRows {

    /** To whom, and about which car. */
    record Whom(
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

    private final Tickets tickets;
    private final Rates rates;
    private final DayCloses days;
    private final People people;
    private final Journal journal;
    private final Together together;
    private final JdbcClient jdbc;
    private final Clock clock;
    private final Times times;
    private final JsonMapper json = JsonMapper.builder().build();

    InvoiceRows(
            Tickets tickets,
            Rates rates,
            DayCloses days,
            People people,
            Journal journal,
            Together together,
            JdbcClient jdbc,
            Clock clock,
            Times times) {
        this.tickets = tickets;
        this.rates = rates;
        this.days = days;
        this.people = people;
        this.journal = journal;
        this.together = together;
        this.jdbc = jdbc;
        this.clock = clock;
        this.times = times;
    }

    /** Gives the next number to the head of an invoice or credit note, with its tax. */
    String give(
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

    void line(String number, int nr, Line line, Money each, TaxRate rate) {
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

    void story(String number, List<InvoiceStory.Placed> story) {
        int nr = 0;
        for (var told : story) {
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
    }

    /** What is issued, as its rows say. */
    InvoiceView get(String number) {
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
                .map(r -> new InvoiceStory.Placed(
                        r.getInt("place"),
                        new InvoiceView.Told(
                                r.getString("chapter"),
                                r.getString("title"),
                                r.getString("said"),
                                json.readValue(r.getString("figures"), new TypeReference<List<Knot.Figure>>() {}))))
                .toList();
        var headings = InvoiceStory.headings(tickets.get(row.ticket()));
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
                InvoiceStory.parts(headings, story, lines, currency));
    }

    /** The latest invoices and credit notes, a page at a time; before is the number the last page ended with. */
    List<InvoiceLine> latest(@Nullable String before, int limit) {
        var currency = rates.currency();
        String from = before == null
                ? ""
                : "where (i.issued_at, i.number) < (select b.issued_at, b.number from invoice b where b.number = :before)";
        return jdbc.sql("""
                select i.number, i.ticket_number, i.customer, i.issued_at, i.due, i.total, i.credits,
                       (select -sum(c.total) from invoice c where c.credits = i.number) credited,
                       (select coalesce(sum(p.amount), 0) from payment p where p.invoice_number = i.number) paid
                from invoice i
                %s
                order by i.issued_at desc, i.number desc limit :limit""".formatted(from))
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
