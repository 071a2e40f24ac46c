package idlewright.intake;

import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Stale;
import idlewright.frame.Times;
import idlewright.intake.model.Customer;
import idlewright.intake.model.CustomerRows;
import idlewright.intake.rules.SymptomKinds;
import idlewright.journal.Exhibits;
import idlewright.journal.Journal;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The front door for customers. */
@Component
@Transactional
public class Customers {

    /** What a customer tells about themselves. */
    public record Telling(
            @Nullable String name,
            @Nullable String phone,
            @Nullable String email,
            @Nullable String address,
            @Nullable String contactBy,
            @Nullable String note,
            @Nullable String exemptNumber,
            @Nullable String exemptReason,
            @Nullable LocalDate exemptSince) {

        /** Of somebody who pays tax. */
        public Telling(
                @Nullable String name,
                @Nullable String phone,
                @Nullable String email,
                @Nullable String address,
                @Nullable String contactBy,
                @Nullable String note) {
            this(name, phone, email, address, contactBy, note, null, null, null);
        }

        void check(LocalDate today) {
            var problems = new LinkedHashMap<String, String>();
            if (name == null || name.isBlank()) {
                problems.put("name", "Enter the customer's name.");
            } else if (name.length() > 200) {
                problems.put("name", "Keep the name under 200 characters.");
            }
            if (phone != null && phone.replaceAll("\\D", "").length() < 4) {
                problems.put("phone", "Enter a phone number with at least four digits, like 555 0142.");
            }
            if (email != null && !email.matches("[^@\\s]+@[^@\\s]+\\.[^@\\s]+")) {
                problems.put("email", "Enter an e-mail address, like ines@bakery.example.");
            }
            if ("EMAIL".equals(contactBy) && email == null) {
                problems.put("email", "Enter the e-mail address at which the customer wants to be contacted.");
            }
            if ((contactBy == null || contactBy.equals("PHONE") || contactBy.equals("TEXT")) && phone == null) {
                problems.put("phone", "Enter the phone number at which the customer wants to be contacted.");
            }
            if (exemptNumber == null && (exemptReason != null || exemptSince != null)) {
                problems.put("exemptNumber", "Enter the number of the exemption, or empty all three fields.");
            } else if (exemptNumber != null) {
                if (exemptNumber.length() > 60) {
                    problems.put("exemptNumber", "Keep the number under 60 characters.");
                }
                if (exemptReason == null || exemptReason.length() > 200) {
                    problems.put(
                            "exemptReason",
                            "Say in up to 200 characters why no tax is paid; it is printed on the invoice.");
                }
                if (exemptSince == null || exemptSince.isAfter(today)) {
                    problems.put(
                            "exemptSince", "Enter the day since which it holds, today at the latest, like 2026-01-31.");
                }
            }
            Refused.ifAny(problems);
        }
    }

    /** Stands where a forgotten customer's words stood. */
    public static final String TAKEN_AWAY = "(the words were taken away)";

    private final CustomerRows rows;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;
    private final Times times;
    private final SymptomKinds kinds;
    private final Exhibits exhibits;
    private final List<Memory> memories;

    Customers(
            CustomerRows rows,
            Journal journal,
            JdbcClient jdbc,
            Clock clock,
            Times times,
            SymptomKinds kinds,
            Exhibits exhibits,
            List<Memory> memories) {
        this.exhibits = exhibits;
        this.kinds = kinds;
        this.memories = memories;
        this.times = times;
        this.rows = rows;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    public CustomerView add(Telling telling) {
        telling.check(times.today());
        var customer = new Customer(clock.instant());
        tell(customer, telling);
        rows.saveAndFlush(customer);
        journal.note("customer added", null, "A customer was added.", Map.of("customer", customer.id()));
        return get(customer.id());
    }

    public void amend(long id, int version, Telling telling) {
        telling.check(times.today());
        Customer customer = rows.findById(id).orElseThrow(() -> NotFound.of("customer " + id));
        if (get(id).anonymous()) {
            throw Refused.because("This customer is forgotten. Add a new one, and let the car change hands.");
        }
        if (customer.version() != version) {
            CustomerView now = get(id);
            var clashes = new ArrayList<Stale.Clash>();
            clash(clashes, "name", telling.name(), now.name());
            clash(clashes, "phone", telling.phone(), now.phone());
            clash(clashes, "e-mail", telling.email(), now.email());
            clash(clashes, "address", telling.address(), now.address());
            clash(clashes, "note", telling.note(), now.note());
            clash(
                    clashes,
                    "exemption number",
                    telling.exemptNumber(),
                    now.taxFree() == null ? null : now.taxFree().number());
            throw new Stale(
                    "The customer", clashes, "somebody at another terminal", null, "/customers/" + id + "/amending");
        }
        tell(customer, telling);
        rows.saveAndFlush(customer);
        journal.note("customer amended", null, "A customer's details were amended.", Map.of("customer", id));
    }

    /** What stays of a customer who is forgotten, and why: all rooms are asked. */
    @OnlyReads
    public List<Memory.Kept> kept(long id) {
        return keptOf(whose(id));
    }

    private List<Memory.Kept> keptOf(Memory.Whose whose) {
        return memories.stream().flatMap(memory -> memory.kept(whose).stream()).toList();
    }

    private Memory.Whose whose(long id) {
        Instant forgotten =
                jdbc
                        .sql("select anonymous_at from customer where id = ?")
                        .param(id)
                        .query(Timestamp.class)
                        .list()
                        .stream()
                        .filter(Objects::nonNull)
                        .map(Timestamp::toInstant)
                        .findFirst()
                        .orElse(null);
        return new Memory.Whose(
                id,
                jdbc.sql("select number from ticket where customer_id = ? order by number")
                        .param(id)
                        .query(Integer.class)
                        .list(),
                forgotten);
    }

    /**
     * Takes the personal data away: who it was, and what they said; visits, readings and invoices stay as they are.
     *
     * @param choice of what need not stay; null where nothing has to be chosen
     */
    public void forget(long id, Memory.@Nullable Choice choice) {
        Customer customer = rows.findById(id).orElseThrow(() -> NotFound.of("customer " + id));
        Memory.Whose whose = whose(id);
        boolean asks = keptOf(whose).stream().anyMatch(Memory.Kept::asks);
        if (!asks && whose.forgotten() != null) {
            throw Refused.because("This customer is forgotten already, and nothing is left to choose.");
        }
        if (asks && choice == null) {
            throw Refused.at("choice", "Choose whether the dossiers with this name are kept or destroyed.");
        }
        if (asks && (choice.reason().isBlank() || choice.reason().length() > 400)) {
            throw Refused.at(
                    "reason",
                    "Say why, in up to 400 characters, like: the claim before the court in Marlow is not decided yet.");
        }
        if (whose.forgotten() != null) {
            memories.forEach(memory -> memory.forget(whose, Objects.requireNonNull(choice)));
            return;
        }
        customer.forget(clock.instant());
        rows.saveAndFlush(customer);
        jdbc.sql("""
                update letter set recipient = '', subject = '', body = '', enclosure = null, enclosure_name = null, problem = null,
                    state = case when state in ('SENT', 'RESTED') then state when state in ('SENDING', 'UNSURE') then 'RESTED'
                        else 'WITHDRAWN' end
                where customer_id = ?""").param(id).update();
        forgetWords(id);
        Memory.Choice chosen = choice == null ? new Memory.Choice(true, "") : choice;
        memories.forEach(memory -> memory.forget(whose, chosen));
        journal.note(
                "customer made anonymous", null, "A customer's personal data were taken away.", Map.of("customer", id));
    }

    /** What was said goes; answers chosen from a list stay: the causes are ranked by them, and they name nobody. */
    private void forgetWords(long id) {
        String theirs = "(select number from ticket where customer_id = ?)";
        jdbc.sql("update words_said set words = null, salt = null where ticket_number in " + theirs)
                .param(id)
                .update();
        jdbc.sql("update symptom set words = ?, version = version + 1 where ticket_number in " + theirs)
                .params(TAKEN_AWAY, id)
                .update();
        record Typed(int ticket, int place, String question) {}
        jdbc
                .sql("""
                        select a.ticket_number, a.place, y.kind, a.question, a.answer from symptom_answer a
                        join symptom y on y.ticket_number = a.ticket_number and y.place = a.place
                        where a.ticket_number in\s""" + theirs)
                .param(id)
                .query((r, n) -> kinds.chosen(r.getString(3), r.getString(4), r.getString(5))
                        ? null
                        : new Typed(r.getInt(1), r.getInt(2), r.getString(4)))
                .list()
                .stream()
                .filter(Objects::nonNull)
                .forEach(typed -> jdbc.sql(
                                "delete from symptom_answer where ticket_number = ? and place = ? and question = ?")
                        .params(typed.ticket(), typed.place(), typed.question())
                        .update());
        jdbc.sql("update odometer set remark = null where remark is not null and ticket_number in " + theirs)
                .param(id)
                .update();
        jdbc.sql("update vehicle set plate = null, version = version + 1 where customer_id = ?")
                .param(id)
                .update();
    }

    /** All that the house keeps about a customer, for them to take along. */
    @OnlyReads
    public Map<String, Object> export(long id) {
        var all = new LinkedHashMap<String, Object>();
        all.put("customer", get(id));
        all.put("vehicles", rows("select * from vehicle where customer_id = ? order by id", id));
        all.put("odometer", rows("""
                select o.* from odometer o join vehicle v on v.id = o.vehicle_id where v.customer_id = ? order by o.id""", id));
        all.put("visits", rows("select * from ticket where customer_id = ? order by number", id));
        all.put("words", rows("""
                select y.* from symptom y join ticket t on t.number = y.ticket_number where t.customer_id = ? order by 1, 2""", id));
        all.put("words before", rows("""
                select s.ticket_number, s.place, lower(s.what) as what, s.words, s.at, s.who
                from words_said s join ticket t on t.number = s.ticket_number
                where t.customer_id = ? and exists (select from words_said l where l.ticket_number = s.ticket_number
                    and l.place = s.place and l.what = s.what and l.id > s.id)
                order by s.id""", id));
        all.put("answers", rows("""
                select a.* from symptom_answer a join ticket t on t.number = a.ticket_number
                where t.customer_id = ? order by 1, 2, 3""", id));
        all.put("stamps", rows("""
                select s.* from stamp s join ticket t on t.number = s.ticket_number where t.customer_id = ? order by s.id""", id));
        all.put("letters", rows("""
                select id, ticket_number, what, recipient, subject, body, enclosure_name, state, written_at, sent_at
                from letter where customer_id = ? order by id""", id));
        Memory.Whose whose = whose(id);
        all.put(
                "photos and files",
                whose.tickets().stream()
                        .flatMap(number -> exhibits.of(number).stream())
                        .toList());
        memories.forEach(memory -> all.putAll(memory.of(whose)));
        return all;
    }

    private List<Map<String, Object>> rows(String sql, long id) {
        return jdbc.sql(sql).param(id).query().listOfRows();
    }

    @OnlyReads
    public CustomerView get(long id) {
        return jdbc.sql("""
                select id c_id, name c_name, phone, email, address, contact_by, note c_note,
                       anonymous_at is not null anonymous, exempt_number, exempt_reason, exempt_since, version c_version
                from customer where id = ?""")
                .param(id)
                .query((r, n) -> TicketReads.customer(r))
                .optional()
                .orElseThrow(() -> NotFound.of("customer " + id));
    }

    private static void tell(Customer customer, Telling telling) {
        customer.tell(
                Objects.requireNonNull(telling.name()).strip(),
                telling.phone(),
                telling.email(),
                telling.address(),
                telling.contactBy() == null ? "PHONE" : telling.contactBy(),
                telling.note());
        customer.payTax(telling.exemptNumber(), telling.exemptReason(), telling.exemptSince());
    }

    private static void clash(
            List<Stale.Clash> clashes, String field, @Nullable String yours, @Nullable String theirs) {
        if (!Objects.equals(yours, theirs)) {
            clashes.add(new Stale.Clash(
                    field, Objects.requireNonNullElse(yours, ""), Objects.requireNonNullElse(theirs, "")));
        }
    }
}
