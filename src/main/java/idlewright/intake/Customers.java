package idlewright.intake;

import idlewright.frame.NotFound;
import idlewright.frame.Refused;
import idlewright.frame.Stale;
import idlewright.frame.Times;
import idlewright.intake.model.Customer;
import idlewright.intake.model.CustomerRows;
import idlewright.journal.Journal;
import java.time.Clock;
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

    private final CustomerRows rows;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;
    private final Times times;

    Customers(CustomerRows rows, Journal journal, JdbcClient jdbc, Clock clock, Times times) {
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

    /** Takes the personal data away; visits, readings and invoices stay as they are. */
    public void forget(long id) {
        Customer customer = rows.findById(id).orElseThrow(() -> NotFound.of("customer " + id));
        customer.forget(clock.instant());
        rows.saveAndFlush(customer);
        jdbc.sql("""
                update letter set recipient = '', subject = '', body = '', enclosure = null, enclosure_name = null, problem = null,
                    state = case when state = 'SENT' then state else 'WITHDRAWN' end
                where customer_id = ?""").param(id).update();
        journal.note(
                "customer made anonymous", null, "A customer's personal data were taken away.", Map.of("customer", id));
    }

    /** All that is kept about a customer in this room, for them to take along. */
    @Transactional(readOnly = true)
    public Map<String, Object> export(long id) {
        var all = new LinkedHashMap<String, Object>();
        all.put("customer", get(id));
        all.put("vehicles", rows("select * from vehicle where customer_id = ? order by id", id));
        all.put(
                "odometer",
                rows(
                        "select o.* from odometer o join vehicle v on v.id = o.vehicle_id where v.customer_id = ? order by o.id",
                        id));
        all.put("visits", rows("select * from ticket where customer_id = ? order by number", id));
        all.put(
                "words",
                rows(
                        "select y.* from symptom y join ticket t on t.number = y.ticket_number where t.customer_id = ? order by 1, 2",
                        id));
        all.put(
                "answers",
                rows(
                        "select a.* from symptom_answer a join ticket t on t.number = a.ticket_number where t.customer_id = ? order by 1, 2, 3",
                        id));
        all.put(
                "stamps",
                rows(
                        "select s.* from stamp s join ticket t on t.number = s.ticket_number where t.customer_id = ? order by s.id",
                        id));
        all.put(
                "letters",
                rows(
                        "select id, ticket_number, what, recipient, subject, state, written_at, sent_at from letter where customer_id = ? order by id",
                        id));
        return all;
    }

    private List<Map<String, Object>> rows(String sql, long id) {
        return jdbc.sql(sql).param(id).query().listOfRows();
    }

    @Transactional(readOnly = true)
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
