package idlewright.intake;

import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.people.Shops;
import java.sql.ResultSet;
import java.sql.SQLException;
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
            @Nullable Instant sentAt,
            @Nullable Instant sendingAt) {

        public boolean failed() {
            return state.equals("FAILED");
        }

        public boolean waits() {
            return state.equals("WAITING");
        }

        /** It was handed to the mail server, and nobody knows whether it was taken. */
        public boolean unsure() {
            return state.equals("UNSURE");
        }
    }

    private final ObjectProvider<JavaMailSender> post;
    private final Shops shops;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    Letters(
            ObjectProvider<JavaMailSender> post,
            Shops shops,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock) {
        this.journal = journal;
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
    @OnlyReads
    public List<LetterView> lately() {
        return jdbc.sql("""
                select * from (
                    (select l.*, array_position(array['UNSURE', 'FAILED', 'SENDING', 'WAITING'], l.state) nr from letter l
                        where l.state in ('UNSURE', 'FAILED', 'SENDING', 'WAITING') order by nr, l.id desc limit :shown)
                    union all
                    (select l.*, null from letter l
                        where l.state not in ('UNSURE', 'FAILED', 'SENDING', 'WAITING') order by l.id desc limit :shown)) l
                order by nr, id desc limit :shown""")
                .param("shown", SHOWN)
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
                        moment(r, "sent_at"),
                        moment(r, "sending_at")))
                .list();
    }

    private static @Nullable Instant moment(ResultSet r, String column) throws SQLException {
        Timestamp at = r.getTimestamp(column);
        return at == null ? null : at.toInstant();
    }

    /** How many letters somebody has to look at: they failed, or may have been sent. */
    @OnlyReads
    public int failed() {
        return jdbc.sql("select count(*) from letter where state in ('FAILED', 'UNSURE')")
                .query(Integer.class)
                .single();
    }

    /** Lets a letter rest that failed or may have been sent: it is not sent again, and keeps neither body nor file. */
    public void rest(long id) {
        int changed = jdbc.sql("""
                update letter set state = 'RESTED', body = '', enclosure = null, enclosure_name = null
                where id = ? and state in ('FAILED', 'UNSURE')""").param(id).update();
        if (changed == 0) {
            gone(id);
        }
        journal.note(
                "letter rests", null, "A letter that was not surely sent is let rest.", java.util.Map.of("letter", id));
    }

    /** Tries a letter again that failed, that may have been sent, or that still waits for its next try. */
    public void tryAgain(long id) {
        int changed = jdbc.sql("""
                update letter set state = 'WAITING', tries = 0, next_try = ? where id = ? and state in ('FAILED', 'UNSURE', 'WAITING')""").params(Timestamp.from(clock.instant()), id).update();
        if (changed == 0) {
            gone(id);
        }
    }

    private void gone(long id) {
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
