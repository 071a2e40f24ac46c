package idlewright.billing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

import idlewright.billing.rules.Account;
import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.billing.rules.Posting;
import idlewright.billing.rules.Prices;
import idlewright.billing.rules.Remainder.Wish;
import idlewright.billing.rules.Rounding;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.frame.TrialPaper;
import idlewright.ground.WithDatabase;
import idlewright.intake.Customers;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.TicketStamp;
import idlewright.people.Badge;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.reference.money.Money;
import idlewright.repair.Visit;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.Supplier;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.mustangproject.validator.ZUGFeRDValidator;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.security.core.Authentication;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

@SpringBootTest
@AutoConfigureMockMvc
@WithDatabase
@DisplayName("A credit note over a part of an invoice")
class CreditNotesTest {

    private static final String PASSWORD = "a quiet copper kettle";

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private Tickets tickets;

    @Autowired
    private Customers customers;

    @Autowired
    private Vehicles vehicles;

    @Autowired
    private Rates rates;

    @Autowired
    private Authorisations authorisations;

    @Autowired
    private Charges charges;

    @Autowired
    private Invoices invoices;

    @Autowired
    private EInvoices eInvoices;

    @Autowired
    private Payments payments;

    @Autowired
    private Credits credits;

    @Autowired
    private Ledger ledger;

    @Autowired
    private DayCloses days;

    @Autowired
    private People people;

    @Autowired
    private Times times;

    @Autowired
    private Clock clock;

    @Autowired
    private JdbcClient jdbc;

    private Person odile;
    private String login;
    private long customer;

    @BeforeEach
    void comesIn() {
        login = "odile-" + UUID.randomUUID().toString().substring(0, 8);
        odile = people.hire("Odile " + login, login, PASSWORD, null, Set.of(Role.OWNER, Role.WRITER));
        customer = as(() -> customers
                .add(new Customers.Telling("Grand Row Bakery", "555 0142", null, "4 Grand Row", "PHONE", null))
                .id());
    }

    @Test
    void leavesTheRestOwedEverywhereUntilAllIsCredited() {
        as(() -> {
            InvoiceView invoice = issued();
            InvoiceView first = invoices.credit(invoice.number(), "waited", List.of(half(1), amount(2, "9.90")));
            assertThat(first.total()).isEqualTo(money("-59.90"));
            assertThat(first.credits()).isEqualTo(invoice.number());
            assertThat(first.whole()).isFalse();
            InvoiceView now = invoices.get(invoice.number());
            assertThat(now.owed()).isEqualTo(money("230.00"));
            assertThat(now.left()).isEqualTo(money("230.00"));
            assertThat(now.state()).isEqualTo("open");
            assertThat(invoices.head(invoice.ticket()).orElseThrow().owed()).isEqualTo(now.owed());
            assertThat(ledger.debts(customer))
                    .singleElement()
                    .satisfies(debt -> assertThat(debt.owed()).isEqualTo(now.owed()));
            assertThat(ledger.ageing().debtors().stream()
                            .filter(one -> one.id() == customer)
                            .map(Ledger.Debtor::owed))
                    .containsExactly(now.owed());
            var statement =
                    ledger.statement(customer, times.today(), times.today().plusDays(1));
            assertThat(statement.after()).isEqualTo(now.owed());
            assertThat(statement.owed()).isEqualTo(now.owed());
            assertThat(ledger.issued(times.today(), times.today(), 1000))
                    .filteredOn(one -> one.number().equals(invoice.number()))
                    .singleElement()
                    .satisfies(one -> {
                        assertThat(one.owed()).isEqualTo(now.owed());
                        assertThat(one.credited()).isEqualTo(money("59.90"));
                        assertThat(one.state()).isEqualTo("open");
                    });
            assertThat(invoices.latest(null, 1000))
                    .filteredOn(one -> one.number().equals(invoice.number()))
                    .singleElement()
                    .satisfies(one -> assertThat(one.owed()).isEqualTo(now.owed()));
            assertThat(days.day(days.bookingDay()).issued())
                    .filteredOn(one -> one.number().equals(first.number()))
                    .singleElement()
                    .satisfies(one -> assertThat(one.total()).isEqualTo(first.total()));

            InvoiceView last = invoices.credit(invoice.number(), "wrong car");
            assertThat(last.total()).isEqualTo(money("-230.00"));
            InvoiceView gone = invoices.get(invoice.number());
            assertThat(gone.state()).isEqualTo("credited");
            assertThat(gone.owed().isZero()).isTrue();
            assertThat(gone.creditedBy())
                    .extracting(InvoiceView.CreditNote::number)
                    .containsExactly(first.number(), last.number());
            assertThat(ledger.debts(customer)).isEmpty();
            assertThat(jdbc.sql("""
                            select sum(t.net) net, sum(t.tax) tax from invoice_tax t join invoice i on i.number = t.invoice_number
                            where ? in (i.number, i.credits) group by t.percent""").param(invoice.number()).query().listOfRows())
                    .allSatisfy(rate -> assertThat(rate.values())
                            .allSatisfy(sum -> assertThat((BigDecimal) sum).isEqualByComparingTo("0")));
            BigDecimal owing = ledger.postings(times.today(), times.today().plusDays(1)).stream()
                    .filter(posting -> posting.customer().equals("Grand Row Bakery"))
                    .filter(posting -> Integer.valueOf(invoice.ticket().value()).equals(posting.ticket()))
                    .map(CreditNotesTest::owedBy)
                    .reduce(BigDecimal.ZERO, BigDecimal::add);
            assertThat(owing).isEqualByComparingTo("0");
            assertThatThrownBy(() -> invoices.credit(invoice.number(), "again"))
                    .hasMessageContaining("credited already");
            assertThatThrownBy(() -> invoices.credit(first.number(), "a note"))
                    .hasMessageContaining("credited already");
            return null;
        });
    }

    @ParameterizedTest(name = "{0}, rounded by {1}")
    @CsvSource({"BEFORE_TAX, INVOICE", "BEFORE_TAX, LINE", "WITH_TAX, INVOICE", "WITH_TAX, LINE"})
    void bearsTheTaxOfItsInvoiceWhateverTheOwnerSetsLaterAndAllTogetherAreTheInvoice(Prices prices, Rounding rounding) {
        as(() -> {
            Rates.Card before = rates.card();
            InvoiceView invoice;
            try {
                tax("20", "7", prices, rounding);
                invoice = issued();
            } finally {
                tax(
                        before.taxLabour().toPlainString(),
                        before.taxParts().toPlainString(),
                        before.prices(),
                        before.rounding());
            }
            InvoiceView third = invoices.credit(
                    invoice.number(),
                    "waited",
                    List.of(new Wish(1, new BigDecimal("0.333"), null), amount(2, "33.33")));
            assertThat(third.terms()).isEqualTo(invoice.terms());
            // By hand: 20 % of 33.30 and 7 % of 33.33; or what 33.30 and 33.33 hold of them.
            assertThat(third.tax()).isEqualTo(money(prices == Prices.WITH_TAX ? "-7.73" : "-8.99"));
            invoices.credit(invoice.number(), "waited on", List.of(amount(2, "0.07")));
            invoices.credit(invoice.number(), "wrong car");
            for (var each : jdbc.sql("""
                            select sum(t.net) net, sum(t.tax) tax from invoice_tax t join invoice i on i.number = t.invoice_number
                            where ? in (i.number, i.credits) group by t.percent""").param(invoice.number()).query().listOfRows()) {
                assertThat(each.values())
                        .allSatisfy(sum -> assertThat((BigDecimal) sum).isEqualByComparingTo("0"));
            }
            return null;
        });
    }

    private void tax(String work, String parts, Prices prices, Rounding rounding) {
        Rates.Card like = rates.card();
        rates.set(new Rates.Card(
                like.diagnosisFee(),
                like.labourRate(),
                like.partsMarkup(),
                like.taxName(),
                new BigDecimal(work),
                new BigDecimal(parts),
                like.taxFees(),
                like.taxSublet(),
                prices,
                rounding,
                like.series(),
                like.dueDays(),
                like.foot(),
                like.version()));
    }

    @Test
    void refusesWhatIsTooMuchBesideItsField() {
        as(() -> {
            InvoiceView invoice = issued();
            invoices.credit(invoice.number(), "waited", List.of(half(1)));
            refused("quantity-1", "Only 0.5 h is left", invoice, new Wish(1, new BigDecimal("0.75"), null));
            refused("amount-2", "Only 189.90 is left", invoice, amount(2, "189.91"));
            refused("amount-2", "above 0", invoice, amount(2, "0"));
            refused("all-9", "Nothing is left", invoice, Wish.all(9));
            assertThatThrownBy(() -> invoices.credit(invoice.number(), "why", List.of()))
                    .hasMessageContaining("Choose what is credited");
            assertThatThrownBy(() -> invoices.credit(invoice.number(), " ", List.of(half(1))))
                    .hasMessageContaining("Say why");
            assertThat(invoices.get(invoice.number()).left()).isEqualTo(money("239.90"));
            return null;
        });
    }

    @Test
    void makesWhatWasPaidBeyondTheRestTheCustomersCreditAndNoMoreIsPaidBack() {
        as(() -> {
            InvoiceView invoice = issued();
            long receipt = payments.take(invoice.number(), money("289.90"), "CARD", null);
            invoices.credit(invoice.number(), "waited", List.of(half(1)));
            assertThat(credits.credit(customer)).isEqualTo(money("50.00"));
            InvoiceView now = invoices.get(invoice.number());
            assertThat(now.owed().isZero()).isTrue();
            assertThat(now.state()).isEqualTo("paid");
            assertThatThrownBy(() -> payments.refund(receipt, money("250.00"), "CARD", "all of it"))
                    .hasMessageContaining("Only 239.90 is still paid");
            payments.refund(receipt, money("239.90"), "CARD", "wrong card");
            assertThat(invoices.get(invoice.number()).owed()).isEqualTo(money("239.90"));
            invoices.credit(invoice.number(), "wrong car");
            assertThat(credits.credit(customer)).isEqualTo(money("50.00"));
            return null;
        });
    }

    @Test
    void marksTheTicketPaidWhenItTakesBackWhatWasStillOwed() {
        as(() -> {
            InvoiceView invoice = issued();
            payments.take(invoice.number(), money("239.90"), "CARD", null);
            assertThat(tickets.get(invoice.ticket()).has(TicketStamp.PAID)).isFalse();
            invoices.credit(invoice.number(), "waited", List.of(half(1)));
            assertThat(tickets.get(invoice.ticket()).has(TicketStamp.PAID)).isTrue();
            assertThat(credits.credit(customer).isZero()).isTrue();
            return null;
        });
    }

    @Test
    void isIssuedOnceWhenManyTerminalsCreditTheSameHourAtOnce() throws Exception {
        InvoiceView invoice = as(this::issued);
        var jobs = new ArrayList<Callable<InvoiceView>>();
        for (int i = 0; i < 4; i++) {
            jobs.add(() -> as(() ->
                    invoices.credit(invoice.number(), "waited", List.of(new Wish(1, new BigDecimal("0.6"), null)))));
        }
        int issued = 0;
        var pool = Executors.newFixedThreadPool(4);
        try {
            for (Future<InvoiceView> job : pool.invokeAll(jobs)) {
                try {
                    job.get();
                    issued++;
                } catch (ExecutionException e) {
                    assertThat(e.getCause()).isInstanceOf(Refused.class).hasMessage("Only 0.4 h is left of this line.");
                }
            }
        } finally {
            pool.shutdown();
        }
        assertThat(issued).isEqualTo(1);
        assertThat(as(() -> invoices.get(invoice.number())).left()).isEqualTo(money("229.90"));
    }

    @Test
    void isIssuedOnceWhenItsFormIsSentTwiceAndKeepsWhatWasTypedWhenItIsRefused() {
        InvoiceView invoice = as(this::issued);
        var refused = send(invoice, UUID.randomUUID().toString(), "quantity-1", "7");
        assertThat(refused.getStatus()).isEqualTo(422);
        String said = new String(refused.getContentAsByteArray(), StandardCharsets.UTF_8);
        assertThat(said).contains("Only 1 h is left of this line.", "value=\"7\"", "value=\"It waited.\"");
        var both = send(invoice, UUID.randomUUID().toString(), "quantity-1", "0.5", "amount-1", "5");
        assertThat(new String(both.getContentAsByteArray(), StandardCharsets.UTF_8))
                .contains("Say it one way");
        String key = UUID.randomUUID().toString();
        var first = send(invoice, key, "quantity-1", "0.5");
        assertThat(first.getStatus()).isEqualTo(302);
        var second = send(invoice, key, "quantity-1", "0.5");
        assertThat(second.getStatus()).isBetween(300, 399);
        assertThat(as(() -> invoices.get(invoice.number())).creditedBy()).hasSize(1);
    }

    @Test
    void namesItsInvoiceAndOnlyItsLinesOnPaperAndInTheElectronicInvoiceWhichPassTheirStandards() throws Exception {
        var before = as(eInvoices::setUp);
        as(() -> set(
                eInvoices.setUp(),
                new EInvoices.SetUp(
                        true,
                        "IE",
                        "IE1234567T",
                        "",
                        "desk@finchlane.example",
                        "",
                        "Not taxed by the law of the place",
                        0)));
        InvoiceView invoice;
        InvoiceView note;
        try {
            invoice = as(this::issued);
            note = as(() -> invoices.credit(invoice.number(), "It waited.", List.of(half(1), amount(2, "9.90"))));
        } finally {
            as(() -> set(eInvoices.setUp(), before));
        }
        byte[] pdf = as(() -> invoices.pdf(note.number()));
        Files.createDirectories(Path.of("target/specimen"));
        Files.write(Path.of("target/specimen/credit-note-part.pdf"), pdf);
        assertThat(TrialPaper.failures(pdf)).isEmpty();
        var judge = new ZUGFeRDValidator();
        String report = judge.validate(pdf, "credit-part.pdf");
        assertThat(judge.wasCompletelyValid()).as(report).isTrue();
        assertThat(new String(as(() -> eInvoices.xml(note.number())), StandardCharsets.UTF_8))
                .contains("<ram:TypeCode>381</ram:TypeCode>", "<ram:GrandTotalAmount>59.90</ram:GrandTotalAmount>")
                .contains("<ram:IssuerAssignedID>" + invoice.number() + "</ram:IssuerAssignedID>")
                .doesNotContain("Disposal");
        try (var document = Loader.loadPDF(pdf)) {
            assertThat(new PDFTextStripper().getText(document))
                    .contains("Takes back part of invoice " + invoice.number() + ". It waited.")
                    .contains("part of its price")
                    .doesNotContain("Disposal");
        }
    }

    private boolean set(EInvoices.SetUp now, EInvoices.SetUp wish) {
        eInvoices.set(new EInvoices.SetUp(
                wish.wanted(),
                wish.country(),
                wish.vatId(),
                wish.taxNumber(),
                wish.email(),
                wish.buyerReference(),
                wish.untaxedBecause(),
                now.version()));
        return true;
    }

    private MockHttpServletResponse send(InvoiceView invoice, String key, String... fields) {
        var post = mvc.post()
                .uri("/invoices/" + invoice.number() + "/credits")
                .with(csrf())
                .with(authentication(badge()))
                .param("submission", key)
                .param("reason", "It waited.");
        for (int i = 0; i < fields.length; i += 2) {
            post = post.param(fields[i], fields[i + 1]);
        }
        return post.exchange().getResponse();
    }

    private Authentication badge() {
        int generation = jdbc.sql("select generation from person where id = ?")
                .param(odile.id())
                .query(Integer.class)
                .single();
        return new Badge(odile, generation, clock.instant(), null).authentication();
    }

    private void refused(String field, String words, InvoiceView invoice, Wish wish) {
        assertThatThrownBy(() -> invoices.credit(invoice.number(), "why", List.of(wish)))
                .isInstanceOfSatisfying(
                        Refused.class,
                        no -> assertThat(no.problems())
                                .hasEntrySatisfying(
                                        field, said -> assertThat(said).contains(words)));
    }

    private static BigDecimal owedBy(Posting posting) {
        BigDecimal amount = posting.amount().amount();
        return posting.debit() == Account.OWED
                ? amount
                : posting.credit() == Account.OWED ? amount.negate() : BigDecimal.ZERO;
    }

    private static Wish half(int nr) {
        return new Wish(nr, new BigDecimal("0.5"), null);
    }

    private Wish amount(int nr, String amount) {
        return new Wish(nr, null, money(amount));
    }

    /** An hour at 100.00, a part at 189.90, a disposal at no charge; the shop takes no tax. */
    private InvoiceView issued() {
        var car = vehicles.add(customer, Visit.VAN);
        TicketNumber number =
                tickets.open(new Tickets.Opening(car.id(), new BigDecimal("86940"), null, null, "SHOW", "YES"));
        SymptomRef ref = tickets.hear(number, "hesitation", "It hesitates.");
        authorisations.agree(
                number, Agreement.REPAIR, money("1000.00"), "go ahead", Channel.IN_PERSON, "Ines Okafor", null);
        charge(number, LineKind.LABOUR, "Air-flow sensor replaced", "100.00");
        charge(number, LineKind.PART, "Air-flow sensor", "189.90");
        charge(number, LineKind.FEE, "Disposal", "0.00");
        tickets.stamp(ref, ThreadStamp.DECLINED, "Ines Okafor wants it left");
        return invoices.issue(number);
    }

    private void charge(TicketNumber number, LineKind kind, String what, String each) {
        charges.add(number, new Line(1, kind, what, BigDecimal.ONE, money(each), null), null);
    }

    private Money money(String amount) {
        return Money.rounded(new BigDecimal(amount), rates.currency());
    }

    private <T> T as(Supplier<T> work) {
        return people.as(odile, work::get);
    }
}
