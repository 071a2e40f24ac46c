package idlewright.billing;

import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.journal.ShopKey;
import idlewright.people.Shops;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** What stands on an invoice besides its story and its money: asked while it is a draft, frozen when it is issued. */
@Component
class InvoiceBesides {

    /** Papers of before this was kept say neither. */
    record Besides(@Nullable String oldParts, @Nullable String keyPrint, String email, boolean eInvoice) {}

    private final Tickets tickets;
    private final Shops shops;
    private final ShopKey key;
    private final JdbcClient jdbc;

    InvoiceBesides(Tickets tickets, Shops shops, ShopKey key, JdbcClient jdbc) {
        this.tickets = tickets;
        this.shops = shops;
        this.key = key;
        this.jdbc = jdbc;
    }

    void freeze(String invoice, Besides now) {
        jdbc.sql("insert into invoice_besides (invoice_number, old_parts, key_print, email) values (?, ?, ?, ?)")
                .param(invoice)
                .param(now.oldParts())
                .param(now.keyPrint())
                .param(now.email())
                .update();
    }

    Besides of(InvoiceView invoice) {
        return invoice.number().equals("draft")
                ? now(invoice.ticket())
                : jdbc.sql("""
                        select b.old_parts, b.key_print, b.email, exists (select from invoice_xml x where x.invoice_number = b.invoice_number)
                        from invoice_besides b where b.invoice_number = ?""")
                        .param(invoice.number())
                        .query((r, n) -> new Besides(r.getString(1), r.getString(2), r.getString(3), r.getBoolean(4)))
                        .optional()
                        .orElse(new Besides(null, null, "", false));
    }

    Besides now(TicketNumber number) {
        String print = "%s, fingerprint %s".formatted(key.publicLine(), key.fingerprint());
        return new Besides(
                tickets.get(number).oldPartsWords(), print, shops.shop().email(), false);
    }
}
