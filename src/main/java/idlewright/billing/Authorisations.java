package idlewright.billing;

import idlewright.billing.rules.Agreed;
import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Tuple;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.TicketStamp;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.reference.money.Money;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Instant;
import java.util.Currency;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Who agreed to what: amounts with tax, the words, the channel, and who took it down. Never edited, only replaced. */
@Component
@Transactional
public class Authorisations {

    /** One agreement as it was taken down. */
    public record AuthorisationView(
            long id,
            Agreement kind,
            Money amount,
            String words,
            Channel channel,
            String byWhom,
            @Nullable Long estimateId,
            Instant at,
            String takenBy,
            @Nullable Long replaces,
            boolean replaced) {

        public String said() {
            if (channel == Channel.LINK) {
                return "%s, %s: %s"
                        .formatted(
                                byWhom,
                                channel.words(),
                                words.lines().findFirst().orElse(""));
            }
            return "%s, %s to %s: “%s”".formatted(byWhom, channel.words(), takenBy, words);
        }
    }

    /** Who took down an agreement that nobody of the shop took down. */
    static final String THE_CUSTOMER = "the customer";

    static final String OF_TICKET = """
            select a.*, exists (select from authorisation b where b.replaces = a.id) replaced
            from authorisation a where a.ticket_number = :ticket order by a.id""";

    private final Tickets tickets;
    private final MoneyReads reads;
    private final Rates rates;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    Authorisations(
            Tickets tickets,
            MoneyReads reads,
            Rates rates,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock) {
        this.tickets = tickets;
        this.reads = reads;
        this.rates = rates;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    public long agree(
            TicketNumber number,
            Agreement kind,
            Money amount,
            String words,
            Channel channel,
            String byWhom,
            @Nullable Long estimateId) {
        return keep(number, kind, amount, words, channel, byWhom, people.me().name(), estimateId, null, null);
    }

    /** What a customer agreed to alone, on the page behind their link. */
    long agreeByLink(TicketNumber number, Agreement kind, Money amount, String words, String byWhom, long estimateId) {
        return keep(number, kind, amount, words, Channel.LINK, byWhom, THE_CUSTOMER, estimateId, null, null);
    }

    /** Takes the place of an agreement that was taken down wrongly; both rows stay. */
    public long correct(long id, Money amount, String words, Channel channel, String byWhom, String reason) {
        if (reason.isBlank()) {
            throw Refused.at("reason", "Say what was wrong with it.");
        }
        TicketNumber number = ticketOf(id);
        AuthorisationView old =
                of(number).stream().filter(a -> a.id() == id).findFirst().orElseThrow();
        if (old.channel() == Channel.LINK) {
            throw Refused.because(
                    "The customer gave this answer alone, on the page of the estimate: nobody else puts it right. Take down what was agreed since.");
        }
        if (old.replaced()) {
            throw Refused.because("This agreement was corrected already. Correct the newer one.");
        }
        return keep(
                number, old.kind(), amount, words, channel, byWhom, people.me().name(), old.estimateId(), id, reason);
    }

    private long keep(
            TicketNumber number,
            Agreement kind,
            Money amount,
            String words,
            Channel channel,
            String byWhom,
            String takenBy,
            @Nullable Long estimateId,
            @Nullable Long replaces,
            @Nullable String reason) {
        TicketView ticket = tickets.get(number);
        var problems = new LinkedHashMap<String, String>();
        if (ticket.has(TicketStamp.BILLED)) {
            problems.put("", "The invoice of ticket %s is issued.".formatted(number));
        }
        if (amount.isNegative()) {
            problems.put("amount", "Enter the amount that was agreed, from 0 up.");
        }
        if (words.isBlank()) {
            problems.put("words", "Write down what was said, like: go ahead, and I want to see the old one.");
        }
        if (byWhom.isBlank()) {
            problems.put("byWhom", "Write down who agreed.");
        }
        Refused.ifAny(problems);
        long id = jdbc.sql("""
                insert into authorisation (ticket_number, kind, amount, words, channel, by_whom, estimate_id, at, taken_by, replaces, reason)
                values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) returning id""")
                .param(number.value())
                .param(kind.name())
                .param(amount.amount())
                .param(words)
                .param(channel.name())
                .param(byWhom)
                .param(estimateId)
                .param(Timestamp.from(clock.instant()))
                .param(takenBy)
                .param(replaces)
                .param(reason)
                .query(Long.class)
                .single();
        tickets.stamp(
                number,
                TicketStamp.AGREED,
                "%s for %s, %s".formatted(amount.text(), kind.words(), channel.words()),
                channel == Channel.LINK ? THE_CUSTOMER : null);
        journal.note(
                "agreed",
                number.value(),
                "Agreement %d: %s for %s, %s.".formatted(id, amount, kind.words(), channel.words()),
                Map.of("authorisation", id, "amount", amount.text(), "kind", kind.name(), "channel", channel.name()));
        return id;
    }

    @OnlyReads
    public TicketNumber ticketOf(long id) {
        return new TicketNumber(jdbc.sql("select ticket_number from authorisation where id = ?")
                .param(id)
                .query(Integer.class)
                .optional()
                .orElseThrow(() -> NotFound.of("agreement")));
    }

    /** All that is agreed on a ticket, with tax. */
    @OnlyReads
    public Money agreed(TicketNumber number) {
        return sum(of(number), rates.currency());
    }

    /** What is agreed of it beyond the diagnosis. */
    @OnlyReads
    public Money agreedForRepair(TicketNumber number) {
        return forRepair(of(number), rates.currency());
    }

    static Money forRepair(List<AuthorisationView> agreements, Currency currency) {
        return Agreed.forRepair(given(agreements), currency);
    }

    static Money sum(List<AuthorisationView> agreements, Currency currency) {
        return Agreed.sum(given(agreements), currency);
    }

    private static List<Agreed.Given> given(List<AuthorisationView> agreements) {
        return agreements.stream()
                .map(each -> new Agreed.Given(each.id(), each.replaces(), each.kind(), each.amount()))
                .toList();
    }

    @OnlyReads
    public List<AuthorisationView> of(TicketNumber number) {
        return reads.of(number).authorisations();
    }

    static AuthorisationView view(Tuple r, Currency currency) {
        return new AuthorisationView(
                r.getLong("id"),
                Agreement.valueOf(r.getString("kind")),
                Money.rounded(r.getBigDecimal("amount"), currency),
                r.getString("words"),
                Channel.valueOf(r.getString("channel")),
                r.getString("by_whom"),
                r.getLongOrNull("estimate_id"),
                r.getInstant("at"),
                r.getString("taken_by"),
                r.getLongOrNull("replaces"),
                r.getBoolean("replaced"));
    }
}
