package idlewright.billing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.frame.Refused;
import idlewright.ground.WithDatabase;
import idlewright.intake.Customers;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.intake.rules.ThreadStamp;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.reference.money.Money;
import idlewright.repair.Visit;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.dao.DataAccessException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

@SpringBootTest
@WithDatabase
class MoneyTest {

    @Autowired
    private Tickets tickets;

    @Autowired
    private Customers customers;

    @Autowired
    private Vehicles vehicles;

    @Autowired
    private Rates rates;

    @Autowired
    private Estimates estimates;

    @Autowired
    private Authorisations authorisations;

    @Autowired
    private Charges charges;

    @Autowired
    private Invoices invoices;

    @Autowired
    private Payments payments;

    @Autowired
    private People people;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private PlatformTransactionManager transactions;

    private Person wren;
    private SymptomRef ref;

    @BeforeEach
    void comesIn() {
        String unique = UUID.randomUUID().toString().substring(0, 8);
        wren = people.hire("Wren " + unique, "wren-" + unique, "a quiet copper kettle", null, Set.of(Role.WRITER));
        ref = complaint();
    }

    @Test
    void refusesAChargeAboveWhatIsAgreedUntilTheRiseIsAgreed() {
        as(() -> {
            agree(Agreement.DIAGNOSIS, "95.00");
            charges.add(ref.ticket(), line(LineKind.DIAGNOSIS, "Diagnosis", "95.00"), null);
            agree(Agreement.REPAIR, "200.00");
            charges.add(ref.ticket(), line(LineKind.PART, "Air-flow sensor", "190.00"), null);
            assertThatThrownBy(() -> charges.add(ref.ticket(), line(LineKind.PART, "Seal", "12.00"), null))
                    .isInstanceOf(Refused.class)
                    .hasMessageContaining("Get the rise of 2.00 agreed first");
            agree(Agreement.RISE, "2.00");
            charges.add(ref.ticket(), line(LineKind.PART, "Seal", "12.00"), null);
            assertThat(charges.total(ref.ticket()).gross()).isEqualTo(money("297.00"));
            return null;
        });
    }

    @Test
    void chargesTheDiagnosisSoThatTheCustomerOwesWhatWasAgreed() {
        as(() -> {
            agree(Agreement.DIAGNOSIS, "95.00");
            charges.addDiagnosis(ref.ticket(), money("95.00"));
            assertThat(charges.total(ref.ticket()).gross()).isEqualTo(money("95.00"));
            return null;
        });
    }

    @Test
    void countsACorrectedAgreementOnce() {
        as(() -> {
            long wrong = agree(Agreement.DIAGNOSIS, "950.00");
            authorisations.correct(
                    wrong, money("95.00"), "go ahead", Channel.PHONE, "Ines Okafor", "a nought too many");
            assertThat(authorisations.agreed(ref.ticket())).isEqualTo(money("95.00"));
            assertThat(authorisations.of(ref.ticket())).hasSize(2);
            assertThatThrownBy(() -> authorisations.correct(
                            wrong, money("90.00"), "go ahead", Channel.PHONE, "Ines Okafor", "again"))
                    .hasMessageContaining("corrected already");
            return null;
        });
    }

    @Test
    void issuesNothingWhileAThreadIsOpen() {
        as(() -> {
            agree(Agreement.DIAGNOSIS, "95.00");
            charges.add(ref.ticket(), line(LineKind.DIAGNOSIS, "Diagnosis", "95.00"), null);
            assertThatThrownBy(() -> invoices.issue(ref.ticket())).hasMessageContaining("still open");
            return null;
        });
    }

    @Test
    void freezesAnInvoiceWithItsPaper() {
        InvoiceView issued = as(() -> issue(ref));
        assertThat(issued.total()).isEqualTo(money("95.00"));
        assertThat(issued.parts())
                .singleElement()
                .satisfies(part -> assertThat(part.said("COMPLAINT")).isEqualTo("It hesitates."));
        byte[] pdf = as(() -> invoices.pdf(issued.number()));
        assertThat(new String(pdf, 0, 5, java.nio.charset.StandardCharsets.US_ASCII))
                .isEqualTo("%PDF-");
        assertThat(as(() -> invoices.pdf(issued.number()))).isEqualTo(pdf);
        assertThatThrownBy(() -> jdbc.sql("update invoice set total = 1 where number = ?")
                        .param(issued.number())
                        .update())
                .isInstanceOf(DataAccessException.class);
        assertThatThrownBy(() -> as(() -> charges.add(ref.ticket(), line(LineKind.PART, "Seal", "1.00"), null)))
                .hasMessageContaining("issued");
    }

    @Test
    void takesNoMoreThanIsOwedAndMarksThePaidTicket() {
        InvoiceView issued = as(() -> issue(ref));
        as(() -> {
            payments.take(issued.number(), money("40.00"), "CASH", null);
            assertThat(payments.owed(issued.number())).isEqualTo(money("55.00"));
            assertThatThrownBy(() -> payments.take(issued.number(), money("55.01"), "CARD", null))
                    .hasMessageContaining("Only 55.00 is owed");
            payments.take(issued.number(), money("55.00"), "CARD", null);
            assertThat(invoices.get(issued.number()).state()).isEqualTo("paid");
            return null;
        });
    }

    @Test
    void takesAnInvoiceBackByACreditNoteOfTheSameAmount() {
        InvoiceView issued = as(() -> issue(ref));
        InvoiceView credit = as(() -> invoices.credit(issued.number(), "wrong customer"));
        assertThat(credit.total()).isEqualTo(issued.total().negate());
        assertThat(as(() -> invoices.get(issued.number())).state()).isEqualTo("credited");
        assertThatThrownBy(() -> as(() -> invoices.credit(issued.number(), "again")))
                .isInstanceOf(Refused.class);
    }

    @Test
    void numbersInvoicesWithoutGapsAndDoublesWhileManyIssueAndSomeFail() throws Exception {
        var refs = new ArrayList<SymptomRef>();
        for (int i = 0; i < 24; i++) {
            refs.add(complaint());
        }
        var pool = Executors.newFixedThreadPool(6);
        try {
            var jobs = new ArrayList<Callable<String>>();
            for (int i = 0; i < refs.size(); i++) {
                SymptomRef one = refs.get(i);
                boolean fails = i % 6 == 0;
                jobs.add(() -> people.as(
                        wren,
                        () -> new TransactionTemplate(transactions).execute(status -> {
                            InvoiceView issued = issue(one);
                            if (fails) {
                                status.setRollbackOnly();
                            }
                            return issued.number();
                        })));
            }
            for (Future<String> done : pool.invokeAll(jobs)) {
                done.get();
            }
        } finally {
            pool.shutdown();
        }
        List<Integer> sequences = jdbc.sql("select sequence from invoice where series = 'A' order by sequence")
                .query(Integer.class)
                .list();
        assertThat(sequences).doesNotHaveDuplicates();
        assertThat(sequences.get(sequences.size() - 1)).isEqualTo(sequences.size());
    }

    @Test
    void showsWhichLinesOfTheLatestEstimateAreCharged() {
        as(() -> {
            var first = estimates.write(ref.ticket(), List.of(line(LineKind.PART, "Sensor", "190.00")), null);
            estimates.offer(first.id(), "by phone");
            agree(Agreement.REPAIR, "190.00");
            charges.addFromEstimate(ref.ticket(), first.lines().get(0).id(), "BW-2210-B", money("120.00"));
            assertThat(charges.uncharged(ref.ticket())).isEmpty();
            assertThatThrownBy(() -> charges.addFromEstimate(
                            ref.ticket(), first.lines().get(0).id(), null, null))
                    .hasMessageContaining("charged already");
            estimates.write(ref.ticket(), List.of(line(LineKind.PART, "Other sensor", "210.00")), null);
            assertThatThrownBy(() -> estimates.offer(first.id(), "by phone")).hasMessageContaining("newer estimate");
            return null;
        });
    }

    @Test
    void carriesDiscountsAndCoresFromTheEstimateToTheCreditNote() {
        var numbers = as(() -> {
            agree(Agreement.DIAGNOSIS, "0.00");
            tickets.stamp(ref, ThreadStamp.TRACED, "the starter drags");
            var lines = List.of(
                    line(LineKind.PART, "Starter", "190.00"),
                    line(LineKind.CORE, "Old starter", "40.00"),
                    typed(LineKind.DISCOUNT_PARTS, "Autumn offer", "19.00"),
                    typed(LineKind.CORE_RETURNED, "Old starter", "40.00"),
                    line(LineKind.SUBLET, "Ring gear turned, by Halden Machine Works", "60.00"));
            var estimate = estimates.write(ref.ticket(), lines, null);
            assertThat(estimate.total().gross()).isEqualTo(money("231.00"));
            estimates.offer(estimate.id(), "by phone");
            agree(Agreement.REPAIR, "231.00");
            assertThatThrownBy(() -> charges.addFromEstimate(
                            ref.ticket(), estimate.lines().get(2).id(), null, null))
                    .hasMessageContaining("more than is charged so far");
            // Parts come to 230 here and 231 is agreed; the discount that is still to come must not stop the sublet
            // work.
            for (int nr : List.of(0, 1, 4)) {
                charges.addFromEstimate(ref.ticket(), estimate.lines().get(nr).id(), null, null);
            }
            tickets.stamp(ref, ThreadStamp.DECLINED, "Ines Okafor wants it left");
            assertThatThrownBy(() -> invoices.issue(ref.ticket())).hasMessageContaining("what the estimate takes off");
            for (int nr : List.of(2, 3)) {
                charges.addFromEstimate(ref.ticket(), estimate.lines().get(nr).id(), null, null);
            }
            InvoiceView issued = invoices.issue(ref.ticket());
            assertThat(issued.total()).isEqualTo(money("231.00"));
            InvoiceView credit = invoices.credit(issued.number(), "wrong customer");
            assertThat(credit.total()).isEqualTo(money("-231.00"));
            return List.of(issued.number(), credit.number());
        });
        assertThat(jdbc.sql("select sum(net) from invoice_line where invoice_number in (?, ?)")
                        .params(numbers.get(0), numbers.get(1))
                        .query(BigDecimal.class)
                        .single())
                .isEqualByComparingTo("0");
    }

    @Test
    void refusesMoreTakenOffThanThereIs() {
        as(() -> {
            assertThatThrownBy(() -> estimates.write(
                            ref.ticket(),
                            List.of(
                                    line(LineKind.PART, "Sensor", "10.00"),
                                    typed(LineKind.DISCOUNT_WORK, "Goodwill", "10.01")),
                            null))
                    .hasMessageContaining("0 at least");
            agree(Agreement.DIAGNOSIS, "100.00");
            long work = charges.add(ref.ticket(), line(LineKind.LABOUR, "Work", "50.00"), null);
            charges.add(ref.ticket(), typed(LineKind.DISCOUNT_WORK, "Goodwill", "50.00"), null);
            assertThatThrownBy(() -> charges.strike(work, "not done")).hasMessageContaining("more would be taken off");
            return null;
        });
    }

    @Test
    void keepsTheRightWayRoundInTheDatabaseToo() {
        long ticket = ref.ticket().value();
        for (String wrong : List.of("'DISCOUNT_WORK', 5", "'CORE_RETURNED', 0", "'PART', -5")) {
            assertThatThrownBy(() -> jdbc.sql(
                                    "insert into charge (ticket_number, place, what, quantity, at, who, kind, each) values (?, 1, 'x', 1, now(), 'x', "
                                            + wrong + ")")
                            .param(ticket)
                            .update())
                    .hasMessageContaining("right_way_round");
        }
    }

    private static Line typed(LineKind kind, String what, String price) {
        return Line.typed(1, kind, what, BigDecimal.ONE, money(price), null);
    }

    private InvoiceView issue(SymptomRef one) {
        authorisations.agree(
                one.ticket(), Agreement.DIAGNOSIS, money("95.00"), "go ahead", Channel.IN_PERSON, "Ines Okafor", null);
        charges.add(one.ticket(), line(LineKind.DIAGNOSIS, "Diagnosis", "95.00"), null);
        tickets.stamp(one, ThreadStamp.DECLINED, "Ines Okafor wants it left");
        return invoices.issue(one.ticket());
    }

    private SymptomRef complaint() {
        return as(() -> {
            var bakery = customers.add(
                    new Customers.Telling("Grand Row Bakery", "555 0142", null, "4 Grand Row", "PHONE", null));
            var van = vehicles.add(bakery.id(), Visit.VAN);
            TicketNumber number =
                    tickets.open(new Tickets.Opening(van.id(), new BigDecimal("86940"), null, null, "SHOW", "YES"));
            return tickets.hear(number, "hesitation", "It hesitates.");
        });
    }

    private long agree(Agreement kind, String amount) {
        return authorisations.agree(ref.ticket(), kind, money(amount), "go ahead", Channel.PHONE, "Ines Okafor", null);
    }

    private static Line line(LineKind kind, String what, String each) {
        return new Line(1, kind, what, BigDecimal.ONE, money(each), null);
    }

    private static Money money(String amount) {
        return Money.of(amount, "USD");
    }

    private <T> T as(Callable<T> work) {
        return people.as(wren, () -> {
            try {
                return work.call();
            } catch (RuntimeException e) {
                throw e;
            } catch (Exception e) {
                throw new IllegalStateException(e);
            }
        });
    }
}
