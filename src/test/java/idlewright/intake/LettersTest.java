package idlewright.intake;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.GreenMailUtil;
import com.icegreen.greenmail.util.ServerSetup;
import idlewright.frame.MovableClock;
import idlewright.frame.Refused;
import idlewright.ground.WithDatabase;
import idlewright.intake.rules.Patience;
import idlewright.people.Badge;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.people.Shop;
import idlewright.people.Shops;
import jakarta.mail.internet.MimeMessage;
import jakarta.mail.internet.MimeMultipart;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.Executors;
import java.util.function.Supplier;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.context.DynamicPropertyRegistry;
import org.springframework.test.context.DynamicPropertySource;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

@SpringBootTest(properties = {"spring.mail.host=127.0.0.1", "idlewright.letters.every=1h"})
@AutoConfigureMockMvc
@WithDatabase
class LettersTest {

    private static final int PORT = freePort();

    @Autowired
    private Letters letters;

    @Autowired
    private LetterSender sender;

    @Autowired
    private Customers customers;

    @Autowired
    private Shops shops;

    @Autowired
    private People people;

    @Autowired
    private MovableClock clock;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private PlatformTransactionManager transactions;

    private final GreenMail server = new GreenMail(new ServerSetup(PORT, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));
    private Person wren;
    private CustomerView ines;
    private String address;
    private String firstTry;

    @Autowired
    private MockMvcTester browser;

    @DynamicPropertySource
    static void mailServer(DynamicPropertyRegistry properties) {
        properties.add("spring.mail.port", () -> PORT);
    }

    @BeforeEach
    void aCustomerAgreesToEmail() {
        String unique = UUID.randomUUID().toString().substring(0, 8);
        wren = people.hire("Wren " + unique, "wren-" + unique, "a quiet copper kettle", null, Set.of(Role.WRITER));
        address = "ines-" + unique + "@bakery.example";
        Shop shop = shops.shop();
        shops.set(
                new Shop(
                        "Finch Lane Motors",
                        "",
                        "555 0100",
                        "desk@finchlane.example",
                        "",
                        shop.currency(),
                        shop.zone(),
                        shop.metric(),
                        shop.locale()),
                shops.sheet());
        ines = as(() -> customers.add(
                new Customers.Telling("Grand Row Bakery", "555 0142", address, "4 Grand Row", "EMAIL", null)));
        jdbc.sql("update letter set state = 'WITHDRAWN' where state = 'WAITING'")
                .update();
    }

    @AfterEach
    void serverStops() {
        server.stop();
    }

    @Test
    void sendsALetterWithItsEnclosureAndKeepsNeitherBodyNorFile() throws Exception {
        server.start();
        write("invoice A-00001", new Letters.Enclosure("A-00001.pdf", "%PDF-".getBytes(StandardCharsets.UTF_8)));
        assertThat(sender.send()).isEqualTo(1);
        MimeMessage got = server.getReceivedMessages()[0];
        assertThat(got.getFrom()[0].toString()).contains("desk@finchlane.example", "Finch Lane Motors");
        assertThat(got.getAllRecipients()[0].toString()).isEqualTo(address);
        assertThat(got.getSubject()).isEqualTo("Grüße: invoice A-00001");
        assertThat(GreenMailUtil.getBody(got)).contains("A-00001.pdf", "application/pdf");
        assertThat(((MimeMultipart) got.getContent()).getCount()).isEqualTo(2);
        assertThat(last().state()).isEqualTo("SENT");
        assertThat(jdbc.sql("select body from letter where id = ?")
                        .param(last().id())
                        .query(String.class)
                        .single())
                .isEmpty();
    }

    @Test
    void waitsLongerEachTimeWhileTheServerIsAwayAndSendsOnceItIsBack() {
        write("estimate 1", null);
        Instant now = clock.instant();
        at(now, sender::send);
        assertThat(last()).satisfies(letter -> {
            assertThat(letter.state()).isEqualTo("WAITING");
            assertThat(letter.tries()).isEqualTo(1);
            assertThat(letter.problem()).contains("refused");
            assertThat(letter.nextTry()).isBetween(now.plusSeconds(59), now.plusSeconds(61));
        });
        assertThat(at(now.plusSeconds(30), sender::send)).isZero();
        at(now.plusSeconds(62), sender::send);
        assertThat(last().nextTry()).isAfter(now.plus(Duration.ofMinutes(5)));
        server.start();
        assertThat(at(now.plus(Duration.ofMinutes(10)), sender::send)).isEqualTo(1);
        assertThat(server.getReceivedMessages()).hasSize(1);
        assertThat(last().state()).isEqualTo("SENT");
    }

    @Test
    void givesUpAfterADayAndAHalfAndIsTriedAgainByHand() {
        write("estimate 1", null);
        Instant now = clock.instant();
        for (int i = 0; i < 8; i++) {
            now = now.plus(Duration.ofHours(25));
            at(now, sender::send);
        }
        assertThat(last().state()).isEqualTo("FAILED");
        assertThat(last().tries()).isEqualTo(8);
        assertThat(letters.failed()).isPositive();
        server.start();
        assertThat(at(now.plus(Duration.ofDays(9)), sender::send)).isZero();
        letters.tryAgain(last().id());
        sender.send();
        assertThat(last().state()).isEqualTo("SENT");
        assertThatThrownBy(() -> letters.tryAgain(last().id()))
                .isInstanceOf(Refused.class)
                .hasMessageContaining("gone already");
    }

    @Test
    void sendsEachLetterOnceWithTwoSenders() throws Exception {
        server.start();
        for (int i = 0; i < 12; i++) {
            write("letter " + i, null);
        }
        var pool = Executors.newFixedThreadPool(4);
        try {
            List<Callable<Integer>> jobs = List.of(sender::send, sender::send, sender::send, sender::send);
            for (var done : pool.invokeAll(jobs)) {
                done.get();
            }
        } finally {
            pool.shutdown();
        }
        var subjects = new ArrayList<String>();
        for (MimeMessage got : server.getReceivedMessages()) {
            subjects.add(got.getSubject());
        }
        assertThat(subjects).hasSize(12).doesNotHaveDuplicates();
    }

    @Test
    void writesNothingWhenTheActIsTakenBack() {
        server.start();
        new TransactionTemplate(transactions).executeWithoutResult(status -> {
            write("estimate 1", null);
            status.setRollbackOnly();
        });
        assertThat(sender.send()).isZero();
        assertThat(server.getReceivedMessages()).isEmpty();
    }

    @Test
    void writesOnlyToThoseWhoAgreedAndStopsWhenTheyNoLongerDo() {
        CustomerView byPhone = as(
                () -> customers.add(new Customers.Telling("Marlow Works", "555 0199", address, null, "PHONE", null)));
        assertThatThrownBy(() -> as(() -> {
                    letters.write(byPhone, null, "estimate 1", "subject", "body", null);
                    return null;
                }))
                .hasMessageContaining("not agreed to e-mail");
        server.start();
        write("estimate 1", null);
        as(() -> {
            customers.amend(
                    ines.id(),
                    ines.version(),
                    new Customers.Telling("Grand Row Bakery", "555 0142", address, null, "PHONE", null));
            return null;
        });
        sender.send();
        assertThat(server.getReceivedMessages()).isEmpty();
        assertThat(last().state()).isEqualTo("WITHDRAWN");
    }

    @Test
    void emptiesTheLettersOfACustomerWhoIsForgotten() {
        write("estimate 1", new Letters.Enclosure("estimate.pdf", new byte[] {1}));
        as(() -> {
            customers.forget(ines.id(), null);
            return null;
        });
        var row = jdbc.sql("select * from letter where customer_id = ?")
                .param(ines.id())
                .query()
                .singleRow();
        assertThat(row).containsEntry("recipient", "").containsEntry("body", "").containsEntry("subject", "");
        assertThat(row.get("enclosure")).isNull();
        assertThat(row).containsEntry("state", "WITHDRAWN");
        assertThat(row.values().stream().map(String::valueOf)).noneMatch(value -> value.contains(address));
    }

    @Test
    void isNotSentAgainWhenTheServerMayHaveTakenIt() throws Exception {
        write("estimate 1", null);
        try (var server = new RudeServer(PORT, "DROP")) {
            assertThat(sender.send()).isEqualTo(1);
            assertThat(server.letters()).hasSize(1);
            assertThat(last().state()).isEqualTo("UNSURE");
            assertThat(at(clock.instant().plus(Duration.ofDays(2)), sender::send))
                    .isZero();
            assertThat(server.letters()).hasSize(1);
            firstTry = messageId(server.letters().get(0));
        }
        server.start();
        letters.tryAgain(last().id());
        assertThat(sender.send()).isEqualTo(1);
        MimeMessage got = server.getReceivedMessages()[0];
        assertThat(got.getMessageID()).isEqualTo(firstTry).endsWith("@finchlane.example>");
        assertThat(last().state()).isEqualTo("SENT");
    }

    @Test
    void isTriedAgainByItselfWhenTheServerSaysNoOrBreaksOffBeforeTheLetter() throws Exception {
        for (String way : List.of("DROP AT MAIL", "451")) {
            write("estimate 1", null);
            try (var server = new RudeServer(PORT, way)) {
                sender.send();
            }
            assertThat(last().state()).as(way).isEqualTo("WAITING");
            assertThat(last().tries()).as(way).isEqualTo(1);
        }
    }

    @Test
    void isMarkedInTheDatabaseBeforeTheServerHearsOfIt() throws Exception {
        write("estimate 1", null);
        var seen = new ArrayList<String>();
        try (var server = new RudeServer(PORT, "250")) {
            server.whenGreeted(() -> seen.add(jdbc.sql("select state from letter where customer_id = ?")
                    .param(ines.id())
                    .query(String.class)
                    .single()));
            sender.send();
        }
        assertThat(seen).containsExactly("SENDING");
        assertThat(last().state()).isEqualTo("SENT");
    }

    @Test
    void isDoubtedAfterACrashAndSentAgainOrLetRestByAPersonOnly() throws Exception {
        server.start();
        write("estimate 1", null);
        long id = last().id();
        // As a crash in the middle of the conversation leaves it.
        jdbc.sql(
                        "update letter set state = 'SENDING', sending_at = ?, message_id = '<kept@finchlane.example>' where id = ?")
                .params(java.sql.Timestamp.from(clock.instant()), id)
                .update();
        assertThat(sender.send()).isZero();
        assertThat(last().state()).isEqualTo("SENDING");
        assertThat(at(clock.instant().plus(Duration.ofMinutes(16)), sender::send))
                .isZero();
        assertThat(last().unsure()).isTrue();
        assertThat(letters.failed()).isPositive();
        assertThat(server.getReceivedMessages()).isEmpty();
        assertThat(page())
                .contains("may have been sent", "Send again", "Let it rest", "Ask the customer whether it came");

        as(() -> {
            letters.rest(id);
            return null;
        });
        assertThat(last().state()).isEqualTo("RESTED");
        assertThat(jdbc.sql("select body from letter where id = ?")
                        .param(id)
                        .query(String.class)
                        .single())
                .isEmpty();
        assertThat(page()).contains("let rest, not sent again");
        assertThatThrownBy(() -> letters.tryAgain(id)).hasMessageContaining("gone already");
        assertThat(at(clock.instant().plus(Duration.ofDays(1)), sender::send)).isZero();
        assertThat(server.getReceivedMessages()).isEmpty();
    }

    private String page() throws Exception {
        // Without an owner every page leads to the first start.
        Person odile = people.hire(
                "Odile " + UUID.randomUUID(),
                "odile-" + UUID.randomUUID().toString().substring(0, 8),
                "a quiet copper ledger",
                null,
                Set.of(Role.OWNER));
        int generation = jdbc.sql("select generation from person where id = ?")
                .param(odile.id())
                .query(Integer.class)
                .single();
        var page = browser.get()
                .uri("/letters")
                .with(authentication(new Badge(odile, generation, clock.instant(), null).authentication()))
                .exchange();
        assertThat(page).hasStatusOk();
        return page.getResponse().getContentAsString();
    }

    private static String messageId(String letter) {
        return letter.lines()
                .filter(line -> line.startsWith("Message-ID: "))
                .map(line -> line.substring(12))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void growsMorePatientWithEachTry() {
        var waits = java.util.stream.IntStream.rangeClosed(1, 7)
                .mapToObj(tries -> Patience.after(tries).orElseThrow())
                .toList();
        assertThat(waits).isSorted().doesNotHaveDuplicates();
        assertThat(Patience.after(8)).isEmpty();
    }

    private void write(String what, Letters.Enclosure enclosure) {
        as(() -> {
            letters.write(ines, null, what, "Grüße: " + what, "Hello", enclosure);
            return null;
        });
    }

    private Letters.LetterView last() {
        return letters.lately().stream()
                .filter(letter -> letter.customerId() == ines.id())
                .findFirst()
                .orElseThrow();
    }

    private <T> T at(Instant moment, Supplier<T> work) {
        return clock.at(moment, work);
    }

    private <T> T as(Supplier<T> work) {
        return people.as(wren, work);
    }

    /** Under those that outgoing connections take: it is opened and closed by each test, and is free in between. */
    private static int freePort() {
        for (int port = 20_000 + new java.util.Random().nextInt(10_000); ; port++) {
            try (var socket = new java.net.ServerSocket(port)) {
                return socket.getLocalPort();
            } catch (java.io.IOException taken) {
                // The next one then.
            }
        }
    }
}
