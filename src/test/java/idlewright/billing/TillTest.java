package idlewright.billing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import idlewright.billing.rules.Account;
import idlewright.billing.rules.Age;
import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.billing.rules.Posting;
import idlewright.billing.rules.Prices;
import idlewright.billing.rules.Rounding;
import idlewright.frame.MovableClock;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.ground.WithDatabase;
import idlewright.intake.Customers;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.TicketStamp;
import idlewright.people.ApiKeys;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.reference.money.Money;
import idlewright.repair.Visit;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicReference;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.dao.DataAccessException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

@SpringBootTest
@AutoConfigureMockMvc
@WithDatabase
@DisplayName("Money that moves")
class TillTest {

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private ApiKeys keys;

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
    private Payments payments;

    @Autowired
    private Credits credits;

    @Autowired
    private DayCloses days;

    @Autowired
    private Ledger ledger;

    @Autowired
    private People people;

    @Autowired
    private Times times;

    @Autowired
    private MovableClock clock;

    @Autowired
    private JdbcClient jdbc;

    private Person odile;
    private long customer;

    @BeforeEach
    void comesIn() {
        String unique = UUID.randomUUID().toString().substring(0, 8);
        odile = people.hire(
                "Odile " + unique, "odile-" + unique, "a quiet copper kettle", null, Set.of(Role.OWNER, Role.WRITER));
        customer = as(() -> customers
                .add(new Customers.Telling("Grand Row Bakery", "555 0142", null, "4 Grand Row", "PHONE", null))
                .id());
    }

    @Test
    void takesADepositOffWhenTheInvoiceIsIssuedAndKeepsTheRestAsCredit() {
        as(() -> {
            TicketNumber ticket = charged("95.00");
            credits.deposit(ticket, money("120.00"), "CASH", "before the part is ordered");
            assertThat(credits.heldFor(ticket)).isEqualTo(money("120.00"));
            assertThat(credits.credit(customer).isZero())
                    .as("a deposit is for its ticket")
                    .isTrue();
            assertThat(credits.deposits(customer)).isEqualTo(money("120.00"));
            InvoiceView issued = invoices.issue(ticket);
            assertThat(issued.terms().deposit()).isEqualTo(money("95.00"));
            assertThat(issued.toPay().isZero()).isTrue();
            assertThat(issued.state()).isEqualTo("paid");
            assertThat(tickets.get(ticket).has(TicketStamp.PAID)).isTrue();
            assertThat(credits.credit(customer)).isEqualTo(money("25.00"));
            assertThatThrownBy(() -> credits.deposit(ticket, money("1.00"), "CASH", null))
                    .hasMessageContaining("Take the payment on it");
            return null;
        });
    }

    @Test
    void givesBackNoMoreThanIsHeld() {
        as(() -> {
            TicketNumber ticket = charged("95.00");
            credits.deposit(ticket, money("50.00"), "CARD", null);
            credits.giveBack(ticket, money("20.00"), "CARD", null);
            assertThatThrownBy(() -> credits.giveBack(ticket, money("30.01"), "CARD", null))
                    .hasMessageContaining("Only 30.00 is held");
            assertThat(invoices.issue(ticket).owed()).isEqualTo(money("65.00"));
            return null;
        });
    }

    @Test
    void keepsWhatIsPaidTooMuchAndUsesItForAnotherInvoice() {
        as(() -> {
            InvoiceView first = issued("95.00");
            assertThatThrownBy(() -> payments.take(first.number(), money("100.00"), "CASH", null))
                    .hasMessageContaining("Only 95.00 is owed");
            long receipt = payments.take(first.number(), money("100.00"), "CASH", null, true);
            assertThat(payments.receipt(receipt))
                    .extracting(row -> row.amount().text() + " " + row.booking())
                    .containsExactly("95.00 PAYMENT", "5.00 KEPT");
            assertThat(invoices.get(first.number()).owed().isZero()).isTrue();
            InvoiceView second = issued("20.00");
            assertThatThrownBy(() -> payments.useCredit(second.number(), money("5.01")))
                    .hasMessageContaining("credit is 5.00");
            payments.useCredit(second.number(), money("5.00"));
            assertThat(payments.owed(second.number())).isEqualTo(money("15.00"));
            assertThat(credits.credit(customer).isZero()).isTrue();
            assertThatThrownBy(() -> credits.payOut(customer, money("0.01"), "CASH", null))
                    .hasMessageContaining("credit is 0.00");
            return null;
        });
    }

    @Test
    void paysBackNeverMoreThanWasPaid() {
        as(() -> {
            InvoiceView invoice = issued("95.00");
            long receipt = payments.take(invoice.number(), money("95.00"), "CARD", null);
            assertThatThrownBy(() -> payments.refund(receipt, money("10.00"), "CASH", " "))
                    .hasMessageContaining("Say why");
            payments.refund(receipt, money("60.00"), "CASH", "charged twice");
            assertThatThrownBy(() -> payments.refund(receipt, money("35.01"), "CASH", "again"))
                    .hasMessageContaining("95.00 was paid and 60.00 paid back already");
            assertThat(payments.owed(invoice.number())).isEqualTo(money("60.00"));
            assertThat(tickets.get(invoice.ticket()).move().what()).isEqualTo("Take the payment: some went back.");
            assertThat(payments.get(receipt).refundable()).isEqualTo(money("35.00"));
            return null;
        });
    }

    @Test
    void paysCreditThatWasUsedBackToTheCredit() {
        as(() -> {
            InvoiceView first = issued("95.00");
            payments.take(first.number(), money("115.00"), "CASH", null, true);
            InvoiceView second = issued("20.00");
            long used = payments.useCredit(second.number(), money("20.00"));
            payments.refund(used, money("20.00"), "CASH", "paid by the insurer");
            assertThat(credits.credit(customer)).isEqualTo(money("20.00"));
            assertThat(cashOfTheCustomer()).as("no coin left the drawer").isEqualByComparingTo("115.00");
            return null;
        });
    }

    @Test
    void makesWhatWasPaidOnAnInvoiceThatIsTakenBackTheCustomersCredit() {
        as(() -> {
            InvoiceView invoice = issued("95.00");
            long receipt = payments.take(invoice.number(), money("95.00"), "CASH", null);
            invoices.credit(invoice.number(), "wrong car");
            assertThat(credits.credit(customer)).isEqualTo(money("95.00"));
            assertThatThrownBy(() -> payments.refund(receipt, money("95.00"), "CASH", "taken back"))
                    .hasMessageContaining("is the customer's credit");
            credits.payOut(customer, money("95.00"), "CASH", null);
            assertThat(credits.credit(customer).isZero()).isTrue();
            var statement = ledger.statement(customer, times.today(), times.today());
            assertThat(statement.after().isZero()).isTrue();
            return null;
        });
    }

    @Test
    void paysACreditOutOnceWhenManyTerminalsPressAtOnce() throws Exception {
        as(() -> payments.take(issued("95.00").number(), money("105.00"), "CASH", null, true));
        var jobs = new ArrayList<Callable<Long>>();
        for (int i = 0; i < 6; i++) {
            jobs.add(() -> as(() -> credits.payOut(customer, money("10.00"), "CASH", null)));
        }
        int paid = 0;
        var pool = Executors.newFixedThreadPool(6);
        try {
            for (Future<Long> job : pool.invokeAll(jobs)) {
                try {
                    job.get();
                    paid++;
                } catch (ExecutionException e) {
                    assertThat(e.getCause()).isInstanceOf(Refused.class);
                }
            }
        } finally {
            pool.shutdown();
        }
        assertThat(paid).isEqualTo(1);
        assertThat(as(() -> credits.credit(customer)).isZero()).isTrue();
    }

    @Test
    void isNeverChanged() {
        long receipt = as(() -> payments.take(issued("95.00").number(), money("95.00"), "CASH", null));
        assertThatThrownBy(() -> jdbc.sql("update payment set amount = 1 where id = ?")
                        .param(receipt)
                        .update())
                .isInstanceOf(DataAccessException.class);
        assertThatThrownBy(() -> jdbc.sql("delete from invoice_tax").update()).isInstanceOf(DataAccessException.class);
    }

    @ParameterizedTest(name = "{0}, rounded by {1}")
    @CsvSource({"BEFORE_TAX, INVOICE", "BEFORE_TAX, LINE", "WITH_TAX, INVOICE", "WITH_TAX, LINE"})
    void leavesAnIssuedInvoiceAsItIsWhateverTheOwnerSetsLater(Prices prices, Rounding rounding) {
        var numbers = as(() -> {
            Rates.Card before = rates.card();
            try {
                set(before, "VAT", "20", "7", "5.5", "0", prices, rounding, "Paid in 14 days.");
                InvoiceView issued = invoices.issue(charged("33.33", "0.35", "7.77", "10.00"));
                set(
                        rates.card(),
                        "Other",
                        "1",
                        "2",
                        "3",
                        "4",
                        prices == Prices.WITH_TAX ? Prices.BEFORE_TAX : Prices.WITH_TAX,
                        rounding == Rounding.LINE ? Rounding.INVOICE : Rounding.LINE,
                        "Paid at once.");
                assertThat(invoices.get(issued.number())).isEqualTo(issued);
                InvoiceView credit = invoices.credit(issued.number(), "wrong customer");
                assertThat(credit.total().plus(issued.total()).isZero()).isTrue();
                assertThat(credit.tax().plus(issued.tax()).isZero()).isTrue();
                assertThat(credit.terms()).isEqualTo(issued.terms());
                for (int i = 0; i < issued.taxes().size(); i++) {
                    assertThat(credit.taxes().get(i).rate())
                            .isEqualTo(issued.taxes().get(i).rate());
                    assertThat(credit.taxes().get(i).tax())
                            .isEqualTo(issued.taxes().get(i).tax().negate());
                }
                assertThat(issued.terms().taxName()).isEqualTo("VAT");
                return List.of(issued.number(), credit.number());
            } finally {
                set(
                        rates.card(),
                        before.taxName(),
                        plain(before.taxLabour()),
                        plain(before.taxParts()),
                        plain(before.taxFees()),
                        plain(before.taxSublet()),
                        before.prices(),
                        before.rounding(),
                        before.foot());
            }
        });
        assertThat(jdbc.sql("select sum(net), sum(tax), sum(left_off) from invoice_tax where invoice_number in (?, ?)")
                        .params(numbers.get(0), numbers.get(1))
                        .query()
                        .singleRow()
                        .values())
                .allSatisfy(sum -> assertThat((BigDecimal) sum).isEqualByComparingTo("0"));
        assertThat(jdbc.sql(
                                "select count(distinct abs(net)) from invoice_line where invoice_number in (?, ?) group by nr")
                        .params(numbers.get(0), numbers.get(1))
                        .query(Integer.class)
                        .list())
                .containsOnly(1);
    }

    @Test
    void takesNoTaxFromAnExemptCustomerAndPrintsTheNumber() {
        var issued = as(() -> {
            Rates.Card before = rates.card();
            try {
                set(before, "VAT", "20", "20", "20", "20", Prices.WITH_TAX, Rounding.INVOICE, "");
                var known = customers.get(customer);
                customers.amend(
                        customer,
                        known.version(),
                        new Customers.Telling(
                                known.name(),
                                known.phone(),
                                null,
                                known.address(),
                                "PHONE",
                                null,
                                "EX-4417",
                                "public school",
                                LocalDate.of(2025, 1, 1)));
                InvoiceView exempt = invoices.issue(charged("120.00"));
                var later = customers.get(customer);
                customers.amend(
                        customer,
                        later.version(),
                        new Customers.Telling(later.name(), later.phone(), null, later.address(), "PHONE", null));
                return invoices.get(exempt.number());
            } finally {
                set(
                        rates.card(),
                        before.taxName(),
                        plain(before.taxLabour()),
                        plain(before.taxParts()),
                        plain(before.taxFees()),
                        plain(before.taxSublet()),
                        before.prices(),
                        before.rounding(),
                        before.foot());
            }
        });
        assertThat(issued.total()).isEqualTo(money("100.00"));
        assertThat(issued.tax().isZero()).isTrue();
        assertThat(issued.taxes().get(0).leftOff()).isEqualTo(money("20.00"));
        assertThat(issued.terms().exemption().words()).isEqualTo("No tax: public school, number EX-4417.");
    }

    @Test
    void refusesHalfAnExemption() {
        assertThatThrownBy(() -> as(() -> customers.add(new Customers.Telling(
                        "School",
                        "555 0142",
                        null,
                        null,
                        "PHONE",
                        null,
                        "EX-1",
                        null,
                        times.today().plusDays(1)))))
                .isInstanceOfSatisfying(
                        Refused.class, no -> assertThat(no.problems()).containsOnlyKeys("exemptReason", "exemptSince"));
    }

    @Test
    void bringsEachOpenInvoiceIntoTheAgeItHas() {
        var number = new AtomicReference<String>();
        on(times.today().minusDays(75), () -> number.set(issued("95.00").number()));
        as(() -> {
            issued("20.00");
            var mine = ledger.ageing().debtors().stream()
                    .filter(d -> d.id() == customer)
                    .findFirst()
                    .orElseThrow();
            assertThat(mine.owed()).isEqualTo(money("115.00"));
            assertThat(mine.byAge().get(Age.TO_90)).isEqualTo(money("95.00"));
            assertThat(mine.byAge().get(Age.NOT_DUE)).isEqualTo(money("20.00"));
            assertThat(ledger.debts(customer).get(0).number()).isEqualTo(number.get());
            payments.take(number.get(), money("95.00"), "TRANSFER", null);
            assertThat(ledger.debts(customer)).hasSize(1);
            return null;
        });
    }

    @Test
    void tellsACustomersBalanceFromEveryMove() {
        as(() -> {
            InvoiceView invoice = issued("95.00");
            long receipt = payments.take(invoice.number(), money("100.00"), "CASH", null, true);
            payments.refund(receipt, money("10.00"), "CARD", "goodwill");
            var statement = ledger.statement(customer, times.today(), times.today());
            assertThat(statement.entries())
                    .extracting(entry -> entry.amount().text())
                    .containsExactly("95.00", "-95.00", "-5.00", "10.00");
            assertThat(statement.after()).isEqualTo(money("5.00"));
            assertThat(statement.owed().minus(statement.credit())).isEqualTo(statement.after());
            assertThat(new String(ledger.table(statement), StandardCharsets.UTF_8))
                    .contains("Brought forward,,0.00");
            return null;
        });
    }

    @Test
    void booksWhatIsPaidAfterTheDayWasClosedOnTheNextDay() {
        LocalDate day = LocalDate.of(2031, 3, 3)
                .plusDays(Math.floorMod(UUID.randomUUID().hashCode(), 3000));
        var invoice = new AtomicReference<String>();
        on(day, () -> {
            invoice.set(issued("95.00").number());
            payments.take(invoice.get(), money("40.00"), "CASH", null);
            long card = payments.take(invoice.get(), money("30.00"), "CARD", null);
            payments.refund(card, money("5.00"), "CASH", "wrong key");
            var open = days.day(day);
            assertThat(open.cashIn()).isEqualTo(money("40.00"));
            assertThat(open.cashOut()).isEqualTo(money("5.00"));
            assertThat(open.issued()).extracting(DayCloses.Issued::number).contains(invoice.get());
            assertThatThrownBy(() -> close(day, "100.00", "130.00", "0", null))
                    .hasMessageContaining("135.00 should lie in the drawer; that is 5.00 too little");
            assertThatThrownBy(() -> close(day, "100.00", "135.00", "200.00", null))
                    .hasMessageContaining("Not more than was counted");
            assertThatThrownBy(() -> close(day.plusDays(1), "0", "0", "0", null))
                    .hasMessageContaining("not before");
            close(day, "100.00", "130.00", "30.00", "five too little; nobody knows");
            assertThatThrownBy(() -> close(day, "100.00", "135.00", "0", null)).hasMessageContaining("closed already");
            long late = payments.take(invoice.get(), money("5.00"), "CASH", null);
            assertThat(payments.get(late).booked()).isEqualTo(day.plusDays(1));
            var closed = days.day(day);
            assertThat(closed.closed().difference()).isEqualTo(money("-5.00"));
            assertThat(closed.cashIn()).as("the day stays as it was closed").isEqualTo(money("40.00"));
            assertThat(closed.closed().journalHead()).hasSize(64);
        });
        assertThatThrownBy(() -> jdbc.sql("update day_close set counted = 135 where day = ?")
                        .param(day)
                        .update())
                .isInstanceOf(DataAccessException.class);
        on(day.plusDays(2), () -> {
            payments.take(invoice.get(), money("5.00"), "CASH", null);
            assertThatThrownBy(() -> close(day.plusDays(2), "100.00", "105.00", "0", null))
                    .hasMessageContaining("first: money moved on it");
            assertThat(days.day(day.plusDays(1)).opening())
                    .as("what stayed in the drawer")
                    .isEqualTo(money("100.00"));
            close(day.plusDays(1), "100.00", "105.00", "0", null);
            close(day.plusDays(2), "105.00", "110.00", "0", null);
        });
    }

    @Test
    void postsEverythingTwiceSoThatTheAccountsAddUp() {
        var accounts = new EnumMap<Account, BigDecimal>(Account.class);
        var whole = as(() -> {
            customers.amend(
                    customer,
                    customers.get(customer).version(),
                    new Customers.Telling("=HYPERLINK(\"x\")", "555 0142", null, null, "PHONE", null));
            TicketNumber ticket = charged("95.00");
            credits.deposit(ticket, money("50.00"), "CASH", "+49 is a note");
            InvoiceView invoice = invoices.issue(ticket);
            long receipt = payments.take(invoice.number(), money("60.00"), "CARD", null, true);
            payments.refund(receipt, money("20.00"), "CASH", "haggled");
            InvoiceView second = issued("33.00");
            payments.take(second.number(), money("33.00"), "TRANSFER", null);
            invoices.credit(second.number(), "wrong car");
            credits.payOut(customer, money("8.00"), "OTHER", null);
            return ledger.postings(times.today(), times.today().plusDays(1)).stream()
                    .filter(posting -> posting.customer().startsWith("=HYPER"))
                    .toList();
        });
        for (Posting posting : whole) {
            assertThat(posting.amount().isPositive()).isTrue();
            accounts.merge(posting.debit(), posting.amount().amount(), BigDecimal::add);
            accounts.merge(posting.credit(), posting.amount().amount().negate(), BigDecimal::add);
        }
        assertThat(accounts.values().stream().reduce(BigDecimal.ZERO, BigDecimal::add))
                .isEqualByComparingTo("0");
        as(() -> {
            assertThat(accounts.get(Account.OWED))
                    .isEqualByComparingTo(ledger.statement(customer, times.today(), times.today())
                            .owed()
                            .amount());
            assertThat(accounts.get(Account.CREDIT).negate())
                    .isEqualByComparingTo(credits.credit(customer).amount());
            return null;
        });
        assertThat(accounts.get(Account.CASH)).isEqualByComparingTo("30");
        String table =
                new String(as(() -> ledger.journal(times.today(), times.today().plusDays(1))), StandardCharsets.UTF_8);
        assertThat(table)
                .startsWith(
                        "booked,date,kind,document,ticket,customer,debit,credit,amount,currency,tax_percent,tax_base,words\r\n");
        assertThat(table).contains("\"'=HYPERLINK(\"\"x\"\")\"").contains("'+49 is a note");
    }

    @Test
    void isToldToOtherPrograms() {
        String key = as(() -> keys.make("till " + UUID.randomUUID().toString().substring(0, 8)));
        InvoiceView invoice = as(() -> issued("95.00"));
        as(() -> payments.take(invoice.number(), money("40.00"), "CASH", null));
        JsonNode list = json(get(key, "/api/invoices?from=%s&to=%1$s".formatted(times.today()), 200));
        JsonNode mine = list.get("invoices")
                .valueStream()
                .filter(one -> one.get("number").stringValue().equals(invoice.number()))
                .findFirst()
                .orElseThrow();
        assertThat(mine.get("owed").decimalValue()).isEqualByComparingTo("55.00");
        assertThat(mine.get("state").stringValue()).isEqualTo("part paid");
        JsonNode one = json(get(key, "/api/invoices/" + invoice.number(), 200));
        assertThat(one.get("lines").get(0).get("amount").decimalValue()).isEqualByComparingTo("95.00");
        assertThat(get(key, "/api/invoices/" + invoice.number() + ".pdf", 200).getContentAsByteArray())
                .isEqualTo(as(() -> invoices.pdf(invoice.number())));
        assertThat(json(get(key, "/api/payments?from=" + times.today(), 200))
                        .get("payments")
                        .valueStream())
                .anySatisfy(
                        move -> assertThat(move.get("invoice").stringValue()).isEqualTo(invoice.number()));
        assertThat(get(key, "/api/export.csv", 200).getContentType()).startsWith("text/csv");
        assertThat(json(get(key, "/api/invoices?from=soon&to=2026-13-01", 422))
                        .get("problems")
                        .propertyNames())
                .containsExactlyInAnyOrder("from", "to");
        assertThat(json(get(key, "/api/export.csv?from=2026-02-01&to=2026-01-01", 422))
                        .get("detail")
                        .stringValue())
                .isEqualTo("The last day comes before the first.");
        for (String unknown : List.of("/api/invoices/A-99999", "/api/invoices/A-99999.pdf")) {
            MockHttpServletResponse answer = get(key, unknown, 404);
            assertThat(answer.getContentType()).startsWith("application/problem+json");
        }
        assertThat(mvc.get().uri("/api/invoices").exchange().getResponse().getStatus())
                .isEqualTo(401);
    }

    private MockHttpServletResponse get(String key, String path, int status) {
        var response = mvc.get()
                .uri(path)
                .header("Authorization", "Bearer " + key)
                .exchange()
                .getResponse();
        assertThat(response.getStatus()).as(path).isEqualTo(status);
        return response;
    }

    private static JsonNode json(MockHttpServletResponse response) {
        return JsonMapper.builder()
                .build()
                .readTree(new String(response.getContentAsByteArray(), StandardCharsets.UTF_8));
    }

    private void set(
            Rates.Card like,
            String name,
            String work,
            String parts,
            String fees,
            String sublet,
            Prices prices,
            Rounding rounding,
            String foot) {
        rates.set(new Rates.Card(
                like.diagnosisFee(),
                like.labourRate(),
                like.partsMarkup(),
                name,
                new BigDecimal(work),
                new BigDecimal(parts),
                new BigDecimal(fees),
                new BigDecimal(sublet),
                prices,
                rounding,
                like.series(),
                like.dueDays(),
                foot,
                like.version()));
    }

    private static String plain(BigDecimal number) {
        return number.toPlainString();
    }

    private void close(LocalDate day, String opening, String counted, String banked, String words) {
        days.close(day, new BigDecimal(opening), new BigDecimal(counted), new BigDecimal(banked), words);
    }

    private BigDecimal cashOfTheCustomer() {
        return jdbc.sql("select sum(amount) from payment where customer_id = ? and method = 'CASH'")
                .param(customer)
                .query(BigDecimal.class)
                .single();
    }

    private InvoiceView issued(String amount) {
        return invoices.issue(charged(amount));
    }

    /** A ticket of the customer with one labour line, and further a part, a fee and sublet work, ready for its invoice. */
    private TicketNumber charged(String... amounts) {
        var car = vehicles.add(customer, Visit.VAN);
        TicketNumber number =
                tickets.open(new Tickets.Opening(car.id(), new BigDecimal("86940"), null, null, "SHOW", "YES"));
        SymptomRef ref = tickets.hear(number, "hesitation", "It hesitates.");
        authorisations.agree(
                number, Agreement.REPAIR, money("1000.00"), "go ahead", Channel.IN_PERSON, "Ines Okafor", null);
        var kinds = List.of(LineKind.LABOUR, LineKind.PART, LineKind.FEE, LineKind.SUBLET);
        for (int i = 0; i < amounts.length; i++) {
            charges.add(
                    number,
                    new Line(1, kinds.get(i), "Work by Halden Works", BigDecimal.ONE, money(amounts[i]), null),
                    null);
        }
        tickets.stamp(ref, ThreadStamp.DECLINED, "Ines Okafor wants it left");
        return number;
    }

    private void on(LocalDate day, Runnable work) {
        Instant noon = day.atTime(LocalTime.NOON).atZone(times.zone()).toInstant();
        clock.at(
                noon,
                () -> as(() -> {
                    work.run();
                    return 0;
                }));
    }

    private Money money(String amount) {
        return Money.rounded(new BigDecimal(amount), rates.currency());
    }

    private <T> T as(java.util.function.Supplier<T> work) {
        return people.as(odile, work::get);
    }
}
