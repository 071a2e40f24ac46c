package idlewright;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import idlewright.bench.Bench;
import idlewright.bench.rules.Conditions;
import idlewright.bench.rules.KeyState;
import idlewright.bench.rules.Motion;
import idlewright.billing.Authorisations;
import idlewright.billing.Charges;
import idlewright.billing.Credits;
import idlewright.billing.Estimates;
import idlewright.billing.Invoices;
import idlewright.billing.Payments;
import idlewright.billing.Rates;
import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.ground.WithDatabase;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.TicketStamp;
import idlewright.people.Badge;
import idlewright.people.People;
import idlewright.people.Person;
import idlewright.people.Role;
import idlewright.proof.FollowUps;
import idlewright.proof.Proofs;
import idlewright.proof.rules.Codes;
import idlewright.proof.rules.Monitors;
import idlewright.proof.rules.Outcome;
import idlewright.proof.rules.ReturnReason;
import idlewright.proof.rules.RoadTest;
import idlewright.proof.rules.Statement;
import idlewright.reference.money.Money;
import idlewright.repair.Findings;
import idlewright.repair.Labours;
import idlewright.repair.Swaps;
import idlewright.repair.Visit;
import idlewright.repair.rules.Answer;
import idlewright.repair.rules.Check;
import idlewright.repair.rules.FittedPart;
import idlewright.repair.rules.Pay;
import idlewright.repair.rules.RemovedPart;
import idlewright.repair.rules.Went;
import idlewright.warranty.Claims;
import idlewright.warranty.Dossiers;
import idlewright.warranty.PartTerms;
import idlewright.warranty.rules.Giver;
import idlewright.warranty.rules.Promise;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Proxy;
import java.math.BigDecimal;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.Clock;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import javax.imageio.ImageIO;
import javax.sql.DataSource;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.FieldSource;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.config.BeanPostProcessor;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.test.context.TestConfiguration;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Import;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.DelegatingDataSource;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

/** Counts the SQL statements of a page in a small shop and in a larger one: the number may not grow with the rows. */
@SpringBootTest
@AutoConfigureMockMvc
@WithDatabase
@Import({Visit.class, QueriesTest.Counted.class})
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
@DisplayName("The number of queries of")
class QueriesTest {

    private static final Conditions KEY_ON =
            new Conditions(KeyState.KEY_ON_ENGINE_OFF, null, null, null, null, Motion.PARKED, null, null);
    private static final Conditions HOT =
            new Conditions(KeyState.RUNNING, null, 92.0, null, null, Motion.PARKED, null, null);
    private static final byte[] PICTURE = png();
    private static final Statement GONE =
            new Statement(Codes.NONE_STORED, "", Monitors.READY, "", RoadTest.GONE, "", "");

    /** A car with earlier visits, one ticket in work and one that went all the way and came back. */
    private record World(TicketNumber atWork, TicketNumber back, long estimate, long swap, long test, String invoice) {

        String url(String page) {
            return page.replace("{back}", back.toString())
                    .replace("{at work}", atWork.toString())
                    .replace("{estimate}", String.valueOf(estimate))
                    .replace("{swap}", String.valueOf(swap))
                    .replace("{test}", String.valueOf(test))
                    .replace("{invoice}", invoice);
        }
    }

    private static final List<String> PAGES = List.of(
            "/counter",
            "/tickets/{at work}",
            "/tickets/{back}",
            "/tickets/{back}/exhibits",
            "/tickets/{at work}/invoice",
            "/tickets/{back}/symptoms/1/proof",
            "/estimates/{estimate}",
            "/invoices/{invoice}",
            "/invoices",
            "/owed",
            "/owed/invoices",
            "/days",
            "/exports/journal",
            "/follow-ups",
            "/follow-ups/{back}",
            "/bay",
            "/bay/{at work}",
            "/measurements/{test}",
            "/swaps/{swap}",
            "/comebacks",
            "/known-good");

    @Autowired
    MockMvcTester browser;

    @Autowired
    Visit visit;

    @Autowired
    People people;

    @Autowired
    Tickets tickets;

    @Autowired
    Bench bench;

    @Autowired
    Rates rates;

    @Autowired
    Authorisations authorisations;

    @Autowired
    Estimates estimates;

    @Autowired
    Charges charges;

    @Autowired
    Invoices invoices;

    @Autowired
    Credits credits;

    @Autowired
    Payments payments;

    @Autowired
    Dossiers dossiers;

    @Autowired
    Claims claims;

    @Autowired
    PartTerms partTerms;

    @Autowired
    Findings findings;

    @Autowired
    Swaps swaps;

    @Autowired
    Labours labours;

    @Autowired
    Proofs proofs;

    @Autowired
    FollowUps followUps;

    @Autowired
    JdbcClient sql;

    @Autowired
    Clock clock;

    private Person tamsin;
    private Map<String, List<String>> small;
    private Map<String, List<String>> larger;

    @BeforeAll
    void lookAtASmallShopAndALargerOne() {
        tamsin = visit.hire(Role.TECHNICIAN, Role.WRITER, Role.OWNER);
        small = look(people.as(tamsin, () -> world(1)));
        larger = look(people.as(tamsin, () -> world(3)));
    }

    @ParameterizedTest(name = "{0} is at most 6, however much there is to show")
    @FieldSource("PAGES")
    void page(String page) {
        assertThat(larger.get(page)).as("statements in the larger shop").hasSizeLessThanOrEqualTo(6);
        assertThat(larger.get(page).size())
                .as(() -> "statements more than in the small shop: " + more(page))
                .isLessThanOrEqualTo(small.get(page).size());
    }

    private Map<String, Integer> more(String page) {
        var counted = new LinkedHashMap<String, Integer>();
        larger.get(page).forEach(sql -> counted.merge(sql, 1, Integer::sum));
        small.get(page).forEach(sql -> counted.merge(sql, -1, Integer::sum));
        counted.values().removeIf(count -> count <= 0);
        return counted;
    }

    private Map<String, List<String>> look(World world) {
        var seen = new LinkedHashMap<String, List<String>>();
        PAGES.forEach(page -> seen.put(page, statements(world.url(page))));
        return seen;
    }

    /** The least of three: the badge and the shop's card are read again every ten seconds, whatever page is asked for. */
    private List<String> statements(String url) {
        int generation = sql.sql("select generation from person where id = ?")
                .param(tamsin.id())
                .query(Integer.class)
                .single();
        var badge = new Badge(tamsin, generation, clock.instant(), null).authentication();
        return Stream.generate(() -> Counted.during(() -> assertThat(browser.get()
                                .uri(url)
                                .with(authentication(badge))
                                .exchange())
                        .hasStatusOk()))
                .limit(3)
                .min((one, other) -> Integer.compare(one.size(), other.size()))
                .orElseThrow();
    }

    private World world(int size) {
        SymptomRef first = visit.open("It hesitates when I pull out of the yard.");
        long car = tickets.get(first.ticket()).vehicle().id();
        leave(first);
        for (int more = 1; more < size; more++) {
            leave(new SymptomRef(open(car, 1), 1));
        }
        TicketNumber back = open(car, size);
        TicketNumber atWork = open(car, size);
        credits.deposit(back, money("10"), "CASH", null);
        long swap = 0;
        for (int place = 1; place <= size; place++) {
            measure(back, place, false, "10.9");
            load(back, place);
            swap = mend(new SymptomRef(back, place));
            measure(back, place, true, "12.44");
            proofs.prove(new SymptomRef(back, place), GONE);
            measure(atWork, place, false, "10.9");
            load(atWork, place);
        }
        String invoice = invoices.issue(back).number();
        payments.take(invoice, money("5"), "CARD", null);
        for (int place = 1; place <= size; place++) {
            String dossier =
                    dossiers.seal(new SymptomRef(back, place), true, false).code();
            claims.make(back, place, "Marlow Parts", "air-flow sensor", money("143"), dossier, swap);
        }
        tickets.handBack(back, new BigDecimal("86960"), null, 7);
        Map<Integer, Outcome> returned =
                places(size).collect(Collectors.toMap(Function.identity(), p -> Outcome.RETURNED));
        followUps.record(back, returned, "Same as before.", false, null);
        places(size)
                .forEach(place -> followUps.explain(
                        new SymptomRef(back, place), ReturnReason.WRONG_DIAGNOSIS, "The hose was not looked at."));
        return new World(
                atWork,
                back,
                estimates.latest(back).orElseThrow().id(),
                swap,
                bench.of(back).get(0).id(),
                invoice);
    }

    private static Stream<Integer> places(int size) {
        return Stream.iterate(1, place -> place <= size, place -> place + 1);
    }

    private TicketNumber open(long car, int symptoms) {
        TicketNumber number =
                tickets.open(new Tickets.Opening(car, new BigDecimal("86950"), null, null, "SHOW", "YES"));
        places(symptoms).forEach(place -> tickets.hear(number, "hesitation", "Hesitation " + place));
        agree(number, Agreement.DIAGNOSIS, null);
        return number;
    }

    private void leave(SymptomRef thread) {
        if (!tickets.get(thread.ticket()).has(TicketStamp.AGREED)) {
            agree(thread.ticket(), Agreement.DIAGNOSIS, null);
        }
        charges.add(thread.ticket(), line(1, LineKind.LABOUR), null);
        tickets.end(thread, ThreadStamp.DECLINED, "The customer sells the car.");
        invoices.issue(thread.ticket());
        tickets.handBack(thread.ticket(), new BigDecimal("86950"), null, 7);
    }

    private void agree(TicketNumber number, Agreement kind, Long estimate) {
        authorisations.agree(number, kind, money("900"), "Go ahead.", Channel.PHONE, "Ines Grand", estimate);
    }

    private void measure(TicketNumber number, int place, boolean after, String supply) {
        long id = bench.start(number, "sensor-supply", after, List.of(place), KEY_ON, null);
        bench.keep(id, "battery", "12.50", "V");
        bench.keep(id, "supply", supply, "V");
        bench.finish(id);
    }

    /** Air flow with the load beside it: what a tool calls load is held against what was measured. */
    private void load(TicketNumber number, int place) {
        long flow = bench.start(number, "air-flow", false, List.of(place), HOT, null);
        bench.keep(flow, "flow-idle", "3.1", "g/s");
        bench.keep(flow, "rpm-idle", "780", "rpm");
        bench.finish(flow);
        long load = bench.start(number, "load", false, List.of(place), HOT, null);
        bench.keep(load, "load-idle", "20.4", "%");
        bench.finish(load);
    }

    private long mend(SymptomRef thread) {
        findings.decide(thread, "air-sensor-supply", "green joint behind the battery", "Renew the joint");
        long estimate = estimates
                .write(thread.ticket(), List.of(line(thread.place(), LineKind.PART)), null)
                .id();
        estimates.offer(estimate, "by phone");
        agree(thread.ticket(), Agreement.REPAIR, estimate);
        long swap = swaps.start(
                thread,
                new RemovedPart("AF-2210-7", "Halden", "4W19", "oil film on the element", Went.KEPT),
                new FittedPart("air-flow sensor", "AF 2210 7", "Halden", "L-77", "Marlow Parts", money("143")),
                false,
                new Pay.ByEstimate(estimates.get(estimate).lines().get(0).id()));
        swaps.answer(
                swap, Arrays.stream(Check.values()).collect(Collectors.toMap(Function.identity(), c -> Answer.yes())));
        swaps.photograph(swap, true, new ByteArrayInputStream(PICTURE), "old.png");
        swaps.photograph(swap, false, new ByteArrayInputStream(PICTURE), "fitted.png");
        swaps.makeFinal(swap);
        partTerms.keep(swap, Giver.SUPPLIER, new Promise(24, null, "km", false), false, "delivery note");
        labours.add(thread, "Renewed the joint", new BigDecimal("0.4"), new Pay.Free("goodwill"));
        return swap;
    }

    private static byte[] png() {
        var out = new ByteArrayOutputStream();
        try {
            ImageIO.write(new BufferedImage(40, 30, BufferedImage.TYPE_INT_RGB), "png", out);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return out.toByteArray();
    }

    private Line line(int place, LineKind kind) {
        return new Line(place, kind, "air-flow sensor", BigDecimal.ONE, money("40"), null);
    }

    private Money money(String amount) {
        return Money.rounded(new BigDecimal(amount), rates.currency());
    }

    /** Writes down every statement that the watching thread has prepared. */
    @TestConfiguration(proxyBeanMethods = false)
    static class Counted {

        private static final ThreadLocal<List<String>> SEEN = new ThreadLocal<>();

        static List<String> during(Runnable work) {
            var seen = new ArrayList<String>();
            SEEN.set(seen);
            try {
                work.run();
            } finally {
                SEEN.remove();
            }
            return seen;
        }

        @Bean
        static BeanPostProcessor countingStatements() {
            return new BeanPostProcessor() {
                @Override
                public Object postProcessAfterInitialization(Object bean, String name) {
                    return bean instanceof DataSource source ? counting(source) : bean;
                }
            };
        }

        private static DataSource counting(DataSource source) {
            return new DelegatingDataSource(source) {
                @Override
                public Connection getConnection() throws SQLException {
                    Connection connection = super.getConnection();
                    return (Connection) Proxy.newProxyInstance(
                            Counted.class.getClassLoader(),
                            new Class<?>[] {Connection.class},
                            (proxy, method, given) -> {
                                List<String> seen = SEEN.get();
                                if (seen != null && method.getName().equals("prepareStatement")) {
                                    seen.add(String.valueOf(given[0]).replaceAll("\\s+", " "));
                                }
                                try {
                                    return method.invoke(connection, given);
                                } catch (InvocationTargetException e) {
                                    throw e.getCause();
                                }
                            });
                }
            };
        }
    }
}
