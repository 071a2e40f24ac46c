package idlewright.billing;

import idlewright.billing.rules.Booking;
import idlewright.billing.rules.Method;
import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Together;
import idlewright.frame.Tuple;
import idlewright.intake.Tickets;
import idlewright.intake.rules.TicketStamp;
import idlewright.journal.Journal;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Currency;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The front door for money on an invoice, in and back; and for the receipt of every move of money. */
@Component
@Transactional
public class Payments {

    /** One move of money on an invoice or a customer's credit. */
    public record PaymentView(
            long id,
            long customerId,
            @Nullable String invoice,
            @Nullable Integer ticket,
            Money amount,
            Method how,
            @Nullable String note,
            LocalDate booked,
            Instant at,
            String who,
            Money refunded,
            @Nullable Long refunds,
            @Nullable Long together) {

        public Booking booking() {
            return Booking.of(invoice != null, ticket != null, amount.isPositive(), how);
        }

        public String methodWords() {
            if (how == Method.CREDIT) {
                return booking().title();
            }
            String words =
                    Character.toUpperCase(how.words().charAt(0)) + how.words().substring(1);
            return amount.isNegative() ? "Paid back, " + how.words() : words;
        }

        /** What of it can still be paid back. */
        public Money refundable() {
            return amount.isPositive() ? amount.minus(refunded) : Money.zero(amount.currency());
        }

        /** Whether money changed hands: only then is there a receipt for the customer. */
        public boolean moved() {
            return booking().throughTheTill();
        }

        public String receipt() {
            return "R-%05d".formatted(id);
        }
    }

    private final Invoices invoices;
    private final MoneyReads reads;
    private final Together together;
    private final Credits credits;
    private final Till till;
    private final Tickets tickets;
    private final Shops shops;
    private final Journal journal;

    Payments(
            Invoices invoices,
            MoneyReads reads,
            Together together,
            Credits credits,
            Till till,
            Tickets tickets,
            Shops shops,
            Journal journal) {
        this.invoices = invoices;
        this.reads = reads;
        this.together = together;
        this.credits = credits;
        this.till = till;
        this.tickets = tickets;
        this.shops = shops;
        this.journal = journal;
    }

    /** Takes a payment of no more than is owed. Tells the number of the receipt. */
    public long take(String number, Money amount, String method, @Nullable String note) {
        return take(number, amount, method, note, false);
    }

    /** Takes a payment; what is above the owed amount is refused, or kept as the customer's credit where that is wanted. */
    public long take(String number, Money amount, String method, @Nullable String note, boolean keepTheRest) {
        till.lockInvoice(number);
        InvoiceView invoice = invoices.get(number);
        Method how = Till.method(method);
        if (!amount.isPositive()) {
            throw Refused.at("amount", "Enter the amount that was paid, above 0.");
        }
        Money owed = invoice.owed();
        if (!owed.isPositive()) {
            throw Refused.at("amount", "Nothing is owed on %s.".formatted(number));
        }
        boolean over = amount.isMoreThan(owed);
        if (over && !keepTheRest) {
            throw Refused.at(
                    "amount",
                    "Only %s is owed. Enter that, or say below that the rest is kept as credit."
                            .formatted(owed.text()));
        }
        long customer = customerOf(invoice);
        long receipt = till.book(new Till.Row(customer, number, null, over ? owed : amount, how, note, null, null));
        journal.note(
                "paid",
                invoice.ticket().value(),
                "%s paid on invoice %s.".formatted(over ? owed : amount, number),
                Map.of("invoice", number, "amount", (over ? owed : amount).text(), "method", how.name()));
        if (over) {
            till.lockAccount(customer);
            till.book(new Till.Row(customer, null, null, amount.minus(owed), how, note, null, receipt));
            journal.note(
                    "kept as credit",
                    invoice.ticket().value(),
                    "%s was paid too much and is kept as credit.".formatted(amount.minus(owed)),
                    Map.of("amount", amount.minus(owed).text(), "method", how.name()));
        }
        if (!owed.isMoreThan(amount)) {
            tickets.stamp(invoice.ticket(), TicketStamp.PAID, invoice.total().text());
        }
        return receipt;
    }

    /** Pays from the customer's credit. */
    public long useCredit(String number, Money amount) {
        till.lockInvoice(number);
        InvoiceView invoice = invoices.get(number);
        Till.aboveZero(amount);
        long customer = customerOf(invoice);
        till.lockAccount(customer);
        Money credit = credits.credit(customer);
        if (amount.isMoreThan(credit)) {
            throw Refused.at("amount", "The customer's credit is %s.".formatted(credit.text()));
        }
        if (amount.isMoreThan(invoice.owed())) {
            throw Refused.at(
                    "amount", "Only %s is owed.".formatted(invoice.owed().text()));
        }
        long receipt = till.book(new Till.Row(customer, number, null, amount, Method.CREDIT, null, null, null));
        journal.note(
                "paid from credit",
                invoice.ticket().value(),
                "%s of the customer's credit was used for invoice %s.".formatted(amount, number),
                Map.of("invoice", number, "amount", amount.text()));
        if (amount.equals(invoice.owed())) {
            tickets.stamp(invoice.ticket(), TicketStamp.PAID, invoice.total().text());
        }
        return receipt;
    }

    /** Pays a payment back, or a part of it; never more than was paid. From credit it goes back to the credit. */
    public long refund(long id, Money amount, String method, @Nullable String note) {
        PaymentView first = get(id);
        if (first.invoice() == null || !first.amount().isPositive()) {
            throw Refused.because("Only a payment on an invoice is paid back here.");
        }
        till.lockInvoice(first.invoice());
        PaymentView paid = get(id);
        InvoiceView invoice = invoices.get(first.invoice());
        if (invoice.creditedInFull()) {
            throw Refused.because(
                    "Invoice %s was taken back; what was paid on it is the customer's credit. Pay that out."
                            .formatted(invoice.number()));
        }
        Method how = paid.how() == Method.CREDIT ? Method.CREDIT : Till.method(method);
        Till.aboveZero(amount);
        if (amount.isMoreThan(paid.refundable())) {
            throw Refused.at(
                    "amount",
                    paid.refunded().isZero()
                            ? "Only %s was paid.".formatted(paid.amount().text())
                            : "%s was paid and %s paid back already."
                                    .formatted(
                                            paid.amount().text(),
                                            paid.refunded().text()));
        }
        if (amount.isMoreThan(invoice.paid())) {
            throw Refused.at(
                    "amount",
                    "Only %s is still paid on %s: the rest was credited and is the customer's credit. Pay that out."
                            .formatted(invoice.paid().text(), invoice.number()));
        }
        if (note == null || note.isBlank()) {
            throw Refused.at("note", "Say why it is paid back.");
        }
        till.lockAccount(paid.customerId());
        long receipt =
                till.book(new Till.Row(paid.customerId(), first.invoice(), null, amount.negate(), how, note, id, null));
        journal.note(
                "paid back",
                invoice.ticket().value(),
                "%s of receipt %s was paid back.".formatted(amount, paid.receipt()),
                Map.of("invoice", invoice.number(), "amount", amount.text(), "method", how.name()));
        if (!invoice.owed().isPositive() && invoice.owed().plus(amount).isPositive()) {
            tickets.stamp(
                    invoice.ticket(),
                    TicketStamp.OWED,
                    invoice.owed().plus(amount).text());
        }
        return receipt;
    }

    /** The moves of money on an invoice, in the order they happened. */
    @OnlyReads
    public List<PaymentView> of(String number) {
        return read(Map.of("number", number), "where p.invoice_number = :number");
    }

    /** The deposits on a ticket and what was given back of them. */
    @OnlyReads
    public List<PaymentView> depositsOf(idlewright.intake.TicketNumber number) {
        return reads.of(number).deposits();
    }

    @OnlyReads
    public PaymentView get(long id) {
        return read(Map.of("id", id), "where p.id = :id").stream()
                .findFirst()
                .orElseThrow(() -> NotFound.of("receipt"));
    }

    /** What one receipt says: the move, and what was kept as credit of the same money. */
    @OnlyReads
    public List<PaymentView> receipt(long id) {
        PaymentView asked = get(id);
        long first = Objects.requireNonNullElse(asked.together(), id);
        return read(Map.of("first", first), "where :first in (p.id, p.together)");
    }

    /** All moves booked between two days, both included. */
    @OnlyReads
    public List<PaymentView> between(LocalDate from, LocalDate to) {
        return read(Map.of("from", from, "to", to), "where p.booked between :from and :to");
    }

    @OnlyReads
    public Money owed(String number) {
        return invoices.get(number).owed();
    }

    private static final String SELECT = """
            select p.*, (select coalesce(-sum(b.amount), 0) from payment b where b.refunds = p.id) refunded, i.currency
            from payment p left join invoice i on i.number = p.invoice_number
            """;

    /** What was paid in advance on a ticket, and given back of it. */
    static final String OF_TICKET = SELECT + "where p.ticket_number = :ticket order by p.id";

    private List<PaymentView> read(Map<String, ?> values, String where) {
        Currency ours = shops.shop().currency();
        return together.read(values, SELECT + where + " order by p.id").get(0).stream()
                .map(r -> view(r, ours))
                .toList();
    }

    static PaymentView view(Tuple r, Currency ours) {
        String issued = r.getString("currency");
        Currency currency = issued == null ? ours : Currency.getInstance(issued);
        return new PaymentView(
                r.getLong("id"),
                r.getLong("customer_id"),
                r.getString("invoice_number"),
                r.getIntOrNull("ticket_number"),
                Money.rounded(r.getBigDecimal("amount"), currency),
                Method.valueOf(r.getString("method")),
                r.getString("note"),
                r.getDate("booked"),
                r.getInstant("at"),
                r.getString("who"),
                Money.rounded(r.getBigDecimal("refunded"), currency),
                r.getLongOrNull("refunds"),
                r.getLongOrNull("together"));
    }

    private long customerOf(InvoiceView invoice) {
        return tickets.get(invoice.ticket()).customer().id();
    }
}
