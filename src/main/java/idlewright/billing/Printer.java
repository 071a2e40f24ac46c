package idlewright.billing;

import idlewright.billing.Invoices.Issued;
import jakarta.annotation.PreDestroy;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.event.EventListener;
import org.springframework.stereotype.Component;
import org.springframework.transaction.event.TransactionalEventListener;

/**
 * Draws the paper of what was issued, one after the other and beside the work: drawing takes longer than all else of issuing,
 * and the number of the next invoice must not wait for it. What a stop of the app kept from being drawn is drawn at the next start.
 */
@Component
class Printer {

    private static final Logger LOG = LoggerFactory.getLogger(Printer.class);

    private final Invoices invoices;
    private final ExecutorService queue = Executors.newSingleThreadExecutor(job -> {
        var thread = new Thread(job, "printer");
        thread.setDaemon(true);
        return thread;
    });

    Printer(Invoices invoices) {
        this.invoices = invoices;
    }

    @TransactionalEventListener
    void draw(Issued issued) {
        queue.execute(() -> draw(issued.number()));
    }

    @EventListener(ApplicationReadyEvent.class)
    void catchUp() {
        queue.execute(() -> invoices.unprinted().forEach(this::draw));
    }

    private void draw(String number) {
        try {
            invoices.pdf(number);
        } catch (RuntimeException e) {
            LOG.warn("The paper of {} could not be drawn now; it is drawn when somebody asks for it.", number, e);
        }
    }

    @PreDestroy
    void stop() {
        queue.shutdownNow();
    }
}
