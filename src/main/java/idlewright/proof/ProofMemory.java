package idlewright.proof;

import idlewright.intake.Memory;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** What the follow-up remembers of a customer: what they said, which goes with them. */
@Component
class ProofMemory implements Memory {

    private final JdbcClient jdbc;

    ProofMemory(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    @Override
    public Map<String, List<Map<String, Object>>> of(long customer) {
        var all = new LinkedHashMap<String, List<Map<String, Object>>>();
        all.put("follow-ups", rows("""
                select f.ticket_number, o.place, o.outcome, f.note, f.by_link, f.at, f.who
                from follow_up f join ticket t on t.number = f.ticket_number
                left join follow_up_outcome o on o.follow_up_id = f.id
                where t.customer_id = ? order by f.id, o.place""", customer));
        all.put("answers by link", rows("""
                select a.ticket_number, a.place, a.outcome, a.words, a.at
                from customer_answer a join ticket t on t.number = a.ticket_number
                where t.customer_id = ? order by a.id""", customer));
        return all;
    }

    @Override
    public void forget(long customer, Choice choice) {
        jdbc.sql("""
                update customer_answer set words = null
                where words is not null and ticket_number in (select number from ticket where customer_id = ?)""").param(customer).update();
        jdbc.sql("""
                update follow_up set note = null
                where note is not null and ticket_number in (select number from ticket where customer_id = ?)""").param(customer).update();
    }

    private List<Map<String, Object>> rows(String query, long customer) {
        return jdbc.sql(query).param(customer).query().listOfRows();
    }
}
