package idlewright.billing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.mockito.ArgumentMatchers.any;
import static org.mockito.Mockito.when;

import idlewright.frame.Paper;
import idlewright.ground.WithOwnDatabase;
import idlewright.intake.TicketNumber;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import java.nio.charset.StandardCharsets;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.IntStream;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.context.bean.override.mockito.MockitoBean;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** Many invoices at once on a real PostgreSQL; the paper is a stand-in, since drawing it is not what is tried here. */
@SpringBootTest(
        properties = {
            "spring.datasource.hikari.maximum-pool-size=50",
            "spring.datasource.hikari.connection-timeout=60000",
            "spring.datasource.hikari.data-source-properties.socketTimeout=60"
        })
@WithOwnDatabase
@DisplayName("The numbers of invoices")
class NumbersIT {

    private static final int INVOICES = 2_000;
    private static final int THREADS = 50;

    @Autowired
    private People people;

    @Autowired
    private Rates rates;

    @Autowired
    private Invoices invoices;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private PlatformTransactionManager transactions;

    @MockitoBean
    private Paper paper;

    @Test
    @Timeout(300)
    @DisplayName("run from 1 without a gap or a double while fifty issue at once and one in ten fails")
    void haveNoGapsAndNoDoubles() throws Exception {
        when(paper.pdf(any(), any(), any())).thenReturn("%PDF- stands in".getBytes(StandardCharsets.US_ASCII));
        String unique = UUID.randomUUID().toString().substring(0, 5).toUpperCase(Locale.ROOT);
        Person odile = people.hire(
                "Odile " + unique, "odile-" + unique, "a quiet copper kettle", null, Set.of(Role.OWNER, Role.WRITER));
        String before = rates.card().series();
        String series = "N" + unique;
        List<Integer> numbers = ReadyTickets.write(jdbc, odile.name(), INVOICES);
        series(odile, series);
        var kept = new HashMap<Integer, String>();
        var pool = Executors.newFixedThreadPool(THREADS);
        try {
            List<Callable<String>> jobs = IntStream.range(0, INVOICES)
                    .mapToObj(i -> (Callable<String>) () -> people.as(
                            odile,
                            () -> new TransactionTemplate(transactions).execute(status -> {
                                String number = invoices.issue(new TicketNumber(numbers.get(i)))
                                        .number();
                                if (i % 10 == 3) {
                                    status.setRollbackOnly();
                                    return null;
                                }
                                return number;
                            })))
                    .toList();
            List<Future<String>> done = pool.invokeAll(jobs);
            for (int i = 0; i < INVOICES; i++) {
                String number = done.get(i).get();
                if (number != null) {
                    kept.put(numbers.get(i), number);
                }
            }
            List<Callable<byte[]>> papers = kept.values().stream()
                    .<Callable<byte[]>>map(number -> () -> invoices.pdf(number))
                    .toList();
            for (Future<byte[]> paper : pool.invokeAll(papers)) {
                assertThat(paper.get()).isNotEmpty();
            }
        } finally {
            pool.shutdown();
            series(odile, before);
        }
        List<Integer> sequences = jdbc.sql("select sequence from invoice where series = ? order by sequence")
                .param(series)
                .query(Integer.class)
                .list();
        assertThat(sequences)
                .isEqualTo(IntStream.rangeClosed(1, INVOICES - INVOICES / 10)
                        .boxed()
                        .toList());
        assertThat(kept.values()).doesNotHaveDuplicates().hasSize(sequences.size());
        var stands = new HashMap<Integer, String>();
        jdbc.sql("select ticket_number, number from invoice where series = ?")
                .param(series)
                .query((java.sql.ResultSet r) -> {
                    stands.put(r.getInt(1), r.getString(2));
                });
        assertThat(stands)
                .as("each ticket has the number its terminal was told")
                .isEqualTo(kept);
        assertThat(jdbc.sql("""
                        select count(*) from invoice i join invoice_paper p on p.invoice_number = i.number
                        join invoice_line l on l.invoice_number = i.number join invoice_tax t on t.invoice_number = i.number
                        where i.series = ? and i.total = l.net and t.net = l.net""").param(series).query(Integer.class).single())
                .as("whole, each with its paper")
                .isEqualTo(sequences.size());
    }

    private void series(Person owner, String series) {
        people.as(owner, () -> {
            var c = rates.card();
            rates.set(new Rates.Card(
                    c.diagnosisFee(),
                    c.labourRate(),
                    c.partsMarkup(),
                    c.taxName(),
                    c.taxLabour(),
                    c.taxParts(),
                    c.taxFees(),
                    c.taxSublet(),
                    c.prices(),
                    c.rounding(),
                    series,
                    c.dueDays(),
                    c.foot(),
                    c.version()));
            return 0;
        });
    }
}
