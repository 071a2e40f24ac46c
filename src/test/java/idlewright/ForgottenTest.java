package idlewright;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import idlewright.bench.Bench;
import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.KeyState;
import idlewright.bench.rules.Motion;
import idlewright.billing.Authorisations;
import idlewright.billing.Charges;
import idlewright.billing.Estimates;
import idlewright.billing.Invoices;
import idlewright.billing.Offers;
import idlewright.billing.Payments;
import idlewright.billing.Rates;
import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.frame.NotFound;
import idlewright.frame.Refused;
import idlewright.ground.TestDatabase;
import idlewright.ground.WithDatabase;
import idlewright.intake.Customers;
import idlewright.intake.Memory;
import idlewright.intake.ShopNotes;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.intake.rules.ThreadStamp;
import idlewright.journal.Exhibits;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.proof.AnswerLinks;
import idlewright.proof.FollowUps;
import idlewright.proof.Proofs;
import idlewright.proof.rules.Codes;
import idlewright.proof.rules.Monitors;
import idlewright.proof.rules.Outcome;
import idlewright.proof.rules.RoadTest;
import idlewright.proof.rules.Statement;
import idlewright.reference.money.Money;
import idlewright.repair.Findings;
import idlewright.repair.Labours;
import idlewright.repair.Swaps;
import idlewright.repair.rules.Answer;
import idlewright.repair.rules.Check;
import idlewright.repair.rules.FittedPart;
import idlewright.repair.rules.Pay;
import idlewright.repair.rules.RemovedPart;
import idlewright.repair.rules.Went;
import idlewright.warranty.Dossiers;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.jdbc.core.simple.JdbcClient;

/** One complaint through the whole house, told in words that are found again wherever they lie. */
@SpringBootTest
@WithDatabase
@DisplayName("What a customer tells")
class ForgottenTest {

    private static final Statement GONE =
            new Statement(Codes.NONE_STORED, "", Monitors.READY, "", RoadTest.GONE, "", "");

    private final String tell = UUID.randomUUID().toString().substring(0, 6);
    private final String staff = UUID.randomUUID().toString().substring(0, 6);
    private final String name = "Quillnamed " + tell;
    private final String phone = "07" + Math.abs(tell.hashCode() % 900000 + 100000) + " 4471";
    private final String email = "mailed-" + tell + "@quill.example";
    private final String address = "9 Addressed Row " + tell;
    private final String note = "notes-" + tell;
    private final String plate = "PL " + tell.toUpperCase(Locale.ROOT);
    private final String firstWords = "firstly-" + tell + " it hesitates";
    private final String words = "lastly-" + tell + " it hesitates when laden";
    private final String firstAnswer = "sincefirst-" + tell;
    private final String answer = "sincelast-" + tell;
    private final String remark = "remarked-" + tell;
    private final String left = "leftalone-" + tell;
    private final String linked = "linked-" + tell;
    private final String exempt = "EX-" + tell;
    private final String called = "called-" + tell;
    private final String agreedWords = "agreeing-" + tell;

    private final List<String> tells = List.of(
            name,
            phone,
            email,
            address,
            note,
            plate,
            firstWords,
            words,
            firstAnswer,
            answer,
            remark,
            linked,
            called,
            left,
            agreedWords,
            exempt);

    @Autowired
    private People people;

    @Autowired
    private Customers customers;

    @Autowired
    private Vehicles vehicles;

    @Autowired
    private Tickets tickets;

    @Autowired
    private Bench bench;

    @Autowired
    private Rates rates;

    @Autowired
    private Estimates estimates;

    @Autowired
    private Offers offers;

    @Autowired
    private Authorisations authorisations;

    @Autowired
    private Charges charges;

    @Autowired
    private Invoices invoices;

    @Autowired
    private Payments payments;

    @Autowired
    private Findings findings;

    @Autowired
    private Swaps swaps;

    @Autowired
    private Labours labours;

    @Autowired
    private Proofs proofs;

    @Autowired
    private Dossiers dossiers;

    @Autowired
    private FollowUps followUps;

    @Autowired
    private AnswerLinks links;

    @Autowired
    private Exhibits exhibits;

    @Autowired
    private ShopNotes notes;

    @Autowired
    private Journal journal;

    @Autowired
    private JdbcClient sql;

    private Person odile;
    private long customer;
    private TicketNumber number;
    private SymptomRef thread;
    private String invoice;
    private String named;
    private String unnamed;

    @BeforeEach
    void theWholeJob() {
        odile = people.hire(
                "Odile " + staff, "odile-" + staff, "ledger under lamp " + staff, null, Set.of(Role.values()));
        people.as(odile, () -> {
            isHeard();
            isRepaired();
            isFollowedUp();
            return null;
        });
    }

    private void isHeard() {
        customer = customers
                .add(new Customers.Telling(
                        name, phone, email, address, "PHONE", note, exempt, "a school", LocalDate.of(2020, 1, 1)))
                .id();
        long van = vehicles.add(
                        customer,
                        new Vehicles.Telling(
                                null,
                                plate,
                                "Brightwater",
                                "Finch",
                                2019,
                                "FG-" + staff,
                                new BigDecimal("2.2"),
                                4,
                                "PETROL",
                                "NATURAL",
                                "HOT_FILM",
                                "MANUAL",
                                "km"))
                .id();
        number = tickets.open(new Tickets.Opening(van, new BigDecimal("86940"), remark, "7", "SHOW", "YES"));
        thread = tickets.hear(number, "stumble-tip-in", firstWords);
        var second = tickets.hear(number, "poor-economy", words);
        tickets.amend(thread, tickets.get(number).symptom(1).version(), "hesitation", words);
        tickets.answer(thread, Map.of("since", firstAnswer, "often", "every day"));
        tickets.answer(thread, Map.of("since", answer, "often", "every day", "phase", "tip-in, cruise"));
        agree(Agreement.DIAGNOSIS, null);
        tickets.end(second, ThreadStamp.DECLINED, left);
        exhibits.keep(
                new ByteArrayInputStream("a,b\n1,2\n".getBytes(StandardCharsets.UTF_8)),
                "drive.csv",
                number.value(),
                1,
                "log",
                "");
    }

    private void isRepaired() {
        measure(false, "10.9");
        findings.decide(thread, "air-sensor-supply", "green joint behind the battery", "Renew the joint");
        var line = new Line(1, LineKind.PART, "air-flow sensor", BigDecimal.ONE, money("40"), null);
        long estimate = estimates.write(number, List.of(line), null).id();
        offers.link(estimate);
        String secret = offers.linkOf(estimate).orElseThrow().path().replaceAll(".*/", "");
        offers.answer(secret, Map.of(1, true), name);
        long swap = swaps.start(
                thread,
                new RemovedPart("AF-2210-7", "Halden", "4W19", "oil film on the element", Went.KEPT),
                new FittedPart("air-flow sensor", "AF 2210 7", "Halden", "L-77", "Marlow Parts", money("143")),
                false,
                new Pay.ByEstimate(estimates.get(estimate).lines().get(0).id()));
        swaps.answer(
                swap, Arrays.stream(Check.values()).collect(Collectors.toMap(Function.identity(), c -> Answer.yes())));
        swaps.makeFinal(swap);
        labours.add(thread, "Renewed the joint", new BigDecimal("0.4"), new Pay.Free("goodwill"));
        measure(true, "12.44");
        proofs.prove(thread, GONE);
        invoice = invoices.issue(number).number();
        payments.take(invoice, payments.owed(invoice), "CARD", null);
        tickets.handBack(number, new BigDecimal("86960"), null, 7);
    }

    private void isFollowedUp() {
        named = dossiers.seal(thread, true, false).code();
        unnamed = dossiers.seal(thread, false, false).code();
        String secret = links.make(number).path().replaceAll(".*/", "");
        links.answer(secret, Map.of(1, Outcome.RETURNED), linked);
        followUps.record(number, Map.of(1, Outcome.RETURNED), called, true, null);
        // Left in the queue as it would be while the mail server is away.
        sql.sql("""
                insert into letter (customer_id, ticket_number, what, recipient, subject, body, next_try, written_at, written_by)
                values (?, ?, 'follow-up', ?, ?, ?, now(), now(), 'Odile')""")
                .param(customer)
                .param(number.value())
                .param(email)
                .param("For " + name)
                .param("Dear " + name + ", " + words)
                .update();
    }

    @Test
    void neverReachesTheJournal() {
        assertThat(journal.of(number.value())).hasSizeGreaterThan(25);
        assertThat(journal.verify().sound()).isTrue();
        // Every tell-tale string holds the tell.
        assertThat(tells)
                .allSatisfy(told -> assertThat(told).containsAnyOf(tell, tell.toUpperCase(Locale.ROOT), phone));
        assertThat(sql.sql("""
                        select sentence || ' ' || facts from journal_entry e
                        where exists (select from jsonb_each_text(to_jsonb(e)) c where c.value ilike any (?))""")
                        .param(new String[] {"%" + tell + "%", "%" + phone + "%"})
                        .query(String.class)
                        .list())
                .isEmpty();
    }

    @Test
    void isProvedByTheJournalAsLongAsItIsKept() throws SQLException {
        assertThat(journal.of(number.value()))
                .filteredOn(entry -> entry.kind().equals("symptom amended"))
                .singleElement()
                .satisfies(entry ->
                        assertThat(entry.facts()).contains("\"digest\":", "\"kind before\":\"stumble-tip-in\""));
        assertThat(contradicted()).isEmpty();
        long id = sql.sql("select min(id) from words_said where ticket_number = ?")
                .param(number.value())
                .query(Long.class)
                .single();
        // As somebody would who owns the database.
        var owner = TestDatabase.owner();
        try (var connection = DriverManager.getConnection(owner.url(), owner.role(), owner.password());
                var statement = connection.createStatement()) {
            statement.execute("alter table words_said disable trigger user");
            statement.execute("update words_said set words = 'it never hesitated' where id = " + id);
            statement.execute("alter table words_said enable trigger user");
        }
        assertThat(contradicted()).containsExactly(id);
    }

    @Test
    void isNeverChangedOnlyTakenAway() {
        assertThatThrownBy(() -> sql.sql("update words_said set words = 'other' where ticket_number = ?")
                        .param(number.value())
                        .update())
                .hasMessageContaining("never changed");
        assertThatThrownBy(() -> sql.sql(
                                "update customer_answer set outcome = 'BETTER', words = null where ticket_number = ?")
                        .param(number.value())
                        .update())
                .hasMessageContaining("never changed");
        assertThatThrownBy(() -> sql.sql("delete from follow_up where ticket_number = ?")
                        .param(number.value())
                        .update())
                .hasStackTraceContaining("permission denied");
    }

    @Test
    void isShownBesideWhatWasSaidLater() {
        var before = tickets.get(number).symptom(1).before();
        assertThat(before)
                .extracting("words")
                .containsExactly(firstWords, "Since when: " + firstAnswer + "\nHow often: every day");
        assertThat(before).extracting("who").containsOnly(odile.name());
    }

    @Test
    void goesAlongInTheCustomersFile() {
        var file = customers.export(customer);
        assertThat(file.keySet())
                .contains(
                        "words before", "letters", "agreements", "answers to estimates", "answers by link", "dossiers");
        String all = file.toString();
        assertThat(tells).allSatisfy(told -> assertThat(all).contains(told));
        assertThat(all).contains(agreedWords, invoice, named, unnamed, "drive.csv");
    }

    @Test
    void isGoneFromEveryTableOnceForgottenButForWhatTheLawKeeps() {
        assertThat(places())
                .contains("customer.name", "symptom.words", "symptom_answer.answer", "vehicle.plate", "letter.body");
        choose(true, "The claim before the court is not decided yet.");
        assertThat(places())
                .as("the only columns that still hold something of the customer, see docs/operations.md")
                .containsExactlyInAnyOrder(
                        // Evidence that the work was ordered.
                        "authorisation.by_whom",
                        "authorisation.words",
                        "offer_answer.by_whom",
                        // The tax office's paper, as it was issued; its PDF too.
                        "invoice.customer",
                        "invoice.address",
                        "invoice.vehicle",
                        "invoice.exempt_number",
                        "invoice_story.title",
                        "invoice_story.said",
                        // What the shop wrote about the work: a reason why a thread ended.
                        "stamp.note");
        assertThat(sql.sql("select words from symptom where ticket_number = ? and place = 1")
                        .param(number.value())
                        .query(String.class)
                        .single())
                .isEqualTo(Customers.TAKEN_AWAY);
        assertThat(tickets.get(number).symptom(1).answers())
                .extracting("answer")
                .containsExactlyInAnyOrder("every day", "tip-in, cruise");
        assertThat(tickets.get(number).symptom(1).before()).isEmpty();
        assertThat(journal.verify().sound()).isTrue();
        assertThat(invoices.get(invoice).customer()).isEqualTo(name);
    }

    @Test
    void isTakenOutOfTheNotesOfTheShopThatTheOwnerTicks() {
        var picture = people.as(
                odile,
                () -> exhibits.keep(
                        new ByteArrayInputStream("a,b\n3,4\n".getBytes(StandardCharsets.UTF_8)),
                        "again.csv",
                        number.value(),
                        1,
                        "log",
                        "taken by " + name));
        assertThat(notes.of(customer)).extracting("words").contains(left, "taken by " + name);
        assertThatThrownBy(() -> takeAway(n -> true)).hasMessageContaining("made anonymous");
        choose(true, "The claim before the court is not decided yet.");
        assertThat(places()).contains("stamp.note", "exhibit.caption");
        takeAway(note -> note.words().contains(tell));
        assertThat(places()).doesNotContain("stamp.note", "exhibit.caption");
        assertThat(notes.of(customer)).noneMatch(note -> note.words().contains(tell));
        assertThat(exhibits.get(picture.id()).caption()).isEmpty();
        assertThat(sql.sql(
                                "select kind || ' ' || coalesce(note, 'blank') from stamp where ticket_number = ? and place = 2")
                        .param(number.value())
                        .query(String.class)
                        .list())
                .contains("DECLINED blank");
        assertThat(journal.of(number.value())).extracting("kind").contains("words taken away");
        assertThat(journal.verify().sound()).isTrue();
        assertThatThrownBy(() -> sql.sql("update stamp set note = 'other' where ticket_number = ?")
                        .param(number.value())
                        .update())
                .hasStackTraceContaining("permission denied for table stamp");
    }

    private void takeAway(java.util.function.Predicate<ShopNotes.Note> which) {
        people.as(odile, () -> {
            notes.takeAway(
                    customer,
                    notes.of(customer).stream()
                            .filter(which)
                            .map(ShopNotes.Note::key)
                            .toList());
            return null;
        });
    }

    @Test
    void comesBackByNoOldLinkAndByNoAmendment() {
        String secret =
                people.as(odile, () -> links.of(number)).orElseThrow().path().replaceAll(".*/", "");
        assertThat(links.open(secret).ticket()).isEqualTo(number);
        choose(false, "Nobody needs it.");
        assertThatThrownBy(() -> links.open(secret)).isInstanceOf(NotFound.class);
        assertThatThrownBy(() -> people.as(odile, () -> {
                    customers.amend(
                            customer, 2, new Customers.Telling("Somebody else", "555 0100", null, null, "PHONE", null));
                    return null;
                }))
                .hasMessageContaining("is forgotten");
    }

    @Test
    void staysInASealedDossierOnlyForAReason() {
        assertThat(kept()).anySatisfy(one -> {
            assertThat(one.asks()).isTrue();
            assertThat(one.things()).extracting("words").containsExactly(named);
        });
        assertThatThrownBy(() -> choose(null, "")).hasMessageContaining("kept or destroyed");
        assertThatThrownBy(() -> choose(true, " ")).hasMessageContaining("Say why");
        assertThat(customers.get(customer).anonymous()).isFalse();

        choose(true, "The claim before the court is not decided yet.");
        assertThat(kept())
                .extracting("why")
                .contains(
                        "Kept, because: The claim before the court is not decided yet.",
                        "The law on books asks for them as they were issued; an issued one never changes.",
                        "They prove that the work was ordered.");
        assertThat(dossiers.zip(named)).exists();

        choose(false, "The case is closed.");
        assertThatThrownBy(() -> dossiers.zip(named))
                .isInstanceOf(Refused.class)
                .hasMessageContaining("destroyed");
        assertThat(dossiers.zip(unnamed)).exists();
        assertThat(kept()).noneMatch(Memory.Kept::asks);
        assertThatThrownBy(() -> choose(false, "Again.")).hasMessageContaining("nothing is left to choose");
        assertThatThrownBy(() -> customers.forget(999_999_999L, null)).isInstanceOf(NotFound.class);
    }

    @Test
    void isNotInTheVaultOnceItsDossierIsDestroyed() throws IOException {
        Path zip = dossiers.zip(named);
        Path pdf = dossiers.pdf(named);
        assertThat(Files.size(zip)).isPositive();
        choose(false, "Nobody needs it.");
        assertThat(zip).doesNotExist();
        assertThat(pdf).doesNotExist();
        assertThat(dossiers.choice(named)).hasValueSatisfying(choice -> {
            assertThat(choice.kept()).isFalse();
            assertThat(choice.who()).isEqualTo(odile.name());
        });
    }

    /** Rows whose words are not what the journal has the digest of; the query of docs/operations.md. */
    private List<Long> contradicted() {
        return sql.sql("""
                select s.id from words_said s join journal_entry e on e.ticket = s.ticket_number
                    and e.facts::jsonb ->> 'said' = s.id::text
                where s.words is not null
                  and encode(sha256(s.salt || convert_to(s.words, 'UTF8')), 'hex') <> e.facts::jsonb ->> 'digest'""").query(Long.class).list();
    }

    /** Every column of every table in which one of the customer's tell-tale strings is found. */
    private Set<String> places() {
        var columns = new TreeMap<String, Set<String>>();
        sql.sql("""
                select c.table_name, c.column_name from information_schema.columns c
                join information_schema.tables t using (table_schema, table_name)
                where c.table_schema = 'public' and t.table_type = 'BASE TABLE'
                  and (c.data_type in ('text', 'character varying', 'character', 'json', 'jsonb', 'ARRAY'))""").query(r -> {
            columns.computeIfAbsent(r.getString(1), t -> new TreeSet<>()).add(r.getString(2));
        });
        assertThat(columns).hasSizeGreaterThan(60);
        var looked =
                tells.stream().map(told -> told.replaceAll("( it| when).*", "")).toList();
        var found = new TreeSet<String>();
        columns.forEach((table, names) -> names.forEach(column -> {
            boolean there = sql.sql(
                            "select exists (select from %s where \"%s\"::text ilike any (?))".formatted(table, column))
                    .param(looked.stream().map(told -> "%" + told + "%").toArray(String[]::new))
                    .query(Boolean.class)
                    .single();
            if (there) {
                found.add(table + "." + column);
            }
        }));
        return found;
    }

    private List<Memory.Kept> kept() {
        return customers.kept(customer);
    }

    private void choose(Boolean keep, String reason) {
        people.as(odile, () -> {
            customers.forget(customer, keep == null ? null : new Memory.Choice(keep, reason));
            return null;
        });
    }

    private void agree(Agreement kind, Long estimate) {
        authorisations.agree(number, kind, money("900"), agreedWords, Channel.PHONE, name, estimate);
    }

    private void measure(boolean after, String supply) {
        long id = bench.start(
                number,
                "sensor-supply",
                after,
                List.of(1),
                new Conditions(KeyState.KEY_ON_ENGINE_OFF, null, null, null, null, Motion.PARKED, null, null),
                null);
        bench.keep(id, "battery", "12.5", "V");
        bench.keep(id, "supply", supply, "V");
        bench.finish(id);
    }

    private Money money(String amount) {
        return Money.rounded(new BigDecimal(amount), rates.currency());
    }
}
