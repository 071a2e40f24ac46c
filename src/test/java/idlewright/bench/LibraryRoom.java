package idlewright.bench;

import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;

import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.KeyState;
import idlewright.bench.rules.Motion;
import idlewright.intake.Customers;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.Vehicles;
import idlewright.intake.rules.ThreadStamp;
import idlewright.people.Badge;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Supplier;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.mock.web.MockMultipartFile;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.web.util.HtmlUtils;

/** Three people, a family of invented vans, and pages fetched and posted as one of the three. */
record LibraryRoom(
        MockMvcTester mvc,
        JdbcClient jdbc,
        Clock clock,
        People people,
        Customers customers,
        Vehicles vehicles,
        Tickets tickets,
        Bench bench,
        KnownGoods knownGoods,
        Person owner,
        Person writer,
        Person technician,
        String family) {

    static final Conditions HOT = new Conditions(KeyState.RUNNING, null, 92.0, 31.0, "N", Motion.PARKED, null, null);
    private static final AtomicInteger NUMBER = new AtomicInteger();

    /** What came back; the body as a person reads its characters. */
    record Page(int status, String body, String location) {}

    static LibraryRoom open(
            MockMvcTester mvc,
            JdbcClient jdbc,
            Clock clock,
            People people,
            Customers customers,
            Vehicles vehicles,
            Tickets tickets,
            Bench bench,
            KnownGoods knownGoods) {
        String names = "l" + ProcessHandle.current().pid() + "-" + NUMBER.incrementAndGet();
        return new LibraryRoom(
                mvc,
                jdbc,
                clock,
                people,
                customers,
                vehicles,
                tickets,
                bench,
                knownGoods,
                hire(people, "Odile " + names, Role.OWNER),
                hire(people, "Wim " + names, Role.WRITER),
                hire(people, "Tamsin " + names, Role.TECHNICIAN),
                ("LB" + names).toUpperCase(Locale.ROOT));
    }

    private static Person hire(People people, String name, Role role) {
        return people.hire(name, name.replace(' ', '-'), "three loose hose clamps", null, Set.of(role));
    }

    <T> T tech(Supplier<T> work) {
        return people.as(technician, work);
    }

    SymptomRef car() {
        return tech(() -> {
            long customer = customers
                    .add(new Customers.Telling("Grand Row Bakery", "555 0142", null, null, "PHONE", null))
                    .id();
            long vehicle = vehicles.add(
                            customer,
                            new Vehicles.Telling(
                                    null,
                                    "LB " + NUMBER.incrementAndGet(),
                                    "Brightwater",
                                    "Finch",
                                    2014,
                                    family,
                                    new BigDecimal("2.2"),
                                    4,
                                    "PETROL",
                                    "NATURAL",
                                    "HOT_FILM",
                                    "MANUAL",
                                    "km"))
                    .id();
            TicketNumber number =
                    tickets.open(new Tickets.Opening(vehicle, new BigDecimal(86940), null, null, "GIVE_BACK", "YES"));
            return tickets.hear(number, "hesitation", "It hesitates when I pull out of the yard.");
        });
    }

    long start(SymptomRef car, String procedure) {
        return tech(() -> bench.start(car.ticket(), procedure, false, List.of(1), HOT, null));
    }

    /** So many proved vans of the family, their flow at 2,500 rpm spread evenly about a middle. */
    void libraryOf(int vans, double middle, double spread) {
        for (int i = 0; i < vans; i++) {
            double flow = middle + spread * (2.0 * i / (vans - 1) - 1);
            SymptomRef healthy = car();
            tech(() -> {
                tickets.stamp(healthy, ThreadStamp.TRACED, "Air filter or intake tract blocked");
                tickets.stamp(healthy, ThreadStamp.MENDED, "filter replaced");
                long test = bench.start(healthy.ticket(), "air-flow", true, List.of(1), HOT, null);
                bench.keep(test, "flow-2500", String.format(Locale.ROOT, "%.2f", flow), "g/s");
                bench.finish(test);
                knownGoods.bringIn(healthy);
                return null;
            });
        }
    }

    Page get(Person who, String path) {
        return page(mvc.get()
                .uri(java.net.URI.create(path))
                .with(authentication(badge(who)))
                .exchange()
                .getResponse());
    }

    Page post(Person who, String path, String... fields) {
        var request = mvc.post()
                .uri(java.net.URI.create(path))
                .param("submission", UUID.randomUUID().toString())
                .with(csrf())
                .with(authentication(badge(who)));
        for (int i = 0; i < fields.length; i += 2) {
            request = request.param(fields[i], fields[i + 1]);
        }
        return page(request.exchange().getResponse());
    }

    Page send(Person who, String path, String name, byte[] bytes) {
        return page(mvc.post()
                .uri(path)
                .multipart()
                .file(new MockMultipartFile("file", name, "text/csv", bytes))
                .param("submission", UUID.randomUUID().toString())
                .with(csrf())
                .with(authentication(badge(who)))
                .exchange()
                .getResponse());
    }

    private org.springframework.security.core.Authentication badge(Person who) {
        int generation = jdbc.sql("select generation from person where id = ?")
                .param(who.id())
                .query(Integer.class)
                .single();
        return new Badge(who, generation, clock.instant(), null).authentication();
    }

    private static Page page(MockHttpServletResponse response) {
        return new Page(
                response.getStatus(),
                HtmlUtils.htmlUnescape(new String(response.getContentAsByteArray(), StandardCharsets.UTF_8)),
                String.valueOf(response.getHeader("Location")));
    }
}
