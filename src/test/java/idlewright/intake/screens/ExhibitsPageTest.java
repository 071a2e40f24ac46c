package idlewright.intake.screens;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

import idlewright.ground.WithDatabase;
import idlewright.intake.Customers;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.intake.rules.SymptomKinds;
import idlewright.journal.Exhibits;
import idlewright.people.Badge;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.ThreadLocalRandom;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mock.web.MockMultipartFile;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

@SpringBootTest
@AutoConfigureMockMvc
@WithDatabase
@DisplayName("A ticket's photos and files")
class ExhibitsPageTest {

    @Autowired
    MockMvcTester browser;

    @Autowired
    Exhibits exhibits;

    @Autowired
    People people;

    @Autowired
    Customers customers;

    @Autowired
    Vehicles vehicles;

    @Autowired
    Tickets tickets;

    @Autowired
    SymptomKinds kinds;

    @Autowired
    JdbcClient sql;

    @Autowired
    Clock clock;

    private Person wren;
    private TicketNumber ticket;

    @BeforeEach
    void openATicket() {
        var name = "wren" + ThreadLocalRandom.current().nextInt(100_000_000);
        wren = people.hire(name, name, "a long pass phrase " + name, null, Set.of(Role.WRITER, Role.OWNER));
        ticket = people.as(wren, () -> {
            var bakery =
                    customers.add(new Customers.Telling("Grand Row Bakery", "555 0142", null, null, "PHONE", null));
            var finch = vehicles.add(
                    bakery.id(),
                    new Vehicles.Telling(
                            null,
                            "FNCH 22",
                            "Brightwater",
                            "Finch",
                            2014,
                            null,
                            null,
                            null,
                            null,
                            null,
                            null,
                            null,
                            "km"));
            var opened =
                    tickets.open(new Tickets.Opening(finch.id(), new BigDecimal("86940"), null, null, "SHOW", "YES"));
            tickets.hear(opened, kinds.names().keySet().iterator().next(), "It hesitates when I pull out of the yard.");
            return opened;
        });
    }

    @Test
    void showAFileThatWasKeptForASymptom() {
        assertThat(send("old valve.txt", "What the valve said " + Math.random(), "1", "log", "The old valve"))
                .hasRedirectedUrl("/tickets/" + ticket + "/exhibits");
        assertThat(exhibits.of(ticket.value())).singleElement().satisfies(kept -> {
            assertThat(kept.place()).isEqualTo(1);
            assertThat(kept.caption()).isEqualTo("The old valve");
            assertThat(kept.keptBy()).isEqualTo(wren.name());
        });
        assertThat(page()).hasStatusOk().bodyText().contains("The old valve", "old valve.txt");
    }

    @Test
    void sayBesideTheFieldWhyAFileWasNotKept() {
        assertThat(send("page.txt", "<!DOCTYPE html><html><body>x</body></html>", "0", "document", "Kept words"))
                .hasStatus(422)
                .bodyText()
                .contains("Only JPEG, PNG and WebP pictures, PDF, CSV and plain text are kept", "Kept words");
        assertThat(exhibits.of(ticket.value())).isEmpty();
    }

    @Test
    void askForAFileWhenNoneWasChosen() {
        assertThat(send("", "", "0", "photo", "")).hasStatus(422).bodyText().contains("Choose a file.");
    }

    @Test
    void areNotThereWithoutTheTicket() {
        assertThat(browser.get().uri("/tickets/999999/exhibits").with(authentication(badge())))
                .hasStatus(404);
    }

    private MvcTestResult page() {
        return browser.get()
                .uri("/tickets/" + ticket + "/exhibits")
                .with(authentication(badge()))
                .exchange();
    }

    private MvcTestResult send(String name, String content, String place, String what, String caption) {
        return browser.post()
                .uri("/tickets/" + ticket + "/exhibits")
                .multipart()
                .file(new MockMultipartFile("file", name, "image/jpeg", content.getBytes(StandardCharsets.UTF_8)))
                .param("place", place)
                .param("what", what)
                .param("caption", caption)
                .param("submission", UUID.randomUUID().toString())
                .with(csrf())
                .with(authentication(badge()))
                .exchange();
    }

    private org.springframework.security.core.Authentication badge() {
        var generation = sql.sql("select generation from person where id = ?")
                .param(wren.id())
                .query(Integer.class)
                .single();
        return new Badge(wren, generation, clock.instant(), null).authentication();
    }
}
