package idlewright.intake;

import jakarta.mail.MessagingException;
import jakarta.mail.Session;
import jakarta.mail.internet.MimeMessage;
import java.io.IOException;
import java.io.OutputStream;
import org.springframework.mail.MailException;
import org.springframework.mail.MailSendException;

/** A letter on its way, which knows whether any of it was handed to the mail server. */
final class Handed extends MimeMessage {

    private boolean begun;

    Handed(Session session) {
        super(session);
    }

    @Override
    public void writeTo(OutputStream out, String[] ignored) throws IOException, MessagingException {
        begun = true;
        super.writeTo(out, ignored);
    }

    /**
     * Whether the server may have taken it although sending ended in this error. It may where the letter itself was begun,
     * and the server's last word was not a no (a reply of 400 or more, RFC 5321): it answers for a letter only at its end.
     */
    boolean maybeTaken(MailException error) {
        if (!begun) {
            return false;
        }
        if (error instanceof MailSendException send) {
            for (Exception each : send.getMessageExceptions()) {
                if (each.getMessage() != null && each.getMessage().matches("(?s)[45]\\d\\d\\b.*")) {
                    return false;
                }
            }
        }
        return true;
    }
}
