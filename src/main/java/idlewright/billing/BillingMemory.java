package idlewright.billing;

import idlewright.intake.Memory;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** What money remembers of a customer: all of it is evidence or books, and stays. */
@Component
class BillingMemory implements Memory {

    private final JdbcClient jdbc;

    BillingMemory(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    @Override
    public Map<String, List<Map<String, Object>>> of(Whose whose) {
        var all = new LinkedHashMap<String, List<Map<String, Object>>>();
        all.put("estimates", rows("""
                select e.ticket_number, e.issue, e.made_at, e.made_by, e.offered_at, e.offered_how, e.note
                from estimate e where e.ticket_number = any(:tickets) order by e.id""", whose));
        all.put("agreements", rows("""
                select a.ticket_number, a.kind, a.amount, a.words, a.channel, a.by_whom, a.at, a.taken_by, a.reason
                from authorisation a where a.ticket_number = any(:tickets) order by a.id""", whose));
        all.put("answers to estimates", rows("""
                select e.ticket_number, e.issue, o.channel, o.by_whom, o.words, o.at, o.taken_by
                from offer_answer o join estimate e on e.id = o.estimate_id
                where e.ticket_number = any(:tickets) order by o.id""", whose));
        all.put("invoices", rows("""
                select number, ticket_number, credits, reason, issued_at, due, currency, net, tax, total, customer, address, vehicle
                from invoice where customer_id = :customer order by issued_at, number""", whose));
        all.put("payments", rows("""
                select invoice_number, ticket_number, amount, method, note, at, who
                from payment where customer_id = :customer order by id""", whose));
        return all;
    }

    @Override
    public List<Kept> kept(Whose whose) {
        var invoices = new ArrayList<Thing>();
        var agreed = new ArrayList<Thing>();
        jdbc.sql("""
                select true, number, '/invoices/' || number from invoice where customer_id = :customer
                union all
                select false, 'ticket ' || t, '/tickets/' || t from unnest(:tickets::integer[]) t
                where exists (select from authorisation a where a.ticket_number = t)
                   or exists (select from offer_answer o join estimate e on e.id = o.estimate_id where e.ticket_number = t)
                order by 1 desc, 2""")
                .param("customer", whose.customer())
                .param("tickets", whose.numbers())
                .query(r -> {
                    (r.getBoolean(1) ? invoices : agreed).add(new Thing(r.getString(2), r.getString(3)));
                });
        var kept = new ArrayList<Kept>();
        if (!invoices.isEmpty()) {
            kept.add(new Kept(
                    "Invoices and credit notes, with the name and address printed on them",
                    "The law on books asks for them as they were issued; an issued one never changes.",
                    false,
                    invoices));
        }
        if (!agreed.isEmpty()) {
            kept.add(new Kept(
                    "Agreements and answers to estimates: who agreed, and in which words",
                    "They prove that the work was ordered.",
                    false,
                    agreed));
        }
        return kept;
    }

    private List<Map<String, Object>> rows(String query, Whose whose) {
        return jdbc.sql(query)
                .param("customer", whose.customer())
                .param("tickets", whose.numbers())
                .query()
                .listOfRows();
    }
}
