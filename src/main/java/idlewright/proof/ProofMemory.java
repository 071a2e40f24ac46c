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
    public Map<String, List<Map<String, Object>>> of(Whose whose) {
        var all = new LinkedHashMap<String, List<Map<String, Object>>>();
        all.put("follow-ups", rows("""
                select f.ticket_number, o.place, o.outcome, f.note, f.by_link, f.at, f.who
                from follow_up f left join follow_up_outcome o on o.follow_up_id = f.id
                where f.ticket_number = any(?) order by f.id, o.place""", whose));
        all.put("answers by link", rows("""
                select a.ticket_number, a.place, a.outcome, a.words, a.at
                from customer_answer a where a.ticket_number = any(?) order by a.id""", whose));
        return all;
    }

    @Override
    public void forget(Whose whose, Choice choice) {
        jdbc.sql("""
                update customer_answer set words = null
                where words is not null and ticket_number = any(?)""").param(whose.numbers()).update();
        jdbc.sql("""
                update follow_up set note = null
                where note is not null and ticket_number = any(?)""").param(whose.numbers()).update();
    }

    private List<Map<String, Object>> rows(String query, Whose whose) {
        return jdbc.sql(query).param(whose.numbers()).query().listOfRows();
    }
}
