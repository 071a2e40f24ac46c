package idlewright.billing;

import idlewright.billing.rules.Method;
import idlewright.frame.Refused;
import idlewright.people.People;
import idlewright.reference.money.Money;
import java.sql.Timestamp;
import java.time.Clock;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/** Writes down money that moves, one row a move, never changed; and lets two terminals at one purse take turns. */
@Component
@Transactional(propagation = Propagation.MANDATORY)
class Till {

    /** One move: towards an invoice, or, without one, towards the customer's credit. */
    record Row(
            long customer,
            @Nullable String invoice,
            @Nullable Integer ticket,
            Money amount,
            Method method,
            @Nullable String note,
            @Nullable Long refunds,
            @Nullable Long together) {}

    private final DayCloses days;
    private final People people;
    private final JdbcClient jdbc;
    private final Clock clock;

    Till(DayCloses days, People people, JdbcClient jdbc, Clock clock) {
        this.days = days;
        this.people = people;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Locked in this order: invoice, number of the next invoice, account. */
    void lockInvoice(String number) {
        lock("payment " + number);
    }

    void lockAccount(long customer) {
        lock("account " + customer);
    }

    private void lock(String what) {
        jdbc.sql("select pg_advisory_xact_lock(hashtext(?))")
                .param(what)
                .query((r, n) -> 0)
                .single();
    }

    long book(Row row) {
        return jdbc.sql("""
                insert into payment (customer_id, invoice_number, ticket_number, amount, method, note, refunds, together, booked, at, who)
                values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) returning id""")
                .param(row.customer())
                .param(row.invoice())
                .param(row.ticket())
                .param(row.amount().amount())
                .param(row.method().name())
                .param(row.note())
                .param(row.refunds())
                .param(row.together())
                .param(days.bookingDay())
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .query(Long.class)
                .single();
    }

    static Method method(String name) {
        return Method.chosen(name).orElseThrow(() -> Refused.at("method", "Choose how it was paid."));
    }

    static void aboveZero(Money amount) {
        if (!amount.isPositive()) {
            throw Refused.at("amount", "Enter an amount above 0.");
        }
    }
}
