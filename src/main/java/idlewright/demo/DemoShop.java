package idlewright.demo;

import idlewright.demo.Cast.Member;
import idlewright.demo.Script.Step;
import idlewright.frame.MovableClock;
import idlewright.journal.Journal;
import idlewright.journal.rules.Entry;
import idlewright.people.Person;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.SmartLifecycle;
import org.springframework.context.annotation.Profile;
import org.springframework.context.event.EventListener;
import org.springframework.core.env.Environment;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;
import tools.jackson.databind.json.JsonMapper;

/**
 * Makes the demo shop where nobody works yet. Each day is one transaction that ends with a mark in the journal, so a start
 * that was cut off half-way is taken up again at the day it had come to. It is made before the web server opens its port:
 * nobody walks through a half-made shop.
 */
@Component
@Profile("demo")
class DemoShop implements SmartLifecycle {

    private static final Logger log = LoggerFactory.getLogger(DemoShop.class);
    private static final String MARK = "demo shop";

    /** How far an earlier start came. */
    private record Mark(Instant origin, int steps, boolean done) {}

    private final Scene scene;
    private final Journal journal;
    private final MovableClock clock;
    private final TransactionTemplate transaction;
    private final Environment environment;
    private final JsonMapper json = JsonMapper.builder().build();
    private final Map<String, Person> persons = new HashMap<>();
    private volatile boolean running;
    private volatile boolean complete;

    DemoShop(
            Scene scene,
            Journal journal,
            MovableClock clock,
            PlatformTransactionManager transactions,
            Environment environment) {
        this.scene = scene;
        this.journal = journal;
        this.clock = clock;
        this.transaction = new TransactionTemplate(transactions);
        this.environment = environment;
    }

    @Override
    public void start() {
        complete = completes();
        running = true;
    }

    @Override
    public void stop() {
        running = false;
    }

    @Override
    public boolean isRunning() {
        return running;
    }

    /** Before the web server, whose phase is near the end. */
    @Override
    public int getPhase() {
        return 0;
    }

    @EventListener(ApplicationReadyEvent.class)
    void tell() {
        if (complete) {
            log.info(
                    "Demo shop is ready: http://127.0.0.1:{}",
                    environment.getProperty("local.server.port", environment.getProperty("server.port", "8080")));
        }
    }

    private boolean completes() {
        Mark mark = lastMark();
        if (mark == null && !scene.people().all().isEmpty()) {
            log.info("People work here already; no demo shop is made.");
            return false;
        }
        if (mark == null || !mark.done()) {
            try {
                make(mark == null ? new Mark(clock.instant().truncatedTo(ChronoUnit.MINUTES), 0, false) : mark);
            } catch (RuntimeException broken) {
                log.error("The demo shop is not complete; what is there can be used. The next start goes on.", broken);
                return false;
            }
        }
        return true;
    }

    private void make(Mark from) {
        log.info("Making the demo shop: eighteen months of work, about half a minute.");
        List<Step> steps =
                Stories.script(new Days(from.origin(), Cast.SHOP.zone())).inOrder();
        int next = from.steps();
        while (next < steps.size()) {
            int first = next;
            LocalDate day = day(steps.get(first));
            while (next < steps.size() && day(steps.get(next)).equals(day)) {
                next++;
            }
            int end = next;
            transaction.executeWithoutResult(status -> play(steps, first, end, from.origin()));
        }
    }

    private void play(List<Step> steps, int first, int end, Instant origin) {
        for (Step step : steps.subList(first, end)) {
            try {
                clock.at(step.at(), () -> act(step));
            } catch (RuntimeException no) {
                throw new IllegalStateException(
                        "%s could not be done, %s by %s"
                                .formatted(step.what(), step.at(), step.who().name()),
                        no);
            }
        }
        boolean done = end == steps.size();
        Instant until = steps.get(end - 1).at();
        var facts = new LinkedHashMap<String, Object>();
        facts.put("origin", origin.toString());
        facts.put("steps", end);
        facts.put("done", done);
        facts.put("made", scene.memory().takeFresh());
        clock.at(until, () -> {
            journal.note(MARK, null, done ? "The demo shop is complete." : "The demo shop was made up to here.", facts);
            return 0;
        });
    }

    private Object act(Step step) {
        if (nobodyYet()) {
            step.act().accept(scene);
            return 0;
        }
        return scene.people().as(person(step.who()), () -> {
            step.act().accept(scene);
            return 0;
        });
    }

    private static LocalDate day(Step step) {
        return step.at().atZone(Cast.SHOP.zone()).toLocalDate();
    }

    private boolean nobodyYet() {
        if (persons.isEmpty()) {
            persons.putAll(scene.people().all().stream().collect(Collectors.toMap(Person::name, Function.identity())));
        }
        return persons.isEmpty();
    }

    private Person person(Member member) {
        return persons.computeIfAbsent(member.name(), name -> {
            throw new IllegalStateException(name + " does not work here");
        });
    }

    /** Reads the marks back, the newest first; those of a shop that is not ours are none. */
    private @Nullable Mark lastMark() {
        var marks = new ArrayList<Entry>();
        long before = Long.MAX_VALUE;
        while (true) {
            List<Entry> page = journal.latest(500, before);
            if (page.isEmpty()) {
                break;
            }
            page.stream().filter(entry -> entry.kind().equals(MARK)).forEach(marks::add);
            if (!marks.isEmpty()
                    && json.readTree(marks.get(0).facts()).get("done").asBoolean()) {
                break;
            }
            before = page.get(page.size() - 1).id();
        }
        if (marks.isEmpty()) {
            return null;
        }
        var earlier = new HashMap<String, Long>();
        for (Entry entry : marks) {
            json.readTree(entry.facts())
                    .get("made")
                    .properties()
                    .forEach(made -> earlier.put(made.getKey(), made.getValue().asLong()));
        }
        scene.memory().learn(earlier);
        var newest = json.readTree(marks.get(0).facts());
        return new Mark(
                Instant.parse(newest.get("origin").asString()),
                newest.get("steps").asInt(),
                newest.get("done").asBoolean());
    }
}
