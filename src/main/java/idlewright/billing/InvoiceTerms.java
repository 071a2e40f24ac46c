package idlewright.billing;

import idlewright.intake.TicketNumber;
import java.util.List;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** The terms on an invoice: asked while it is a draft, frozen when it is issued. */
@Component
class InvoiceTerms {

    private final ObjectProvider<PrintedTerms> terms;
    private final JdbcClient jdbc;

    InvoiceTerms(ObjectProvider<PrintedTerms> terms, JdbcClient jdbc) {
        this.terms = terms;
        this.jdbc = jdbc;
    }

    void freeze(String invoice, List<String> promises) {
        int nr = 0;
        for (String words : promises) {
            jdbc.sql("insert into invoice_terms (invoice_number, nr, words) values (?, ?, ?)")
                    .params(invoice, ++nr, words)
                    .update();
        }
    }

    /** What stands on a paper; a draft says what it would say. */
    List<String> of(InvoiceView invoice) {
        return invoice.number().equals("draft")
                ? now(invoice.ticket())
                : jdbc.sql("select words from invoice_terms where invoice_number = ? order by nr")
                        .param(invoice.number())
                        .query(String.class)
                        .list();
    }

    List<String> now(TicketNumber number) {
        return terms.orderedStream().flatMap(each -> each.of(number).stream()).toList();
    }
}
