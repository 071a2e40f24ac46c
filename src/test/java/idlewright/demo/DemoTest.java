package idlewright.demo;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.bench.Bench;
import idlewright.bench.KnownGoods;
import idlewright.billing.Authorisations;
import idlewright.billing.Invoices;
import idlewright.ground.WithOwnDatabase;
import idlewright.insight.Comebacks;
import idlewright.insight.rules.HandedThread;
import idlewright.intake.CounterLine;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.rules.Whose;
import idlewright.journal.Exhibits;
import idlewright.journal.Journal;
import idlewright.people.ApiKeys;
import idlewright.people.People;
import idlewright.reference.verdict.Verdict;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.annotation.DirtiesContext;
import org.springframework.test.context.ActiveProfiles;

/** The demo shop in a database of its own, made as at its first start. */
@SpringBootTest
@ActiveProfiles("demo")
@WithOwnDatabase
@DirtiesContext
class DemoTest {

    @Autowired
    People people;

    @Autowired
    Tickets tickets;

    @Autowired
    Bench bench;

    @Autowired
    KnownGoods knownGoods;

    @Autowired
    Authorisations authorisations;

    @Autowired
    Invoices invoices;

    @Autowired
    Exhibits exhibits;

    @Autowired
    Comebacks comebacks;

    @Autowired
    ApiKeys keys;

    @Autowired
    Journal journal;

    @Autowired
    DemoShop demo;

    @Autowired
    JdbcClient sql;

    /** What triggers keep (V32) against the rows it follows from, after all that happens in the demo shop. */
    @Test
    void keepsWhatIsOpenOwedAndProvedAsTheRowsSayIt() {
        assertThat(count("ticket where at_rest")).isPositive();
        assertThat(count("ticket where not at_rest")).isPositive();
        assertThat(count("ticket where at_rest <> rests(number)")).isZero();
        String owed = "(select i.number from invoice i where i.credits is null and i.total"
                + " + coalesce((select sum(c.total) from invoice c where c.credits = i.number), 0)"
                + " > coalesce((select sum(p.amount) from payment p where p.invoice_number = i.number), 0))";
        assertThat(count("owing")).isPositive();
        assertThat(count("(select invoice_number from owing except " + owed + ") q"))
                .isZero();
        assertThat(count("(" + owed + " except select invoice_number from owing) q"))
                .isZero();
        String proved = "(select y.kind, f.note, count(*)::integer n from symptom y cross join lateral"
                + " (select s.note from stamp s where s.ticket_number = y.ticket_number and s.place = y.place and s.kind = 'TRACED'"
                + " order by s.id desc limit 1) f where f.note is not null and exists (select from stamp s"
                + " where s.ticket_number = y.ticket_number and s.place = y.place and s.kind = 'PROVED') group by 1, 2)";
        assertThat(count("proved_tally")).isPositive();
        assertThat(count("(select kind, note, n from proved_tally where n > 0 except " + proved + ") q"))
                .isZero();
        assertThat(count("(" + proved + " except select kind, note, n from proved_tally) q"))
                .isZero();
    }

    @Test
    void isAShopWithPeopleCarsAndAPast() {
        assertThat(people.all()).hasSizeGreaterThanOrEqualTo(6);
        assertThat(people.technicians()).hasSizeGreaterThanOrEqualTo(3);
        assertThat(count("vehicle")).isGreaterThanOrEqualTo(25);
        assertThat(count("customer")).isGreaterThanOrEqualTo(20);
        assertThat(count("ticket")).isGreaterThanOrEqualTo(60);
        assertThat(sql.sql("select extract(day from max(opened_at) - min(opened_at)) from ticket")
                        .query(Integer.class)
                        .single())
                .isGreaterThan(500);
        assertThat(keys.by(Cast.API_KEY)).isPresent();
    }

    @Test
    void waitsForEverybody() {
        var moves = tickets.open().stream()
                .map(CounterLine::move)
                .map(move -> move.whose())
                .collect(Collectors.toSet());
        assertThat(moves).contains(Whose.COUNTER, Whose.BAY, Whose.CUSTOMER, Whose.OWNER);
        assertThat(tickets.open().stream().map(line -> line.move().what()))
                .contains(
                        "Get the diagnosis agreed.",
                        "Reproduce it.",
                        "Find the cause.",
                        "Write the estimate.",
                        "Repair it.",
                        "Prove the repair.",
                        "Write the invoice.",
                        "Take the payment.",
                        "Hand the car back.",
                        "Call the customer: the follow-up is due.",
                        "Say why it came back.");
    }

    @Test
    void knowsItsOwnGoodReadings() {
        var flow = knownGoods.of("BW22").stream()
                .filter(good -> good.point().equals("flow-2500"))
                .toList();
        assertThat(flow.stream().map(KnownGoods.Good::vehicleId).distinct()).hasSizeGreaterThanOrEqualTo(12);
        assertThat(flow).allSatisfy(good -> assertThat(good.value()).isBetween(11.0, 13.0));
    }

    @Test
    void holdsTheBakerysVanAgainstThem() {
        var number = new TicketNumber(
                sql.sql("""
                select number from ticket t join vehicle v on v.id = t.vehicle_id where plate = ? order by number desc limit 1""").param(Fleet.LEAD).query(Integer.class).single());
        var flow = bench.of(number).stream()
                .filter(test -> test.procedure().equals("air-flow"))
                .findFirst()
                .orElseThrow()
                .reading("flow-2500", 0)
                .orElseThrow();
        assertThat(flow.shown()).isEqualTo("9.6 g/s");
        assertThat(flow.verdict()).isEqualTo(Verdict.OUTSIDE);
        assertThat(flow.ground()).contains("known good");
        assertThat(bench.causes(new SymptomRef(number, 1)).likeliest().cause().key())
                .isEqualTo("air-sensor-low");
        assertThat(authorisations.agreed(number).text()).isEqualTo("481.00");
        assertThat(tickets.get(number).move().what()).isEqualTo("Prove the repair.");
        assertThat(exhibits.of(number.value())).hasSizeGreaterThanOrEqualTo(3);
    }

    @Test
    void hasSeenCarsComeBackAndMoneyStayAway() {
        assertThat(comebacks.threads(24)).filteredOn(HandedThread::cameBack).hasSizeGreaterThanOrEqualTo(5);
        assertThat(invoices.latest(null, 200)).anyMatch(line -> line.owed().isPositive());
        assertThat(sql.sql("select distinct kind from stamp")
                        .query(String.class)
                        .list())
                .contains(
                        "HEARD",
                        "REPRODUCED",
                        "TRACED",
                        "MENDED",
                        "PROVED",
                        "WATCHED",
                        "UNTRACED",
                        "DECLINED",
                        "RETURNED",
                        "EXPLAINED",
                        "OFFERED",
                        "AGREED",
                        "BILLED",
                        "PAID",
                        "HANDED_BACK",
                        "PUT_OFF");
        assertThat(count("dossier")).isPositive();
        assertThat(sql.sql("select distinct kind from claim_step")
                        .query(String.class)
                        .list())
                .contains("SENT", "GRANTED", "REFUSED", "PAID", "DROPPED");
        assertThat(sql.sql("select distinct kind from core_step")
                        .query(String.class)
                        .list())
                .contains("CHARGED", "RETURNED", "CREDITED");
        assertThat(count("part_terms")).isPositive();
        assertThat(count("clocked where replaces is not null")).isEqualTo(1);
    }

    @Test
    void leavesAJournalThatVerifies() {
        assertThat(journal.verify().sound()).isTrue();
        assertThat(journal.latest(1, Long.MAX_VALUE))
                .singleElement()
                .satisfies(last -> assertThat(last.sentence()).isEqualTo("The demo shop is complete."));
        assertThat(sql.sql(
                                "select count(*) from (select at, lag(at) over (order by id) before from journal_entry) e where at < before")
                        .query(Integer.class)
                        .single())
                .as("entries that go back in time")
                .isZero();
    }

    @Test
    void isMadeOnce() {
        int before = count("journal_entry");
        demo.start();
        assertThat(count("journal_entry")).isEqualTo(before);
    }

    private int count(String table) {
        return sql.sql("select count(*) from " + table).query(Integer.class).single();
    }
}
