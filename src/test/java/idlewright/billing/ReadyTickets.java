package idlewright.billing;

import java.util.ArrayList;
import java.util.List;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Many tickets that need nothing but their invoice. */
final class ReadyTickets {

    private ReadyTickets() {}

    /** Tickets of a customer and a car each that are ready to be invoiced, by somebody who has opened no other, written straight into the tables: the counter would take minutes. */
    static List<Integer> write(JdbcClient jdbc, String who, int count) {
        jdbc.sql("""
                with customers as (
                    insert into customer (name, phone, made_at)
                    select 'Ferryman Couriers ' || n, '555 0109', now() from generate_series(1, ?) n returning id
                ), cars as (
                    insert into vehicle (customer_id, plate, make, model, made_at)
                    select id, 'KL ' || id, 'Brightwater', 'Finch', now() from customers returning id, customer_id
                )
                insert into ticket (vehicle_id, customer_id, opened_at, opened_by, old_parts, road_test)
                select id, customer_id, now(), ?, 'SHOW', 'YES' from cars""").params(count, who).update();
        var numbers = new ArrayList<Integer>(jdbc.sql("select number from ticket where opened_by = ? order by number")
                .param(who)
                .query(Integer.class)
                .list());
        for (String insert : List.of(
                "insert into symptom (ticket_number, place, kind, words, heard_at, heard_by) select number, 1, 'hesitation', 'It hesitates.', now(), :who from ticket where opened_by = :who",
                "insert into stamp (ticket_number, place, kind, at, who) select t.number, s.place, s.kind, now(), :who from ticket t, (values (1, null::integer, 'OPENED'), (2, 1, 'HEARD'), (3, null, 'AGREED'), (4, 1, 'DECLINED')) s (nr, place, kind) where t.opened_by = :who order by t.number, s.nr",
                "insert into authorisation (ticket_number, kind, amount, words, channel, by_whom, at, taken_by) select number, 'REPAIR', 500, 'go ahead', 'PHONE', 'Teodor Quill', now(), :who from ticket where opened_by = :who",
                "insert into charge (ticket_number, place, kind, what, quantity, each, at, who) select number, 1, 'LABOUR', 'Work', 1, 100, now(), :who from ticket where opened_by = :who")) {
            jdbc.sql(insert).param("who", who).update();
        }
        return numbers;
    }
}
