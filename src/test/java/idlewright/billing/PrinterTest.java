package idlewright.billing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.ground.WithDatabase;
import idlewright.intake.SymptomRef;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.reference.money.Money;
import idlewright.repair.Visit;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.concurrent.Callable;
import java.util.concurrent.Executors;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.context.annotation.Import;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

@SpringBootTest
@WithDatabase
@Import(Visit.class)
@DisplayName("The paper of an invoice")
class PrinterTest {

    @Autowired
    Visit visit;

    @Autowired
    People people;

    @Autowired
    Tickets tickets;

    @Autowired
    Authorisations authorisations;

    @Autowired
    Charges charges;

    @Autowired
    Invoices invoices;

    @Autowired
    Printer printer;

    @Autowired
    Rates rates;

    @Autowired
    JdbcClient jdbc;

    @Autowired
    PlatformTransactionManager transactions;

    private Person odile;

    @BeforeEach
    void hire() {
        odile = people.hire(
                "Odile " + System.nanoTime(),
                "odile" + System.nanoTime(),
                "a quiet copper kettle",
                null,
                java.util.Set.of(Role.OWNER, Role.WRITER, Role.TECHNICIAN));
    }

    @Test
    void isNotDrawnWhileTheNumberIsHeldAndDrawnByItselfAfterwards() {
        String number = new TransactionTemplate(transactions).execute(status -> {
            String issued = issue();
            assertThat(invoices.unprinted()).contains(issued);
            return issued;
        });
        await().untilAsserted(() -> assertThat(papers(number)).isEqualTo(1));
        assertThat(invoices.unprinted()).doesNotContain(number);
    }

    @Test
    void isNotDrawnForAnInvoiceThatWasRolledBack() {
        String number = new TransactionTemplate(transactions).execute(status -> {
            status.setRollbackOnly();
            return issue();
        });
        String after = issue();
        assertThat(after).as("the number is free again").isEqualTo(number);
        assertThat(new String(invoices.pdf(after), 0, 5, java.nio.charset.StandardCharsets.US_ASCII))
                .isEqualTo("%PDF-");
    }

    @Test
    void isTheSameForAllWhoAskAtOnce() throws Exception {
        String number = issue();
        var pool = Executors.newFixedThreadPool(6);
        try {
            var asked = new ArrayList<Callable<byte[]>>();
            for (int i = 0; i < 6; i++) {
                asked.add(() -> invoices.pdf(number));
            }
            var bytes = new HashSet<String>();
            for (var paper : pool.invokeAll(asked)) {
                bytes.add(idlewright.journal.rules.Seal.sha256(paper.get()));
            }
            assertThat(bytes).hasSize(1);
            assertThat(papers(number)).isEqualTo(1);
        } finally {
            pool.shutdown();
        }
    }

    @Test
    void isDrawnAtTheNextStartWhereTheAppWasStoppedInBetween() {
        String number = new TransactionTemplate(transactions).execute(status -> issue());
        printer.catchUp();
        await().untilAsserted(() -> assertThat(invoices.unprinted()).isEmpty());
        assertThat(papers(number)).isEqualTo(1);
    }

    private int papers(String number) {
        return jdbc.sql("select count(*) from invoice_paper where invoice_number = ?")
                .param(number)
                .query(Integer.class)
                .single();
    }

    private String issue() {
        return people.as(odile, () -> {
            SymptomRef ref = visit.open("It stalls at the lights.");
            Money amount = Money.rounded(new BigDecimal("900"), rates.currency());
            authorisations.agree(ref.ticket(), Agreement.DIAGNOSIS, amount, "Go ahead.", Channel.PHONE, "Ines", null);
            charges.add(
                    ref.ticket(),
                    new Line(
                            1,
                            LineKind.LABOUR,
                            "Work",
                            BigDecimal.ONE,
                            Money.rounded(new BigDecimal("40"), rates.currency()),
                            null),
                    null);
            tickets.end(ref, ThreadStamp.DECLINED, "The customer sells the car.");
            return invoices.issue(ref.ticket()).number();
        });
    }
}
