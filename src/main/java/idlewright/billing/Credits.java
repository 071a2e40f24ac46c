package idlewright.billing;

import idlewright.billing.rules.Method;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.intake.Customers;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.TicketStamp;
import idlewright.journal.Journal;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import java.math.BigDecimal;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The front door for money of customers that the shop holds: deposits on open tickets, and what was paid too much. */
@Component
@Transactional
public class Credits {

    /** What is left of the deposits on a ticket. */
    static final String HELD = """
            select coalesce(sum(case when p.invoice_number is null then p.amount else -p.amount end), 0) held
            from payment p where p.ticket_number = :ticket""";

    private final MoneyReads reads;
    private final Till till;
    private final Tickets tickets;
    private final Customers customers;
    private final Shops shops;
    private final Journal journal;
    private final JdbcClient jdbc;

    Credits(
            MoneyReads reads,
            Till till,
            Tickets tickets,
            Customers customers,
            Shops shops,
            Journal journal,
            JdbcClient jdbc) {
        this.reads = reads;
        this.till = till;
        this.tickets = tickets;
        this.customers = customers;
        this.shops = shops;
        this.journal = journal;
        this.jdbc = jdbc;
    }

    /** Takes a deposit on a ticket; it is taken off when the invoice is issued. Tells the number of the receipt. */
    public long deposit(TicketNumber number, Money amount, String method, @Nullable String note) {
        Method how = Till.method(method);
        Till.aboveZero(amount);
        lockTicket(number);
        TicketView ticket = tickets.get(number);
        if (ticket.has(TicketStamp.BILLED)) {
            throw Refused.because("The invoice of ticket %s is issued. Take the payment on it.".formatted(number));
        }
        till.lockAccount(ticket.customer().id());
        journal.note(
                "deposit taken",
                number.value(),
                "%s as a deposit.".formatted(amount),
                Map.of("amount", amount.text(), "method", how.name()));
        return till.book(new Till.Row(ticket.customer().id(), null, number.value(), amount, how, note, null, null));
    }

    /** Gives a deposit back, or a part of it, before it is taken off; never more than is held. */
    public long giveBack(TicketNumber number, Money amount, String method, @Nullable String note) {
        Method how = Till.method(method);
        Till.aboveZero(amount);
        lockTicket(number);
        TicketView ticket = tickets.get(number);
        if (ticket.has(TicketStamp.BILLED)) {
            throw Refused.because("The invoice of ticket %s is issued; the deposit was taken off.".formatted(number));
        }
        till.lockAccount(ticket.customer().id());
        Money held = heldFor(number);
        if (amount.isMoreThan(held)) {
            throw Refused.at("amount", "Only %s is held as a deposit.".formatted(held.text()));
        }
        journal.note(
                "deposit given back",
                number.value(),
                "%s of the deposit was given back.".formatted(amount),
                Map.of("amount", amount.text(), "method", how.name()));
        return till.book(
                new Till.Row(ticket.customer().id(), null, number.value(), amount.negate(), how, note, null, null));
    }

    /** Pays a customer's credit out, or a part of it; never more than there is. */
    public long payOut(long customer, Money amount, String method, @Nullable String note) {
        customers.get(customer);
        Method how = Till.method(method);
        Till.aboveZero(amount);
        till.lockAccount(customer);
        Money credit = credit(customer);
        if (amount.isMoreThan(credit)) {
            throw Refused.at("amount", "The credit is %s.".formatted(credit.text()));
        }
        journal.note(
                "credit paid out",
                null,
                "%s of a customer's credit was paid out.".formatted(amount),
                Map.of("customer", customer, "amount", amount.text(), "method", how.name()));
        return till.book(new Till.Row(customer, null, null, amount.negate(), how, note, null, null));
    }

    /** What is held as a deposit on a ticket. */
    @OnlyReads
    public Money heldFor(TicketNumber number) {
        return reads.of(number).held();
    }

    /** What a customer may use for any invoice or have paid out: all that is held, without deposits on open tickets. */
    @OnlyReads
    public Money credit(long customer) {
        return money(jdbc.sql("""
                select coalesce(sum(case when p.invoice_number is null then p.amount when p.method = 'CREDIT' then -p.amount else 0 end), 0)
                from payment p
                where p.customer_id = ? and (p.ticket_number is null
                    or exists (select from invoice i where i.ticket_number = p.ticket_number and i.credits is null))""").param(customer));
    }

    /** All deposits on tickets of a customer that are not invoiced yet. */
    @OnlyReads
    public Money deposits(long customer) {
        return money(jdbc.sql("""
                select coalesce(sum(p.amount), 0) from payment p
                where p.customer_id = ? and p.ticket_number is not null and p.invoice_number is null
                    and not exists (select from invoice i where i.ticket_number = p.ticket_number and i.credits is null)""").param(customer));
    }

    void lock(long customer) {
        till.lockAccount(customer);
    }

    void lockInvoice(String number) {
        till.lockInvoice(number);
    }

    /** Takes the deposit off an invoice that is being issued. */
    void takeOff(TicketView ticket, String invoice, Money amount) {
        till.book(new Till.Row(
                ticket.customer().id(), invoice, ticket.number().value(), amount, Method.CREDIT, null, null, null));
    }

    /** What was paid on an invoice beyond what its credit notes leave becomes the customer's credit. */
    void takeBack(InvoiceView invoice, long customer) {
        Money over = invoice.paid().minus(invoice.left());
        if (over.isPositive()) {
            till.lockAccount(customer);
            till.book(new Till.Row(customer, invoice.number(), null, over.negate(), Method.CREDIT, null, null, null));
        }
    }

    /** No invoice is issued over a deposit that is just being taken. */
    private void lockTicket(TicketNumber number) {
        tickets.get(number);
        tickets.takeTurns(number);
    }

    private Money money(JdbcClient.StatementSpec sum) {
        return Money.rounded(sum.query(BigDecimal.class).single(), shops.shop().currency());
    }
}
