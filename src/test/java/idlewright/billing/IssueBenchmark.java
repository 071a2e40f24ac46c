package idlewright.billing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import idlewright.ground.WithOwnDatabase;
import idlewright.intake.TicketNumber;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Fifty terminals issue at once: with the paper drawn while the number is held, as it once was, and drawn after it is given.
 * Runs only when named: {@code mvn test -Dtest=IssueBenchmark}. The two ways alternate in one run; the first block of each
 * warms up. Each block waits until all its papers are kept.
 */
@SpringBootTest(
        properties = {
            "spring.datasource.hikari.maximum-pool-size=52",
            "spring.datasource.hikari.connection-timeout=60000"
        })
@WithOwnDatabase
@DisplayName("Issuing at fifty terminals")
class IssueBenchmark {

    private static final int BLOCKS = 6;
    private static final int INVOICES = 200;
    private static final int THREADS = 50;

    private record Block(double numbersASecond, double papersASecond, double middleWait, double longestWait) {}

    @Autowired
    private People people;

    @Autowired
    private Invoices invoices;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private PlatformTransactionManager transactions;

    @Test
    void isFasterWithThePaperDrawnAfterTheNumber() throws Exception {
        Person odile = people.hire("Odile", "odile", "a quiet copper kettle", null, Set.of(Role.OWNER, Role.WRITER));
        List<Integer> tickets = ReadyTickets.write(jdbc, odile.name(), 2 * BLOCKS * INVOICES);
        var ratios = new ArrayList<Double>();
        var paperRatios = new ArrayList<Double>();
        var pool = Executors.newFixedThreadPool(THREADS);
        try {
            for (int block = 0; block < BLOCKS; block++) {
                int from = 2 * block * INVOICES;
                Block within = block(pool, odile, tickets.subList(from, from + INVOICES), true);
                Block after = block(pool, odile, tickets.subList(from + INVOICES, from + 2 * INVOICES), false);
                tell(block, "within", within);
                tell(block, "after", after);
                if (block > 0) {
                    ratios.add(after.numbersASecond() / within.numbersASecond());
                    paperRatios.add(after.papersASecond() / within.papersASecond());
                }
            }
        } finally {
            pool.shutdown();
        }
        ratios.sort(null);
        paperRatios.sort(null);
        System.out.printf(
                Locale.ROOT,
                "numbers given, after / within: middle %.2f (%.2f to %.2f); papers kept: middle %.2f (%.2f to %.2f)%n",
                ratios.get(ratios.size() / 2),
                ratios.get(0),
                ratios.get(ratios.size() - 1),
                paperRatios.get(paperRatios.size() / 2),
                paperRatios.get(0),
                paperRatios.get(paperRatios.size() - 1));
        assertThat(invoices.unprinted()).isEmpty();
    }

    private Block block(ExecutorService pool, Person who, List<Integer> tickets, boolean within) throws Exception {
        long start = System.nanoTime();
        List<Callable<Double>> jobs = tickets.stream()
                .map(ticket -> (Callable<Double>) () -> {
                    long begun = System.nanoTime();
                    people.as(
                            who,
                            () -> new TransactionTemplate(transactions).execute(status -> {
                                String number =
                                        invoices.issue(new TicketNumber(ticket)).number();
                                return within ? invoices.pdf(number).length : number.length();
                            }));
                    return (System.nanoTime() - begun) / 1e6;
                })
                .toList();
        var waits = new ArrayList<Double>();
        for (Future<Double> job : pool.invokeAll(jobs)) {
            waits.add(job.get());
        }
        double numbers = (System.nanoTime() - start) / 1e9;
        await().atMost(Duration.ofMinutes(2))
                .pollInterval(Duration.ofMillis(20))
                .until(() -> invoices.unprinted().isEmpty());
        double papers = (System.nanoTime() - start) / 1e9;
        waits.sort(null);
        return new Block(
                tickets.size() / numbers,
                tickets.size() / papers,
                waits.get(waits.size() / 2),
                waits.get(waits.size() - 1));
    }

    private static void tell(int block, String how, Block it) {
        System.out.printf(
                Locale.ROOT,
                "%d, paper %s: %.0f numbers a second, %.0f papers a second, a terminal waits %.0f ms in the middle, %.0f ms at most%n",
                block,
                how,
                it.numbersASecond(),
                it.papersASecond(),
                it.middleWait(),
                it.longestWait());
    }
}
