package idlewright.journal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import idlewright.ground.WithDatabase;
import idlewright.journal.rules.Entry;
import idlewright.people.Happened;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.Executors;
import java.util.concurrent.ThreadLocalRandom;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

@SpringBootTest
@WithDatabase
class JournalTest {

    @Autowired
    Journal journal;

    @Autowired
    People people;

    @Autowired
    JdbcClient sql;

    @Autowired
    ApplicationEventPublisher events;

    @Autowired
    PlatformTransactionManager transactions;

    @Test
    void saysWhoDidWhatOnWhichTicket() {
        var tamsin = technician();
        var ticket = freshTicket();
        people.as(tamsin, () -> {
            journal.note(
                    "swap", ticket, "Fitted an idle valve.", Map.of("price", new BigDecimal("119.00"), "seals", true));
            return null;
        });
        assertThat(journal.of(ticket)).singleElement().satisfies(entry -> {
            assertThat(entry.person()).isEqualTo(tamsin.name());
            assertThat(entry.personId()).isEqualTo(tamsin.id());
            assertThat(entry.sentence()).isEqualTo("Fitted an idle valve.");
            assertThat(entry.facts()).isEqualTo("{\"price\":\"119.00\",\"seals\":true}");
        });
        assertThat(journal.verify().sound()).isTrue();
    }

    @Test
    void namesTheSystemWhenNobodyIsSignedIn() {
        var ticket = freshTicket();
        journal.note("reminder", ticket, "Wrote a reminder.", Map.of());
        assertThat(journal.of(ticket)).singleElement().satisfies(entry -> {
            assertThat(entry.person()).isEqualTo("the system");
            assertThat(entry.personId()).isNull();
        });
    }

    @Test
    void notesWhatHappenedAmongThePeople() {
        events.publishEvent(new Happened("sign-in", "Somebody came in " + System.nanoTime() + ".", Map.of()));
        assertThat(journal.latest(1, Long.MAX_VALUE)).singleElement().satisfies(entry -> {
            assertThat(entry.kind()).isEqualTo("sign-in");
            assertThat(entry.ticket()).isNull();
        });
    }

    @Test
    void forgetsWhatWasRolledBack() {
        var ticket = freshTicket();
        var before = journal.head();
        new TransactionTemplate(transactions).executeWithoutResult(status -> {
            journal.note("swap", ticket, "Fitted nothing.", Map.of());
            status.setRollbackOnly();
        });
        assertThat(journal.of(ticket)).isEmpty();
        assertThat(journal.head()).isEqualTo(before);
    }

    @Test
    void sealsTheNotesOfOneTransactionTogetherAndInOrder() {
        var ticket = freshTicket();
        new TransactionTemplate(transactions).executeWithoutResult(status -> {
            journal.note("reading", ticket, "First.", Map.of());
            journal.note("reading", ticket, "Second.", Map.of());
            journal.note("reading", ticket, "Third.", Map.of());
            assertThat(journal.of(ticket)).isEmpty();
        });
        assertThat(journal.of(ticket)).extracting(Entry::sentence).containsExactly("First.", "Second.", "Third.");
        assertThat(journal.head()).isEqualTo(journal.of(ticket).get(2).hash());
    }

    @Test
    void keepsOneChainWithoutGapsWhenManyWriteAtOnce() throws Exception {
        var tickets = ConcurrentHashMap.<Integer>newKeySet();
        var start = new CountDownLatch(1);
        var pool = Executors.newFixedThreadPool(8);
        var work = new ArrayList<Callable<Void>>();
        for (int i = 0; i < 200; i++) {
            var rollBack = i % 10 == 0;
            work.add(() -> {
                start.await(10, TimeUnit.SECONDS);
                new TransactionTemplate(transactions).executeWithoutResult(status -> {
                    var ticket = freshTicket();
                    journal.note("reading", ticket, "One of many.", Map.of());
                    journal.note("reading", ticket, "Another of many.", Map.of());
                    if (rollBack) {
                        status.setRollbackOnly();
                    } else {
                        tickets.add(ticket);
                    }
                });
                return null;
            });
        }
        var before = entries();
        start.countDown();
        for (var done : pool.invokeAll(work)) {
            done.get();
        }
        pool.shutdown();
        assertThat(entries() - before).isEqualTo(2L * tickets.size()).isEqualTo(360);
        assertThat(sql.sql("select max(id) - count(*) from journal_entry")
                        .query(Long.class)
                        .single())
                .isZero();
        assertThat(journal.verify().sound()).isTrue();
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "update journal_entry set sentence = 'x'",
                "delete from journal_entry",
                "truncate journal_entry",
                "delete from journal_head",
                "update journal_head set last_id = 0"
            })
    void refusesToChangeWhatIsWritten(String attempt) {
        journal.note("reading", null, "Stands.", Map.of());
        assertThatThrownBy(() -> sql.sql(attempt).update())
                .rootCause()
                .message()
                .containsAnyOf(
                        "rows of journal_entry are never changed",
                        "permission denied",
                        "only moves on",
                        "rows of journal_head are never changed");
    }

    @Test
    void refusesFactsThatCanNotBeWrittenInOneWay() {
        assertThatThrownBy(() -> journal.note("reading", null, "x", Map.of("rpm", Double.NaN)))
                .isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void notesItsOwnChecks() {
        journal.note("reading", null, "One at least.", Map.of());
        var head = journal.head();
        var outcome = journal.check(head);
        assertThat(outcome.sound()).isTrue();
        assertThat(journal.lastCheck())
                .hasValueSatisfying(entry -> assertThat(entry.sentence())
                        .startsWith("Journal checked. All ")
                        .contains("entries are as they were written.")
                        .contains("kept elsewhere is that of entry " + outcome.entries()));
    }

    @Test
    void showsTheNewestFirstAndGoesOnBeforeTheLastShown() {
        for (int i = 1; i <= 5; i++) {
            journal.note("reading", null, "Line " + i + ".", Map.of());
        }
        var page = journal.latest(2, Long.MAX_VALUE);
        assertThat(page).extracting(Entry::sentence).containsExactly("Line 5.", "Line 4.");
        assertThat(journal.latest(2, page.get(1).id()))
                .extracting(Entry::sentence)
                .containsExactly("Line 3.", "Line 2.");
    }

    private Person technician() {
        var name = "tamsin" + ThreadLocalRandom.current().nextInt(1_000_000);
        return people.hire(name, name, null, "739152", Set.of(Role.TECHNICIAN));
    }

    private long entries() {
        return sql.sql("select count(*) from journal_entry").query(Long.class).single();
    }

    private static int freshTicket() {
        return ThreadLocalRandom.current().nextInt(1_000_000, Integer.MAX_VALUE);
    }
}
