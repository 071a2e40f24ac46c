package idlewright.billing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.frame.NotFound;
import idlewright.frame.Refused;
import idlewright.ground.WithDatabase;
import idlewright.intake.Customers;
import idlewright.intake.SymptomRef;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.intake.rules.ThreadStamp;
import idlewright.journal.rules.Seal;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.reference.money.Money;
import idlewright.repair.Visit;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.util.Set;
import java.util.UUID;
import org.apache.pdfbox.Loader;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.dao.DataAccessException;
import org.springframework.jdbc.core.simple.JdbcClient;

@SpringBootTest
@WithDatabase
@DisplayName("Electronic invoices")
class EInvoicesTest {

    @Autowired
    private EInvoices eInvoices;

    @Autowired
    private Tickets tickets;

    @Autowired
    private Customers customers;

    @Autowired
    private Vehicles vehicles;

    @Autowired
    private Authorisations authorisations;

    @Autowired
    private Charges charges;

    @Autowired
    private Invoices invoices;

    @Autowired
    private People people;

    @Autowired
    private JdbcClient jdbc;

    private Person odile;

    @BeforeEach
    void comesIn() {
        String unique = UUID.randomUUID().toString().substring(0, 8);
        odile = people.hire(
                "Odile " + unique, "odile-" + unique, "a quiet copper kettle", null, Set.of(Role.OWNER, Role.WRITER));
    }

    @Test
    void asksForWhatTheNormNeedsOnlyOnceTheyAreWanted() {
        people.as(odile, () -> {
            int version = eInvoices.setUp().version();
            eInvoices.set(new EInvoices.SetUp(false, "", "", "", "", "", "", version));
            assertThatThrownBy(
                            () -> eInvoices.set(new EInvoices.SetUp(true, "XX", "", "", "desk", "", "", version + 1)))
                    .isInstanceOfSatisfying(
                            Refused.class,
                            no -> assertThat(no.problems())
                                    .containsOnlyKeys("country", "vatId", "email", "untaxedBecause"));
            return null;
        });
    }

    @Test
    void keepsTheXmlWithThePaperAndServesBothUnchanged() throws Exception {
        InvoiceView before = people.as(odile, this::issue);
        assertThatThrownBy(() -> eInvoices.xml(before.number())).isInstanceOf(NotFound.class);
        want(true);
        InvoiceView issued;
        try {
            issued = people.as(odile, this::issue);
        } finally {
            want(false);
        }
        byte[] xml = eInvoices.xml(issued.number());
        assertThat(new String(xml, StandardCharsets.UTF_8))
                .contains("<ram:ID>" + issued.number() + "</ram:ID>", "<ram:GrandTotalAmount>95.00<", "Not taxed here");
        byte[] pdf = invoices.pdf(issued.number());
        try (var document = Loader.loadPDF(pdf)) {
            assertThat(document.getDocumentCatalog()
                            .getNames()
                            .getEmbeddedFiles()
                            .getNames()
                            .get("factur-x.xml")
                            .getEmbeddedFile()
                            .toByteArray())
                    .isEqualTo(xml);
        }
        assertThat(jdbc.sql("select sha256 from invoice_paper where invoice_number = ?")
                        .param(issued.number())
                        .query(String.class)
                        .single())
                .isEqualTo(Seal.sha256(pdf));
        assertThat(invoices.pdf(issued.number())).isEqualTo(pdf);
        assertThatThrownBy(() -> jdbc.sql("update invoice_xml set xml = '' where invoice_number = ?")
                        .param(issued.number())
                        .update())
                .isInstanceOf(DataAccessException.class);
    }

    private void want(boolean wanted) {
        people.as(odile, () -> {
            eInvoices.set(new EInvoices.SetUp(
                    wanted,
                    "IE",
                    "IE1234567T",
                    "",
                    "",
                    "",
                    "Not taxed here",
                    eInvoices.setUp().version()));
            return null;
        });
    }

    private InvoiceView issue() {
        var bakery = customers.add(
                new Customers.Telling("Grand Row Bakery", "555 0142", null, "4 Grand Row", "PHONE", null));
        var van = vehicles.add(bakery.id(), Visit.VAN);
        var number = tickets.open(new Tickets.Opening(van.id(), new BigDecimal("86940"), null, null, "SHOW", "YES"));
        SymptomRef ref = tickets.hear(number, "hesitation", "It hesitates.");
        Money fee = Money.of("95.00", "USD");
        authorisations.agree(number, Agreement.DIAGNOSIS, fee, "go ahead", Channel.IN_PERSON, "Ines Okafor", null);
        charges.add(number, new Line(1, LineKind.DIAGNOSIS, "Diagnosis", BigDecimal.ONE, fee, null), null);
        tickets.stamp(ref, ThreadStamp.DECLINED, "Ines Okafor wants it left");
        return invoices.issue(number);
    }
}
