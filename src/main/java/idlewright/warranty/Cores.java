package idlewright.warranty;

import idlewright.billing.Charges;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.frame.Together;
import idlewright.frame.Tuple;
import idlewright.intake.TicketNumber;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import idlewright.warranty.rules.CoreStep;
import java.math.BigDecimal;
import java.sql.Date;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.Currency;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Old parts that go back to their supplier, and the core charges that come back for them. */
@Component
@Transactional
public class Cores {

    /** One thing that happened; the day is the one that was said, the moment when it was written down. */
    public record Step(CoreStep kind, @Nullable Money amount, LocalDate day, String note, Instant at, String who) {}

    /** An old part of a swap that went, or is to go, back as core. */
    public record Core(
            long swap,
            TicketNumber ticket,
            String what,
            @Nullable String number,
            String supplier,
            Instant since,
            Money charged,
            Money credited,
            List<Step> steps) {

        public boolean has(CoreStep kind) {
            return steps.stream().anyMatch(step -> step.kind() == kind);
        }

        public @Nullable LocalDate returnedOn() {
            return steps.stream()
                    .filter(step -> step.kind() == CoreStep.RETURNED)
                    .map(Step::day)
                    .findFirst()
                    .orElse(null);
        }

        /** What was charged and has not come back; nothing once it is written off. */
        public Money missing() {
            return has(CoreStep.WRITTEN_OFF) || credited.isMoreThan(charged)
                    ? Money.zero(charged.currency())
                    : charged.minus(credited);
        }

        /** Whether it still has to go back, or money for it still has to come. */
        public boolean open() {
            return !has(CoreStep.WRITTEN_OFF)
                    && (!has(CoreStep.RETURNED) || missing().isPositive());
        }

        public String state() {
            if (has(CoreStep.WRITTEN_OFF)) {
                return "written off";
            }
            if (!has(CoreStep.RETURNED)) {
                return "to be returned";
            }
            if (charged.isZero()) {
                return "returned; no charge noted";
            }
            return !missing().isPositive()
                    ? "credited"
                    : credited.isZero() ? "returned, not credited" : "credited in part";
        }

        public long days(LocalDate today, java.time.ZoneId zone) {
            return ChronoUnit.DAYS.between(LocalDate.ofInstant(since, zone), today);
        }
    }

    private static final String CORES = """
            select c.*, (select json_agg(s order by s.id) from core_step s where s.swap_id = c.swap_id) steps
            from core_part c\s""";

    /** As {@link Core#open} says it of one. */
    private static final String OVER = """
            (exists (select from core_step s where s.swap_id = c.swap_id and s.kind = 'WRITTEN_OFF')
             or exists (select from core_step s where s.swap_id = c.swap_id and s.kind = 'RETURNED')
                and coalesce((select sum(s.amount) from core_step s where s.swap_id = c.swap_id and s.kind = 'CREDITED'), 0)
                    >= coalesce((select s.amount from core_step s where s.swap_id = c.swap_id and s.kind = 'CHARGED'
                        order by s.id desc limit 1), 0))
            """;

    private final Together together;
    private final Charges charges;
    private final Shops shops;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;
    private final Times times;

    Cores(
            Together together,
            Charges charges,
            Shops shops,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock,
            Times times) {
        this.together = together;
        this.charges = charges;
        this.shops = shops;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
        this.times = times;
    }

    /** Notes what happened to a core. */
    public void step(long swap, CoreStep kind, @Nullable Money amount, LocalDate day, String note) {
        jdbc.sql("select pg_advisory_xact_lock(hashtextextended('core', ?))")
                .param(swap)
                .query((r, n) -> 0)
                .single();
        Core core = get(swap);
        var problems = new LinkedHashMap<String, String>();
        if (!kind.mayFollow(core.steps().stream().map(Step::kind).toList())) {
            problems.put(
                    "kind",
                    core.has(CoreStep.WRITTEN_OFF)
                            ? "This core is written off."
                            : kind == CoreStep.RETURNED
                                    ? "It went back already."
                                    : kind == CoreStep.CHARGED
                                            ? "It is credited already; the charge stays as it is."
                                            : "Note first what the supplier charged.");
        }
        if (kind.money() && (amount == null || !amount.isPositive())) {
            problems.put("amount", "Enter the amount, above zero.");
        }
        if (kind == CoreStep.CREDITED
                && amount != null
                && core.missing().isZero()
                && core.charged().isPositive()) {
            problems.putIfAbsent("amount", "All of it is credited already.");
        }
        if (day.isAfter(times.today())) {
            problems.put("day", "Enter a day that is not in the future.");
        }
        if (kind == CoreStep.WRITTEN_OFF && note.isBlank()) {
            problems.put("note", "Say why nothing more is expected.");
        }
        if (kind == CoreStep.CREDITED
                && amount != null
                && note.isBlank()
                && core.missing().isMoreThan(amount)) {
            problems.put("note", "That is less than was charged: say what the difference is about.");
        }
        if (note.length() > 400) {
            problems.put("note", "Keep it under 400 characters.");
        }
        Refused.ifAny(problems);
        jdbc.sql("insert into core_step (swap_id, kind, amount, day, note, at, who) values (?, ?, ?, ?, ?, ?, ?)")
                .param(swap)
                .param(kind.name())
                .param(kind.money() && amount != null ? amount.amount() : null)
                .param(Date.valueOf(day))
                .param(note.strip())
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .update();
        journal.note(
                "core",
                core.ticket().value(),
                "The core of %s, %s: %s%s."
                        .formatted(
                                core.what(),
                                core.supplier(),
                                kind.words(),
                                kind.money() && amount != null ? ", " + amount : ""),
                Map.of("swap", swap, "step", kind.name()));
    }

    @OnlyReads
    public Core get(long swap) {
        return read(Map.of("swap", swap), "where c.swap_id = :swap").stream()
                .findFirst()
                .orElseThrow(() -> NotFound.of("core of swap " + swap));
    }

    /** All of them, the longest waiting first. */
    @OnlyReads
    public List<Core> all() {
        return read(Map.of(), "order by c.since, c.swap_id");
    }

    /** Those that have to go back or still to be credited, the longest waiting first. */
    @OnlyReads
    public List<Core> open() {
        return read(Map.of(), "where not " + OVER + " order by c.since, c.swap_id");
    }

    /** Those that are over, of all suppliers or of one, the newest first. */
    @OnlyReads
    public List<Core> over(@Nullable String supplier) {
        return read(
                Map.of("supplier", supplier == null ? "" : supplier.strip()),
                "where (:supplier = '' or lower(c.fitted_supplier) = lower(:supplier)) and " + OVER
                        + " order by c.since desc, c.swap_id desc limit 100");
    }

    /** What the customer was charged for the core on that ticket, as a start for what the supplier charged; empty if nothing. */
    @OnlyReads
    public Optional<Money> onTheInvoice(Core core) {
        return charges.lines(core.ticket()).stream()
                .filter(line -> line.kind() == LineKind.CORE)
                .map(Line::net)
                .findFirst();
    }

    public Currency currency() {
        return shops.shop().currency();
    }

    private List<Core> read(Map<String, ?> values, String where) {
        var currency = currency();
        return together.read(values, CORES + where).get(0).stream()
                .map(r -> core(r, currency))
                .toList();
    }

    private static Core core(Tuple r, Currency currency) {
        List<Step> steps =
                r.getRows("steps").stream().map(step -> step(step, currency)).toList();
        return new Core(
                r.getLong("swap_id"),
                new TicketNumber(r.getInt("ticket_number")),
                r.getString("what"),
                r.getString("removed_number"),
                r.getString("fitted_supplier"),
                r.getInstant("since"),
                steps.stream()
                        .filter(step -> step.kind() == CoreStep.CHARGED && step.amount() != null)
                        .map(Step::amount)
                        .reduce((first, second) -> second)
                        .orElse(Money.zero(currency)),
                Money.sum(
                        steps.stream()
                                .filter(step -> step.kind() == CoreStep.CREDITED && step.amount() != null)
                                .map(Step::amount)
                                .toList(),
                        currency),
                steps);
    }

    private static Step step(Tuple r, Currency currency) {
        BigDecimal amount = r.getBigDecimal("amount");
        return new Step(
                CoreStep.valueOf(r.getString("kind")),
                amount == null ? null : Money.rounded(amount, currency),
                r.getDate("day"),
                r.getString("note"),
                r.getInstant("at"),
                r.getString("who"));
    }
}
