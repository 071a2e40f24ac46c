package idlewright.journal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

import idlewright.ground.WithDatabase;
import idlewright.people.Badge;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.ThreadLocalRandom;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

@SpringBootTest
@AutoConfigureMockMvc
@WithDatabase
@DisplayName("The pages of the journal")
class JournalPagesTest {

    @Autowired
    MockMvcTester browser;

    @Autowired
    Journal journal;

    @Autowired
    Exhibits exhibits;

    @Autowired
    People people;

    @Autowired
    JdbcClient sql;

    @Autowired
    Clock clock;

    private final int ticket = ThreadLocalRandom.current().nextInt(1_000_000, Integer.MAX_VALUE);

    /** A shop without an owner shows everybody its first page. */
    @BeforeEach
    void openTheShop() {
        as(Role.OWNER);
    }

    @Test
    void showTheOwnerWhoDidWhat() {
        journal.note("reading", ticket, "Read <4.1> g/s at idle.", Map.of("g/s", "4.1"));
        assertThat(browser.get().uri("/journal?ticket=" + ticket).with(as(Role.OWNER)))
                .hasStatusOk()
                .bodyText()
                .contains("Read &lt;4.1&gt; g/s at idle.", "the system", journal.head());
    }

    @Test
    void sayBesideTheFieldThatATicketHasANumber() {
        for (String typed : new String[] {"abc", "99999999999"}) {
            assertThat(browser.get().uri("/journal").param("ticket", typed).with(as(Role.OWNER)))
                    .hasStatus(422)
                    .bodyText()
                    .contains("Enter the number of a ticket", "id=\"f-ticket-wrong\"", "value=\"" + typed + "\"");
        }
    }

    @Test
    void areNotThereForAWriterOrATechnician() {
        for (var role : new Role[] {Role.WRITER, Role.TECHNICIAN}) {
            assertThat(browser.get().uri("/journal").with(as(role))).hasStatus(404);
        }
    }

    @Test
    void checkTheJournalAndSayWhatCameOut() {
        journal.note("reading", ticket, "Read.", Map.of());
        var owner = as(Role.OWNER);
        assertThat(browser.post()
                        .uri("/journal/verification")
                        .param("head", journal.head())
                        .param("submission", UUID.randomUUID().toString())
                        .with(csrf())
                        .with(owner))
                .hasStatus3xxRedirection()
                .hasRedirectedUrl("/journal");
        assertThat(browser.get().uri("/journal").with(owner))
                .bodyText()
                .contains("entries are as they were written.", "kept elsewhere is that of entry");
    }

    @Test
    void sayWhetherTheChainStillHoldsAHashFromPaper() {
        journal.note("reading", ticket, "Read.", Map.of());
        String head = journal.head();
        journal.note("reading", ticket, "Read on.", Map.of());
        var owner = as(Role.OWNER);
        for (var kept : Map.of(
                        head.substring(0, 20) + " \n" + head.substring(20).toUpperCase(java.util.Locale.ROOT),
                        "The hash you kept is that of entry ",
                        "ab".repeat(32),
                        "No entry has the hash that was kept elsewhere")
                .entrySet()) {
            var answer = browser.post()
                    .uri("/journal/verification")
                    .param("head", kept.getKey())
                    .param("submission", UUID.randomUUID().toString())
                    .with(csrf())
                    .with(owner)
                    .exchange();
            assertThat(answer.getMvcResult().getFlashMap().get("notice"))
                    .asString()
                    .contains(kept.getValue());
        }
    }

    @Test
    void sayWhatAHashLooksLike() {
        assertThat(browser.post()
                        .uri("/journal/verification")
                        .param("head", "<b>nonsense")
                        .param("submission", UUID.randomUUID().toString())
                        .with(csrf())
                        .with(as(Role.OWNER)))
                .hasStatus(422)
                .bodyText()
                .contains("A hash has 64 characters", "&lt;b&gt;nonsense");
    }

    @Test
    void handOutAnOriginalAsADownloadThatNoBrowserRuns() {
        var log = ("rpm\n750\n" + Math.random()).getBytes(StandardCharsets.UTF_8);
        var kept = exhibits.keep(new ByteArrayInputStream(log), "Prüfung \"1\".csv", ticket, null, "log", "");
        var answer = browser.get()
                .uri("/exhibits/" + kept.id())
                .with(as(Role.TECHNICIAN))
                .exchange();
        assertThat(answer).hasStatusOk().body().isEqualTo(log);
        assertThat(answer).hasHeader("X-Content-Type-Options", "nosniff");
        assertThat(answer).hasHeader("Content-Security-Policy", "default-src 'none'; sandbox");
        assertThat(answer.getResponse().getHeader("Content-Disposition"))
                .startsWith("attachment;")
                .contains("Pr%C3%BCfung%20_1_.csv");
        assertThat(answer.getResponse().getHeader("Cache-Control"))
                .contains("private")
                .doesNotContain("no-store");
    }

    @Test
    void showAPictureInTwoSizes() throws Exception {
        var kept = exhibits.keep(new ByteArrayInputStream(png(500, 400)), "scope.png", ticket, null, "photo", "");
        var small = browser.get()
                .uri("/exhibits/" + kept.id() + "/picture?size=small")
                .with(as(Role.WRITER))
                .exchange();
        assertThat(small).hasStatusOk().hasContentType("image/png");
        assertThat(ImageIO.read(new ByteArrayInputStream(small.getResponse().getContentAsByteArray()))
                        .getWidth())
                .isEqualTo(320);
        var large = browser.get()
                .uri("/exhibits/" + kept.id() + "/picture")
                .with(as(Role.WRITER))
                .exchange();
        assertThat(ImageIO.read(new ByteArrayInputStream(large.getResponse().getContentAsByteArray()))
                        .getWidth())
                .isEqualTo(500);
    }

    @Test
    void handOutNothingToAStranger() {
        var kept = exhibits.keep(new ByteArrayInputStream(new byte[] {'a'}), "a.txt", ticket, null, "log", "");
        for (var path : new String[] {"", "/picture", "/strike"}) {
            var answer = browser.get().uri("/exhibits/" + kept.id() + path).exchange();
            assertThat(answer.getResponse().getStatus()).isNotEqualTo(200);
        }
    }

    @Test
    void sayThatThereIsNoSuchExhibit() {
        assertThat(browser.get().uri("/exhibits/999999999").with(as(Role.OWNER)))
                .hasStatus(404);
    }

    @Test
    void strikeAnExhibitOutWithAReason() {
        var kept = exhibits.keep(new ByteArrayInputStream(new byte[] {'b'}), "b.txt", ticket, null, "log", "");
        var tamsin = as(Role.TECHNICIAN);
        assertThat(browser.get().uri("/exhibits/" + kept.id() + "/strike").with(tamsin))
                .bodyText()
                .contains("b.txt");
        assertThat(strike(kept.id(), "", tamsin)).hasStatus(422).bodyText().contains("Say in up to 400 letters");
        assertThat(strike(kept.id(), "Wrong car.", tamsin)).hasRedirectedUrl("/tickets/" + ticket + "/exhibits");
        assertThat(exhibits.of(ticket)).isEmpty();
    }

    private org.springframework.test.web.servlet.assertj.MvcTestResult strike(
            long id, String reason, RequestPostProcessor who) {
        return browser.post()
                .uri("/exhibits/" + id + "/strike")
                .param("reason", reason)
                .param("submission", UUID.randomUUID().toString())
                .with(csrf())
                .with(who)
                .exchange();
    }

    private RequestPostProcessor as(Role role) {
        var name = role.name().toLowerCase(java.util.Locale.ROOT)
                + ThreadLocalRandom.current().nextInt(100_000_000);
        Person person = people.hire(name, name, "a long pass phrase " + name, null, Set.of(role));
        var generation = sql.sql("select generation from person where id = ?")
                .param(person.id())
                .query(Integer.class)
                .single();
        return authentication(new Badge(person, generation, clock.instant(), null).authentication());
    }

    private static byte[] png(int width, int height) throws Exception {
        var out = new ByteArrayOutputStream();
        ImageIO.write(new BufferedImage(width, height, BufferedImage.TYPE_INT_RGB), "png", out);
        return out.toByteArray();
    }
}
