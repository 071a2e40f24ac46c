package idlewright.intake;

import idlewright.frame.NotFound;
import idlewright.frame.Refused;
import idlewright.people.People;
import idlewright.people.Shops;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mail.javamail.JavaMailSender;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/**
 * Letters to customers by e-mail. A letter is written in the transaction of the act it belongs to, so there is never one
 * without the other; it is sent afterwards, and tried again until it is gone.
 */
@Component
@Transactional
public class Letters {

    private static final int SHOWN = 100;

    /** A file that goes with a letter. */
    public record Enclosure(String name, byte[] pdf) {}

    /** A letter as the counter sees it. */
    public record LetterView(
            long id,
            long customerId,
            @Nullable Integer ticket,
            String what,
            String recipient,
            String state,
            int tries,
            Instant nextTry,
            @Nullable String problem,
            Instant writtenAt,
            String writtenBy,
            @Nullable Instant sentAt) {

        public boolean failed() {
            return state.equals("FAILED");
        }

        public boolean waits() {
            return state.equals("WAITING");
        }
    }

    private final ObjectProvider<JavaMailSender> post;
    private final Shops shops;
    private final People people;
    private final JdbcClient jdbc;
    private final Clock clock;

    Letters(ObjectProvider<JavaMailSender> post, Shops shops, People people, JdbcClient jdbc, Clock clock) {
        this.post = post;
        this.shops = shops;
        this.people = people;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Whether the shop can send letters at all: a mail server is named, and the shop has an address to write from. */
    public boolean setUp() {
        return post.getIfAvailable() != null && !shops.shop().email().isEmpty();
    }

    /** Why this customer gets no letter, in words for the counter; null when they do. */
    public @Nullable String whyNot(CustomerView customer) {
        if (!setUp()) {
            return "This shop sends no e-mail yet: a mail server and the shop's own address are needed.";
        }
        if (customer.anonymous() || !customer.contactBy().equals("EMAIL") || customer.email() == null) {
            return "The customer has not agreed to e-mail.";
        }
        return null;
    }

    /** Writes a letter, to be sent once this transaction is done; refused when the customer has not agreed to e-mail. */
    public void write(
            CustomerView customer,
            @Nullable TicketNumber ticket,
            String what,
            String subject,
            String body,
            @Nullable Enclosure enclosure) {
        String why = whyNot(customer);
        if (why != null) {
            throw Refused.because(why);
        }
        jdbc.sql("""
                insert into letter (customer_id, ticket_number, what, recipient, subject, body, enclosure_name, enclosure,
                    next_try, written_at, written_by)
                values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)""")
                .param(customer.id())
                .param(ticket == null ? null : ticket.value())
                .param(what)
                .param(customer.email())
                .param(subject)
                .param(body)
                .param(enclosure == null ? null : enclosure.name())
                .param(enclosure == null ? null : enclosure.pdf())
                .param(Timestamp.from(clock.instant()))
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .update();
    }

    /** What failed, what waits, what was sent lately, in this order. */
    @Transactional(readOnly = true)
    public List<LetterView> lately() {
        return jdbc.sql("""
                select * from letter
                order by array_position(array['FAILED', 'WAITING', 'SENT', 'WITHDRAWN'], state), id desc limit ?""")
                .param(SHOWN)
                .query((r, n) -> new LetterView(
                        r.getLong("id"),
                        r.getLong("customer_id"),
                        (Integer) r.getObject("ticket_number"),
                        r.getString("what"),
                        r.getString("recipient"),
                        r.getString("state"),
                        r.getInt("tries"),
                        r.getTimestamp("next_try").toInstant(),
                        r.getString("problem"),
                        r.getTimestamp("written_at").toInstant(),
                        r.getString("written_by"),
                        r.getTimestamp("sent_at") == null
                                ? null
                                : r.getTimestamp("sent_at").toInstant()))
                .list();
    }

    @Transactional(readOnly = true)
    public int failed() {
        return jdbc.sql("select count(*) from letter where state = 'FAILED'")
                .query(Integer.class)
                .single();
    }

    /** Tries a letter again that failed or that still waits for its next try. */
    public void tryAgain(long id) {
        int changed = jdbc.sql("""
                update letter set state = 'WAITING', tries = 0, next_try = ? where id = ? and state in ('FAILED', 'WAITING')""").params(Timestamp.from(clock.instant()), id).update();
        if (changed == 0) {
            boolean there = jdbc.sql("select exists (select from letter where id = ?)")
                    .param(id)
                    .query(Boolean.class)
                    .single();
            if (!there) {
                throw NotFound.of("letter");
            }
            throw Refused.because("This letter is gone already; there is nothing to try again.");
        }
    }
}
