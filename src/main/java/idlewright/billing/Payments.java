package idlewright.billing;

import idlewright.frame.Refused;
import idlewright.intake.Tickets;
import idlewright.intake.rules.TicketStamp;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.reference.money.Money;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The front door for money that comes in. */
@Component
@Transactional
public class Payments {

    /** One payment. */
    public record PaymentView(
            Money amount, String method, @Nullable String note, Instant at, String who) {
        public String methodWords() {
            return method.charAt(0) + method.substring(1).toLowerCase(java.util.Locale.ROOT);
        }
    }

    private static final Set<String> METHODS = Set.of("CASH", "CARD", "TRANSFER", "OTHER");

    private final Invoices invoices;
    private final Tickets tickets;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    Payments(Invoices invoices, Tickets tickets, People people, Journal journal, JdbcClient jdbc, Clock clock) {
        this.invoices = invoices;
        this.tickets = tickets;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    public void take(String number, Money amount, String method, @Nullable String note) {
        // Serialises the payments of one invoice, so that two terminals cannot take more than is owed.
        jdbc.sql("select pg_advisory_xact_lock(hashtext('payment ' || ?))")
                .param(number)
                .query((r, n) -> 0)
                .single();
        InvoiceView invoice = invoices.get(number);
        if (!METHODS.contains(method)) {
            throw Refused.at("method", "Choose how it was paid.");
        }
        if (!amount.isPositive()) {
            throw Refused.at("amount", "Enter the amount that was paid, above 0.");
        }
        if (amount.isMoreThan(invoice.owed())) {
            throw Refused.at(
                    "amount", "Only %s is owed.".formatted(invoice.owed().text()));
        }
        jdbc.sql("insert into payment (invoice_number, amount, method, note, at, who) values (?, ?, ?, ?, ?, ?)")
                .param(number)
                .param(amount.amount())
                .param(method)
                .param(note)
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .update();
        journal.note(
                "paid",
                invoice.ticket().value(),
                "%s paid on invoice %s.".formatted(amount, number),
                Map.of("invoice", number, "amount", amount.text(), "method", method));
        if (amount.equals(invoice.owed())) {
            tickets.stamp(invoice.ticket(), TicketStamp.PAID, invoice.total().text());
        }
    }

    @Transactional(readOnly = true)
    public List<PaymentView> of(String number) {
        var currency = invoices.get(number).total().currency();
        return jdbc.sql("select amount, method, note, at, who from payment where invoice_number = ? order by id")
                .param(number)
                .query((r, n) -> new PaymentView(
                        new Money(r.getBigDecimal(1), currency),
                        r.getString(2),
                        r.getString(3),
                        r.getTimestamp(4).toInstant(),
                        r.getString(5)))
                .list();
    }

    @Transactional(readOnly = true)
    public Money owed(String number) {
        return invoices.get(number).owed();
    }
}
