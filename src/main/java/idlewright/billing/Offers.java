package idlewright.billing;

import idlewright.billing.EstimateView.Group;
import idlewright.billing.EstimateView.Told;
import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.Taxes;
import idlewright.billing.rules.Total;
import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.frame.Together;
import idlewright.frame.Tuple;
import idlewright.intake.Letters;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.TicketView.SymptomView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.TicketStamp;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.people.Secrets;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import java.math.BigDecimal;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Currency;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** An estimate with the customer: the secret page on which they answer, and what they answered, group by group. */
@Component
@Transactional
public class Offers {

    private static final Duration LIFE = Duration.ofDays(30);
    private static final String PURPOSE = "offer link";

    /** A link as the counter sees it. */
    public record Link(String path, Instant expiresAt, String madeBy) {}

    /** The answers to an estimate, the oldest first, and the link that still waits for one. */
    public record Replies(List<Answer> answers, Optional<Link> link) {}

    private static final String ANSWER =
            "select a.*, u.amount from offer_answer a left join authorisation u on u.id = a.authorisation_id ";
    private static final String ANSWERS = ANSWER + "where a.estimate_id = :estimate order by a.id";
    private static final String LINK = """
            select l.seed, l.expires_at, l.made_by from offer_link l
            where l.estimate_id = :estimate and l.expires_at > :now
              and not exists (select from offer_answer a where a.link_id = l.id) order by l.id desc limit 1""";

    /** How far a page behind a link has come. */
    public enum State {
        OPEN,
        ANSWERED,
        OVER
    }

    /** What the customer sees: no name, only the vehicle, the words and the money. */
    public record Page(
            State state,
            EstimateView estimate,
            TicketView ticket,
            List<Told> told,
            Taxes taxes,
            String consent,
            Instant expiresAt,
            @Nullable Answer answer) {}

    /** One answer as it was given. */
    public record Answer(
            long estimateId,
            Channel channel,
            String byWhom,
            String words,
            Instant at,
            @Nullable Money agreed) {}

    private record Opened(long link, long estimate, Instant expiresAt) {}

    private final Together together;
    private final Estimates estimates;
    private final Authorisations authorisations;
    private final Consents consents;
    private final Tickets tickets;
    private final Rates rates;
    private final Letters letters;
    private final Shops shops;
    private final Times times;
    private final Secrets secrets;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    Offers(
            Together together,
            Estimates estimates,
            Authorisations authorisations,
            Consents consents,
            Tickets tickets,
            Rates rates,
            Letters letters,
            Shops shops,
            Times times,
            Secrets secrets,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock) {
        this.together = together;
        this.estimates = estimates;
        this.authorisations = authorisations;
        this.consents = consents;
        this.tickets = tickets;
        this.rates = rates;
        this.letters = letters;
        this.shops = shops;
        this.times = times;
        this.secrets = secrets;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Puts an estimate to the customer by a secret link; asked again, it is the same link. */
    public Link link(long estimateId) {
        EstimateView estimate = estimates.offer(estimateId, "by a link");
        if (tickets.get(estimate.ticket()).has(TicketStamp.BILLED)) {
            throw Refused.because("The invoice of ticket %s is issued.".formatted(estimate.ticket()));
        }
        if (!estimate.asks()) {
            throw Refused.because("There is nothing left to ask about on this estimate.");
        }
        return linkOf(estimateId).orElseGet(() -> make(estimate));
    }

    /** Writes the customer a letter with the link, which stands at this address for them. */
    public void mail(long estimateId, String url) {
        EstimateView estimate = estimates.get(estimateId);
        TicketView ticket = tickets.get(estimate.ticket());
        Link link = linkOf(estimateId)
                .filter(l -> estimate.latest())
                .orElseThrow(() -> Refused.because("Make the link first."));
        String shop = shops.shop().name();
        letters.write(
                ticket.customer(),
                ticket.number(),
                "estimate %d".formatted(estimate.issue()),
                "%s: our estimate for your %s".formatted(shop, ticket.vehicle().name()),
                """
                Our estimate for your %s is ready. It comes to %s.

                Please look at it and say yes or no to each part of it here:
                %s

                The link is yours alone; please do not pass it on. It works until %s.

                %s%s
                """.formatted(
                                ticket.vehicle().name(),
                                estimate.total().said(),
                                url,
                                times.day(link.expiresAt()),
                                shop,
                                shops.shop().phone().isEmpty()
                                        ? ""
                                        : "\n" + shops.shop().phone()),
                null);
    }

    private Link make(EstimateView estimate) {
        String seed = secrets.seed();
        jdbc.sql("""
                insert into offer_link (estimate_id, seed, secret_hash, made_at, made_by, expires_at)
                values (?, ?, ?, ?, ?, ?)""")
                .params(
                        estimate.id(),
                        seed,
                        Secrets.digest(secrets.link(PURPOSE, seed)),
                        Timestamp.from(clock.instant()),
                        people.me().name(),
                        Timestamp.from(clock.instant().plus(LIFE)))
                .update();
        journal.note(
                "offer link made",
                estimate.ticket().value(),
                "A link for the customer's answer to estimate %d was made.".formatted(estimate.issue()),
                Map.of("estimate", estimate.id()));
        return linkOf(estimate.id()).orElseThrow();
    }

    /** The link of an estimate that can still be answered by it. */
    @OnlyReads
    public Optional<Link> linkOf(long estimateId) {
        return replies(estimateId).link();
    }

    /** The page a secret opens; an expired or unknown one opens none, and does not say which. */
    @OnlyReads
    public Page open(String secret) {
        Opened opened = opened(secret);
        EstimateView estimate = estimates.get(opened.estimate());
        TicketView ticket = tickets.get(estimate.ticket());
        Answer answer =
                together
                        .read(Map.of("link", opened.link()), ANSWER + "where a.link_id = :link order by a.id")
                        .get(0)
                        .stream()
                        .map(r -> answer(r, rates.currency()))
                        .findFirst()
                        .orElse(null);
        boolean over = !estimate.latest()
                || ticket.has(TicketStamp.BILLED)
                || estimate.groups().stream()
                        .noneMatch(group -> group.standing().asked());
        return new Page(
                answer != null ? State.ANSWERED : over ? State.OVER : State.OPEN,
                estimate,
                ticket,
                estimates.told(estimate),
                rates.taxes(ticket),
                consents.terms().words(),
                opened.expiresAt(),
                answer);
    }

    /** Keeps what the customer chose for each group they are asked about; a second time changes nothing. */
    public void answer(String secret, Map<Integer, Boolean> chosen, String name) {
        Opened opened = opened(secret);
        lock(opened.estimate());
        Page page = open(secret);
        if (page.state() == State.ANSWERED) {
            return;
        }
        if (page.state() == State.OVER) {
            throw Refused.because("This estimate is no longer open. Please ask us for the newer one.");
        }
        var problems = new LinkedHashMap<String, String>();
        for (Told told : page.told()) {
            int place = told.group().place();
            if (told.group().standing().asked() && !chosen.containsKey(place)) {
                problems.put("group-" + place, "Choose yes or no: %s.".formatted(told.heading()));
            }
        }
        if (name.isBlank() || name.length() > 200) {
            problems.put("name", "Enter your name, so that we know who answered.");
        }
        Refused.ifAny(problems);
        Set<Integer> agreed = chosen.entrySet().stream()
                .filter(Map.Entry::getValue)
                .map(Map.Entry::getKey)
                .collect(Collectors.toSet());
        keep(page.estimate(), agreed, Channel.LINK, name.strip(), words(page, agreed), null, opened.link());
    }

    /** Takes down at the counter which groups of the latest estimate the customer agreed to, and for how much. */
    public void take(
            long estimateId,
            Agreement kind,
            Set<Integer> agreed,
            Money amount,
            String words,
            Channel channel,
            String byWhom) {
        lock(estimateId);
        EstimateView estimate = estimates.get(estimateId);
        if (!estimate.latest()) {
            throw Refused.because("A newer estimate was written since. Take down the answer to that one.");
        }
        long authorisation = authorisations.agree(estimate.ticket(), kind, amount, words, channel, byWhom, estimateId);
        keep(estimate, agreed, channel, byWhom, words, authorisation, null);
    }

    private void keep(
            EstimateView estimate,
            Set<Integer> agreed,
            Channel channel,
            String byWhom,
            String words,
            @Nullable Long taken,
            @Nullable Long link) {
        String guest = channel == Channel.LINK ? Authorisations.THE_CUSTOMER : null;
        TicketNumber number = estimate.ticket();
        List<Group> asked = estimate.groups().stream()
                .filter(group -> link == null
                        ? !group.standing().agreed()
                        : group.standing().asked())
                .toList();
        boolean any = asked.stream().anyMatch(group -> agreed.contains(group.place()));
        Long authorisation = taken;
        if (authorisation == null && any) {
            authorisation = agreeByLink(estimate, agreed, byWhom, words);
        }
        long id = jdbc.sql("""
                insert into offer_answer (estimate_id, link_id, authorisation_id, channel, by_whom, words, at, taken_by)
                values (?, ?, ?, ?, ?, ?, ?, ?) returning id""")
                .param(estimate.id())
                .param(link)
                .param(authorisation)
                .param(channel.name())
                .param(byWhom)
                .param(words)
                .param(Timestamp.from(clock.instant()))
                .param(guest == null ? people.me().name() : guest)
                .query(Long.class)
                .single();
        for (Group group : asked) {
            jdbc.sql("insert into offer_answer_group (answer_id, place, agreed, gross) values (?, ?, ?, ?)")
                    .params(
                            id,
                            group.place(),
                            agreed.contains(group.place()),
                            group.total().gross().amount())
                    .update();
        }
        for (Group group : asked) {
            if (group.standing().declined() && agreed.contains(group.place()) && group.place() > 0) {
                wanted(estimate, group.place(), guest);
            }
        }
        boolean standsFromBefore =
                estimate.groups().stream().anyMatch(group -> group.standing().agreed());
        if (!any && standsFromBefore) {
            tickets.stamp(number, TicketStamp.AGREED, "nothing more than before", guest);
        }
        refuse(
                estimate,
                place -> any || standsFromBefore
                        ? asked.stream().anyMatch(group -> group.place() == place) && !agreed.contains(place)
                        : true,
                guest);
        journal.note(
                "estimate answered",
                number.value(),
                "Estimate %d was answered %s: %d of %d groups agreed."
                        .formatted(
                                estimate.issue(),
                                channel.words(),
                                asked.stream()
                                        .filter(group -> agreed.contains(group.place()))
                                        .count(),
                                asked.size()),
                Map.of("estimate", estimate.id(), "answer", id));
    }

    /** Who had declined a repair may want it after all, as long as nobody ended it. */
    private void wanted(EstimateView estimate, int place, @Nullable String guest) {
        var ref = new SymptomRef(estimate.ticket(), place);
        if (!tickets.get(estimate.ticket()).symptom(place).ended()) {
            tickets.stamp(ref, ThreadStamp.WANTED, "estimate %d".formatted(estimate.issue()), guest);
        }
    }

    /** Whose repair is not wanted is the counter's move; when nothing at all is wanted, all that wait for a repair are. */
    private void refuse(EstimateView estimate, Predicate<Integer> which, @Nullable String guest) {
        for (SymptomView symptom : tickets.get(estimate.ticket()).symptoms()) {
            if (!symptom.ended()
                    && symptom.has(ThreadStamp.TRACED)
                    && !symptom.has(ThreadStamp.MENDED)
                    && which.test(symptom.place())) {
                tickets.stamp(
                        new SymptomRef(estimate.ticket(), symptom.place()),
                        ThreadStamp.REFUSED,
                        "estimate %d".formatted(estimate.issue()),
                        guest);
            }
        }
    }

    private long agreeByLink(EstimateView estimate, Set<Integer> agreed, String byWhom, String words) {
        List<Line> lines = estimate.groups().stream()
                .filter(group -> group.standing().agreed() || agreed.contains(group.place()))
                .flatMap(group -> group.bare().stream())
                .toList();
        Money whole = Total.of(lines, rates.taxes(estimate.ticket()), rates.currency())
                .gross();
        var before = authorisations.of(estimate.ticket());
        Money more = whole.minus(Authorisations.forRepair(before, rates.currency()));
        // Less than before: the new sum counts, and what was agreed to the old estimate no longer does.
        boolean less = more.isNegative();
        boolean rise = before.stream().anyMatch(a -> a.kind() != Agreement.DIAGNOSIS && !a.replaced());
        return authorisations.agreeByLink(
                estimate.ticket(),
                less ? Agreement.INSTEAD : rise ? Agreement.RISE : Agreement.REPAIR,
                less ? whole : more,
                words,
                byWhom,
                estimate.id());
    }

    /** All that was shown and chosen; the first line alone says what was agreed. */
    private static String words(Page page, Set<Integer> agreed) {
        var text = new StringBuilder(chosen(page, agreed));
        text.append("\nShown: estimate ").append(page.estimate().issue());
        text.append(", ").append(page.ticket().vehicle().name()).append(".");
        for (Told told : page.told()) {
            Group group = told.group();
            text.append("\n\n").append(told.heading()).append(": ");
            text.append(
                    !group.standing().asked()
                            ? group.standing().words()
                            : agreed.contains(group.place()) ? "yes" : "no");
            if (told.cause() != null) {
                text.append("\nCause: ").append(told.cause());
            }
            told.readings().forEach(reading -> text.append("\n").append(reading));
            group.bare()
                    .forEach(line -> text.append("\n%s: %s, %s, %s"
                            .formatted(
                                    line.kind().words(),
                                    line.what(),
                                    line.quantityText(),
                                    line.net().text())));
            text.append("\n%s: %s"
                    .formatted(group.total().called(page.taxes()), group.total().gross()));
        }
        text.append("\n\nAgreed with these words: ").append(page.consent());
        return text.length() > 20_000 ? text.substring(0, 20_000) : text.toString();
    }

    private static String chosen(Page page, Set<Integer> agreed) {
        String yes = page.told().stream()
                .filter(told -> told.group().standing().asked()
                        && agreed.contains(told.group().place()))
                .map(Told::heading)
                .collect(Collectors.joining(", "));
        String no = page.told().stream()
                .filter(told -> told.group().standing().asked()
                        && !agreed.contains(told.group().place()))
                .map(Told::heading)
                .collect(Collectors.joining(", "));
        return (yes.isEmpty() ? "" : "Yes to: " + yes + ".")
                + (yes.isEmpty() || no.isEmpty() ? "" : " ")
                + (no.isEmpty() ? "" : "No to: " + no + ".");
    }

    /** What was answered to an estimate so far, the oldest first. */
    @OnlyReads
    public List<Answer> answers(long estimateId) {
        return replies(estimateId).answers();
    }

    /** What the customer said to an estimate, and the link by which it can still be answered. */
    @OnlyReads
    public Replies replies(long estimateId) {
        var told = together.read(Map.of("estimate", estimateId, "now", Timestamp.from(clock.instant())), ANSWERS, LINK);
        var currency = rates.currency();
        return new Replies(
                told.get(0).stream().map(r -> answer(r, currency)).toList(),
                told.get(1).stream()
                        .map(r -> new Link(
                                "/offers/" + secrets.link(PURPOSE, r.getString("seed")),
                                r.getInstant("expires_at"),
                                r.getString("made_by")))
                        .findFirst());
    }

    private static Answer answer(Tuple r, Currency currency) {
        BigDecimal amount = r.getBigDecimal("amount");
        return new Answer(
                r.getLong("estimate_id"),
                Channel.valueOf(r.getString("channel")),
                r.getString("by_whom"),
                r.getString("words"),
                r.getInstant("at"),
                amount == null ? null : Money.rounded(amount, currency));
    }

    private void lock(long estimateId) {
        if (jdbc.sql("select id from estimate where id = ? for update")
                .param(estimateId)
                .query(Long.class)
                .list()
                .isEmpty()) {
            throw NotFound.of("estimate");
        }
    }

    private Opened opened(String secret) {
        return jdbc.sql("select id, estimate_id, expires_at from offer_link where secret_hash = ? and expires_at > ?")
                .params(Secrets.digest(secret), Timestamp.from(clock.instant()))
                .query((r, n) ->
                        new Opened(r.getLong(1), r.getLong(2), r.getTimestamp(3).toInstant()))
                .optional()
                .filter(link -> !tickets.get(estimates.get(link.estimate()).ticket())
                        .customer()
                        .anonymous())
                .orElseThrow(() -> NotFound.of("page"));
    }
}
