package idlewright.intake;

import idlewright.intake.rules.Patience;
import idlewright.journal.Journal;
import idlewright.people.Shops;
import jakarta.mail.MessagingException;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.core.NestedExceptionUtils;
import org.springframework.core.io.ByteArrayResource;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mail.MailException;
import org.springframework.mail.MailParseException;
import org.springframework.mail.javamail.JavaMailSenderImpl;
import org.springframework.mail.javamail.MimeMessageHelper;
import org.springframework.scheduling.annotation.EnableScheduling;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Sends the letters that wait. Each is marked in a transaction of its own before the mail server hears of it, so no other
 * instance takes it, and a crash leaves the mark: such a letter may have been sent, and only a person sends it again.
 */
@Component
@EnableScheduling
class LetterSender {

    private static final int AT_ONCE = 50;

    /** Connecting, and each word of the conversation, end after 15 s (application.properties); no letter takes this long. */
    private static final Duration LONGEST = Duration.ofMinutes(15);

    private record Waiting(
            long id,
            @Nullable Integer ticket,
            String what,
            String recipient,
            String subject,
            String body,
            @Nullable String enclosureName,
            byte @Nullable [] enclosure,
            int tries,
            boolean wanted,
            String messageId) {}

    private final ObjectProvider<JavaMailSenderImpl> post;
    private final Shops shops;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final TransactionTemplate transaction;
    private final Clock clock;

    LetterSender(
            ObjectProvider<JavaMailSenderImpl> post,
            Shops shops,
            Journal journal,
            JdbcClient jdbc,
            PlatformTransactionManager transactions,
            Clock clock) {
        this.post = post;
        this.shops = shops;
        this.journal = journal;
        this.jdbc = jdbc;
        this.transaction = new TransactionTemplate(transactions);
        this.clock = clock;
    }

    /** Sends what is due and says how many letters it took in hand. */
    @Scheduled(fixedDelayString = "${idlewright.letters.every}", initialDelayString = "${idlewright.letters.every}")
    int send() {
        JavaMailSenderImpl server = post.getIfAvailable();
        String from = shops.shop().email();
        if (server == null || from.isEmpty()) {
            return 0;
        }
        transaction.executeWithoutResult(status -> doubtTheInterrupted());
        int taken = 0;
        while (taken < AT_ONCE && sendNext(server, from)) {
            taken++;
        }
        return taken;
    }

    /** What is being sent for longer than any conversation lasts was cut off; nobody knows after which word. */
    private void doubtTheInterrupted() {
        jdbc.sql("""
                update letter set state = 'UNSURE', tries = tries + 1,
                    problem = 'Idlewright was interrupted while it was being sent.'
                where state = 'SENDING' and sending_at < ? returning id, ticket_number, what""")
                .param(Timestamp.from(clock.instant().minus(LONGEST)))
                .query((r, n) -> {
                    doubted(r.getLong(1), (Integer) r.getObject(2), r.getString(3));
                    return r.getLong(1);
                })
                .list();
    }

    private void doubted(long id, @Nullable Integer ticket, String what) {
        journal.note("letter unsure", ticket, "A letter may have been sent: %s.".formatted(what), Map.of("letter", id));
    }

    private boolean sendNext(JavaMailSenderImpl server, String from) {
        Waiting letter = transaction.execute(status -> mark(from).orElse(null));
        if (letter == null) {
            return false;
        }
        if (!letter.wanted()) {
            return true;
        }
        Handed message;
        try {
            message = message(server, from, letter);
        } catch (MessagingException | MailException no) {
            transaction.executeWithoutResult(status -> failed(letter, no, true));
            return true;
        }
        try {
            server.send(message);
        } catch (MailException no) {
            transaction.executeWithoutResult(status -> {
                if (message.maybeTaken(no)) {
                    doubt(letter, no);
                } else {
                    failed(letter, no, no instanceof MailParseException);
                }
            });
            return true;
        }
        transaction.executeWithoutResult(status -> sent(letter));
        return true;
    }

    /** Marks the next letter before the mail server hears of it. */
    private Optional<Waiting> mark(String from) {
        Instant now = clock.instant();
        Optional<Waiting> next = jdbc.sql("""
                select l.*, c.contact_by = 'EMAIL' and c.anonymous_at is null wanted
                from letter l join customer c on c.id = l.customer_id
                where l.state = 'WAITING' and l.next_try <= ? order by l.next_try, l.id limit 1 for update of l skip locked""")
                .param(Timestamp.from(now))
                .query((r, n) -> waiting(r, from))
                .optional();
        next.ifPresent(letter -> {
            if (letter.wanted()) {
                jdbc.sql("update letter set state = 'SENDING', sending_at = ?, message_id = ? where id = ?")
                        .params(Timestamp.from(now), letter.messageId(), letter.id())
                        .update();
            } else {
                jdbc.sql("""
                        update letter set state = 'WITHDRAWN', body = '', enclosure = null, enclosure_name = null,
                            problem = 'The customer no longer agrees to e-mail.' where id = ?""").param(letter.id()).update();
            }
        });
        return next;
    }

    private void sent(Waiting letter) {
        jdbc.sql("""
                update letter set state = 'SENT', sent_at = ?, tries = tries + 1, problem = null, body = '', enclosure = null
                where id = ? and state in ('SENDING', 'UNSURE')""").params(Timestamp.from(clock.instant()), letter.id()).update();
        journal.note(
                "letter sent",
                letter.ticket(),
                "A letter was sent: %s.".formatted(letter.what()),
                Map.of("letter", letter.id()));
    }

    private void doubt(Waiting letter, Exception no) {
        jdbc.sql(
                        "update letter set state = 'UNSURE', tries = tries + 1, problem = ? where id = ? and state = 'SENDING'")
                .params(reason(no), letter.id())
                .update();
        doubted(letter.id(), letter.ticket(), letter.what());
    }

    private void failed(Waiting letter, Exception no, boolean hopeless) {
        Instant now = clock.instant();
        int tries = letter.tries() + 1;
        var wait = hopeless ? Optional.<Duration>empty() : Patience.after(tries);
        jdbc.sql("update letter set state = ?, tries = ?, next_try = ?, problem = ? where id = ? and state = 'SENDING'")
                .params(
                        wait.isPresent() ? "WAITING" : "FAILED",
                        tries,
                        Timestamp.from(now.plus(wait.orElse(Duration.ZERO))),
                        reason(no),
                        letter.id())
                .update();
        if (wait.isEmpty()) {
            journal.note(
                    "letter failed",
                    letter.ticket(),
                    "A letter could not be sent: %s.".formatted(letter.what()),
                    Map.of("letter", letter.id(), "tries", tries));
        }
    }

    private Handed message(JavaMailSenderImpl server, String from, Waiting letter) throws MessagingException {
        var message = new Handed(server.getSession());
        var write = new MimeMessageHelper(message, letter.enclosure() != null, "UTF-8");
        try {
            write.setFrom(from, shops.shop().name());
        } catch (java.io.UnsupportedEncodingException e) {
            throw new IllegalStateException(e);
        }
        write.setTo(letter.recipient());
        write.setSubject(letter.subject());
        write.setText(letter.body());
        write.setSentDate(java.util.Date.from(clock.instant()));
        // The same at each try: by it mail systems know a double. The mail sender keeps one that is set.
        message.setHeader("Message-ID", letter.messageId());
        if (letter.enclosure() != null && letter.enclosureName() != null) {
            write.addAttachment(letter.enclosureName(), new ByteArrayResource(letter.enclosure()), "application/pdf");
        }
        return message;
    }

    private static String reason(Exception no) {
        String why = NestedExceptionUtils.getMostSpecificCause(no).getMessage();
        String words = why == null ? no.getClass().getSimpleName() : why.strip();
        return words.length() > 400 ? words.substring(0, 400) : words;
    }

    private static Waiting waiting(ResultSet r, String from) throws SQLException {
        String messageId = r.getString("message_id");
        return new Waiting(
                r.getLong("id"),
                (Integer) r.getObject("ticket_number"),
                r.getString("what"),
                r.getString("recipient"),
                r.getString("subject"),
                r.getString("body"),
                r.getString("enclosure_name"),
                r.getBytes("enclosure"),
                r.getInt("tries"),
                r.getBoolean("wanted"),
                messageId != null
                        ? messageId
                        : "<%s@%s>"
                                .formatted(
                                        UUID.randomUUID(),
                                        from.substring(from.lastIndexOf('@') + 1)
                                                .strip()));
    }
}
