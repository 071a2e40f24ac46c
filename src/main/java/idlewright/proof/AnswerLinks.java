package idlewright.proof;

import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Times;
import idlewright.intake.Letters;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.TicketView.SymptomView;
import idlewright.intake.Tickets;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.people.Secrets;
import idlewright.people.Shops;
import idlewright.proof.rules.Outcome;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The page behind a secret link, where the customer says without signing in how it went. */
@Component
@Transactional
public class AnswerLinks {

    private static final Duration LIFE = Duration.ofDays(60);
    private static final String PURPOSE = "answer link";

    /** A link as the counter sees it. */
    public record Link(String path, Instant expiresAt, String madeBy) {}

    /** What the customer sees: no name, only the vehicle and the words. */
    public record Page(TicketNumber ticket, String vehicle, List<SymptomView> symptoms, boolean answered) {}

    /** What the customer answered about one symptom, to be confirmed at the counter. */
    public record Answered(
            int place, Outcome outcome, @Nullable String words, Instant at) {}

    private final Tickets tickets;
    private final FollowUps followUps;
    private final Letters letters;
    private final Shops shops;
    private final Times times;
    private final Secrets secrets;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    AnswerLinks(
            Tickets tickets,
            FollowUps followUps,
            Letters letters,
            Shops shops,
            Times times,
            Secrets secrets,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock) {
        this.tickets = tickets;
        this.followUps = followUps;
        this.letters = letters;
        this.shops = shops;
        this.times = times;
        this.secrets = secrets;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Makes a link for a ticket that was handed back; an earlier one goes on until it expires. */
    public Link make(TicketNumber number) {
        if (followUps.asked(number).isEmpty()) {
            throw Refused.because("There is nothing left to ask about on ticket %s.".formatted(number));
        }
        String seed = secrets.seed();
        Instant until = clock.instant().plus(LIFE);
        jdbc.sql("""
                insert into answer_link (ticket_number, seed, secret_hash, made_at, made_by, expires_at)
                values (?, ?, ?, ?, ?, ?)""")
                .params(
                        number.value(),
                        seed,
                        Secrets.digest(secrets.link(PURPOSE, seed)),
                        Timestamp.from(clock.instant()),
                        people.me().name(),
                        Timestamp.from(until))
                .update();
        journal.note("answer link made", number.value(), "A link for the customer's answer was made.", Map.of());
        return of(number).orElseThrow();
    }

    /** Writes the customer a letter with the newest link, which stands at this address for them. */
    public void mail(TicketNumber number, String url) {
        TicketView ticket = tickets.get(number);
        Link link = of(number).orElseThrow(() -> Refused.because("Make the link first."));
        String shop = shops.shop().name();
        letters.write(
                ticket.customer(),
                number,
                "follow-up",
                "%s: how is your %s?".formatted(shop, ticket.vehicle().name()),
                """
                Some days ago your %s left our shop. Please tell us how it runs, in a minute and without signing in:
                %s

                The link works until %s.

                %s%s
                """.formatted(
                                ticket.vehicle().name(),
                                url,
                                times.day(link.expiresAt()),
                                shop,
                                shops.shop().phone().isEmpty()
                                        ? ""
                                        : "\n" + shops.shop().phone()),
                null);
    }

    /** The newest link of a ticket that still opens. */
    @OnlyReads
    public Optional<Link> of(TicketNumber number) {
        return jdbc.sql("""
                select seed, expires_at, made_by from answer_link where ticket_number = ? and expires_at > ? order by id desc limit 1""")
                .params(number.value(), Timestamp.from(clock.instant()))
                .query((r, n) -> new Link(
                        "/answers/" + secrets.link(PURPOSE, r.getString(1)),
                        r.getTimestamp(2).toInstant(),
                        r.getString(3)))
                .optional();
    }

    /** The page a secret opens; an expired or unknown one opens none, and does not say which. */
    @OnlyReads
    public Page open(String secret) {
        TicketNumber number = ticketOf(secret);
        TicketView ticket = tickets.get(number);
        return new Page(
                number,
                ticket.vehicle().name(),
                followUps.asked(number),
                !pending(number).isEmpty());
    }

    /** Keeps what the customer answers; it counts once the counter confirms it. */
    public void answer(String secret, Map<Integer, Outcome> outcomes, String words) {
        TicketNumber number = ticketOf(secret);
        List<Integer> asked =
                followUps.asked(number).stream().map(SymptomView::place).toList();
        var problems = new LinkedHashMap<String, String>();
        if (outcomes.isEmpty()) {
            problems.put("", "Choose an answer, then send it.");
        }
        if (words.length() > 1000) {
            problems.put("words", "Please keep it under 1,000 characters.");
        }
        if (!asked.containsAll(outcomes.keySet()) || outcomes.containsValue(Outcome.NOT_REACHED)) {
            throw NotFound.of("answer");
        }
        Refused.ifAny(problems);
        long link = link(secret).orElseThrow(() -> NotFound.of("page"));
        outcomes.forEach((place, outcome) -> jdbc.sql("""
                insert into customer_answer (link_id, ticket_number, place, outcome, words, at) values (:link, :ticket, :place, :outcome, :words, :at)""")
                .param("link", link)
                .param("ticket", number.value())
                .param("place", place)
                .param("outcome", outcome.name())
                .param("words", words.isBlank() ? null : words)
                .param("at", Timestamp.from(clock.instant()))
                .update());
        journal.note(
                "customer answered",
                number.value(),
                "The customer answered by link.",
                Map.of("symptoms", outcomes.size()));
    }

    /** Answers that nobody at the counter has confirmed yet; of several on one symptom the latest. */
    @OnlyReads
    public List<Answered> pending(TicketNumber number) {
        return jdbc.sql("""
                select distinct on (place) place, outcome, words, at from customer_answer
                where ticket_number = :ticket
                  and at > coalesce((select max(at) from follow_up where ticket_number = :ticket), '-infinity')
                order by place, id desc""")
                .param("ticket", number.value())
                .query((r, n) -> new Answered(
                        r.getInt(1),
                        Outcome.valueOf(r.getString(2)),
                        r.getString(3),
                        r.getTimestamp(4).toInstant()))
                .list();
    }

    private TicketNumber ticketOf(String secret) {
        return jdbc.sql("select ticket_number from answer_link where secret_hash = ? and expires_at > ?")
                .params(Secrets.digest(secret), Timestamp.from(clock.instant()))
                .query(Integer.class)
                .optional()
                .map(TicketNumber::new)
                .filter(number -> !tickets.get(number).customer().anonymous())
                .orElseThrow(() -> NotFound.of("page"));
    }

    private Optional<Long> link(String secret) {
        return jdbc.sql("select id from answer_link where secret_hash = ? and expires_at > ?")
                .params(Secrets.digest(secret), Timestamp.from(clock.instant()))
                .query(Long.class)
                .optional();
    }
}
