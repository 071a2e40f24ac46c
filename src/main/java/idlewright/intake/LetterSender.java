package idlewright.intake;

import idlewright.intake.rules.Patience;
import idlewright.journal.Journal;
import idlewright.people.Shops;
import jakarta.mail.MessagingException;
import jakarta.mail.internet.MimeMessage;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.core.NestedExceptionUtils;
import org.springframework.core.io.ByteArrayResource;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mail.MailException;
import org.springframework.mail.MailParseException;
import org.springframework.mail.javamail.JavaMailSender;
import org.springframework.mail.javamail.MimeMessageHelper;
import org.springframework.scheduling.annotation.EnableScheduling;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Sends the letters that wait. Each is locked while it is sent, and a locked one is passed over, so two instances never
 * send the same one; only a crash between the mail server's yes and our commit can send one twice.
 */
@Component
@EnableScheduling
class LetterSender {

    private static final int AT_ONCE = 50;

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
            boolean wanted) {}

    private final ObjectProvider<JavaMailSender> post;
    private final Shops shops;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final TransactionTemplate transaction;
    private final Clock clock;

    LetterSender(
            ObjectProvider<JavaMailSender> post,
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
        JavaMailSender server = post.getIfAvailable();
        String from = shops.shop().email();
        if (server == null || from.isEmpty()) {
            return 0;
        }
        int taken = 0;
        while (taken < AT_ONCE && Boolean.TRUE.equals(transaction.execute(status -> sendNext(server, from)))) {
            taken++;
        }
        return taken;
    }

    private boolean sendNext(JavaMailSender server, String from) {
        Instant now = clock.instant();
        Optional<Waiting> next = jdbc.sql("""
                select l.*, c.contact_by = 'EMAIL' and c.anonymous_at is null wanted
                from letter l join customer c on c.id = l.customer_id
                where l.state = 'WAITING' and l.next_try <= ? order by l.next_try, l.id limit 1 for update of l skip locked""")
                .param(Timestamp.from(now))
                .query((r, n) -> waiting(r))
                .optional();
        if (next.isEmpty()) {
            return false;
        }
        Waiting letter = next.get();
        if (!letter.wanted()) {
            jdbc.sql("""
                    update letter set state = 'WITHDRAWN', body = '', enclosure = null, enclosure_name = null,
                        problem = 'The customer no longer agrees to e-mail.' where id = ?""").param(letter.id()).update();
            return true;
        }
        try {
            server.send(message(server, from, letter));
            jdbc.sql("""
                    update letter set state = 'SENT', sent_at = ?, tries = tries + 1, problem = null, body = '', enclosure = null
                    where id = ?""").params(Timestamp.from(now), letter.id()).update();
            journal.note(
                    "letter sent",
                    letter.ticket(),
                    "A letter was sent: %s.".formatted(letter.what()),
                    Map.of("letter", letter.id()));
        } catch (MailException | MessagingException no) {
            failed(letter, now, no);
        }
        return true;
    }

    private void failed(Waiting letter, Instant now, Exception no) {
        int tries = letter.tries() + 1;
        boolean hopeless = no instanceof MailParseException || no instanceof MessagingException;
        var wait = hopeless ? Optional.<java.time.Duration>empty() : Patience.after(tries);
        jdbc.sql("update letter set state = ?, tries = ?, next_try = ?, problem = ? where id = ?")
                .params(
                        wait.isPresent() ? "WAITING" : "FAILED",
                        tries,
                        Timestamp.from(now.plus(wait.orElse(java.time.Duration.ZERO))),
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

    private MimeMessage message(JavaMailSender server, String from, Waiting letter) throws MessagingException {
        var message = server.createMimeMessage();
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

    private static Waiting waiting(ResultSet r) throws SQLException {
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
                r.getBoolean("wanted"));
    }
}
