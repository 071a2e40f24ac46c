package idlewright.billing;

import java.util.ArrayList;
import java.util.List;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Many tickets that need nothing but their invoice. */
final class ReadyTickets {

    private ReadyTickets() {}

    /** Tickets that are ready to be invoiced, written straight into the tables: the counter would take minutes. */
    static List<Integer> write(JdbcClient jdbc, String who, int count) {
        long customer = jdbc.sql(
                        "insert into customer (name, phone, made_at) values ('Ferryman Couriers', '555 0109', now()) returning id")
                .query(Long.class)
                .single();
        long car = jdbc.sql(
                        "insert into vehicle (customer_id, plate, make, model, made_at) values (?, 'KL 204', 'Brightwater', 'Finch', now()) returning id")
                .param(customer)
                .query(Long.class)
                .single();
        var numbers = new ArrayList<Integer>(jdbc.sql("""
                insert into ticket (vehicle_id, customer_id, opened_at, opened_by, old_parts, road_test)
                select ?, ?, now(), ?, 'SHOW', 'YES' from generate_series(1, ?) returning number""")
                .params(car, customer, who, count)
                .query(Integer.class)
                .list());
        for (String insert : List.of(
                "insert into symptom (ticket_number, place, kind, words, heard_at, heard_by) select number, 1, 'hesitation', 'It hesitates.', now(), :who from ticket where customer_id = :customer",
                "insert into stamp (ticket_number, place, kind, at, who) select t.number, s.place, s.kind, now(), :who from ticket t, (values (1, null::integer, 'OPENED'), (2, 1, 'HEARD'), (3, null, 'AGREED'), (4, 1, 'DECLINED')) s (nr, place, kind) where t.customer_id = :customer order by t.number, s.nr",
                "insert into authorisation (ticket_number, kind, amount, words, channel, by_whom, at, taken_by) select number, 'REPAIR', 500, 'go ahead', 'PHONE', 'Teodor Quill', now(), :who from ticket where customer_id = :customer",
                "insert into charge (ticket_number, place, kind, what, quantity, each, at, who) select number, 1, 'LABOUR', 'Work', 1, 100, now(), :who from ticket where customer_id = :customer")) {
            jdbc.sql(insert).param("who", who).param("customer", customer).update();
        }
        return numbers;
    }
}
