package idlewright.warranty;

import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Together;
import idlewright.frame.Tuple;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import idlewright.warranty.ClaimView.Joined;
import idlewright.warranty.ClaimView.Step;
import idlewright.warranty.rules.ClaimStep;
import java.math.BigDecimal;
import java.sql.Timestamp;
import java.time.Clock;
import java.util.Currency;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** What is asked back from suppliers, what they answered, and what came. */
@Component
@Transactional
public class Claims {

    private static final String CLAIMS = """
            select c.*, (select coalesce(sum(s.amount), 0) from claim_step s where s.claim_id = c.id and s.kind = 'PAID') paid,
                   (select json_agg(s order by s.id) from claim_step s where s.claim_id = c.id) steps,
                   (select json_agg(d order by d.id) from claim_dossier d where d.claim_id = c.id) joined
            from claim c\s""";

    /** What is claimed back for a ticket; read by {@link #view}. */
    static final String OF_TICKET = CLAIMS + "where c.ticket_number = :ticket order by c.id";

    private static final String OPEN = """
            c.amount > (select coalesce(sum(s.amount), 0) from claim_step s where s.claim_id = c.id and s.kind = 'PAID')
            and not exists (select from claim_step s where s.claim_id = c.id and s.kind = 'DROPPED')""";

    private final Together together;
    private final Tickets tickets;
    private final Shops shops;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    Claims(
            Together together,
            Tickets tickets,
            Shops shops,
            People people,
            Journal journal,
            JdbcClient jdbc,
            Clock clock) {
        this.together = together;
        this.tickets = tickets;
        this.shops = shops;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** Writes a claim down; it is not sent by that. */
    public long make(
            TicketNumber ticket,
            int place,
            String supplier,
            String part,
            Money amount,
            @Nullable String dossier,
            @Nullable Long swap) {
        var problems = new LinkedHashMap<String, String>();
        if (supplier.isBlank() || supplier.length() > 120) {
            problems.put("supplier", "Say who is to pay, in up to 120 letters.");
        }
        if (part.isBlank() || part.length() > 200) {
            problems.put("part", "Say what it is about: the part and its number.");
        }
        if (!amount.isPositive()) {
            problems.put("amount", "Enter the amount that is asked, above zero.");
        }
        checkDossier(problems, dossier, ticket);
        Refused.ifAny(problems);
        var view = tickets.get(ticket);
        if (place > 0) {
            view.symptom(place);
        }
        long id = jdbc.sql("""
                insert into claim (ticket_number, place, supplier, part, swap_id, dossier_code, amount, currency, made_at, made_by)
                values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) returning id""")
                .param(ticket.value())
                .param(place)
                .param(supplier.strip())
                .param(part.strip())
                .param(swap)
                .param(dossier)
                .param(amount.amount())
                .param(amount.currency().getCurrencyCode())
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .query(Long.class)
                .single();
        journal.note(
                "claim made",
                ticket.value(),
                "A claim of %s to %s was written.".formatted(amount, supplier),
                Map.of("claim", id, "amount", amount.text(), "dossier", dossier == null ? "" : dossier));
        return id;
    }

    /** Joins a sealed dossier to a claim that has not gone out, in the place of the one before. */
    public void join(long id, String dossier) {
        lock(id);
        ClaimView claim = get(id);
        var problems = new LinkedHashMap<String, String>();
        checkDossier(problems, dossier, claim.ticket());
        if (claim.sentAt() != null) {
            problems.put(
                    "dossier",
                    "This claim went out already. Say below that it was sent again, and with which dossier.");
        }
        Refused.ifAny(problems);
        keepDossier(claim, dossier);
    }

    private void keepDossier(ClaimView claim, String dossier) {
        if (dossier.equals(claim.dossier())) {
            return;
        }
        jdbc.sql("insert into claim_dossier (claim_id, dossier_code, at, who) values (?, ?, ?, ?)")
                .params(
                        claim.id(),
                        dossier,
                        Timestamp.from(clock.instant()),
                        people.me().name())
                .update();
        journal.note(
                "claim",
                claim.ticket().value(),
                "Dossier %s was joined to claim %d.".formatted(dossier, claim.id()),
                Map.of("claim", claim.id(), "dossier", dossier));
    }

    private void checkDossier(Map<String, String> problems, @Nullable String dossier, TicketNumber ticket) {
        if (dossier != null && !dossierOf(dossier, ticket)) {
            problems.put(
                    "dossier",
                    "There is no dossier %s of ticket %s. Seal it first, or leave this empty."
                            .formatted(dossier, ticket));
        }
    }

    private void lock(long id) {
        // A row that never changes cannot be locked by a role that may not change it; the claim's number is locked
        // instead.
        jdbc.sql("select pg_advisory_xact_lock(hashtextextended('claim', ?))")
                .param(id)
                .query((r, n) -> 0)
                .single();
    }

    /** Notes what happened to a claim. */
    public void step(long id, ClaimStep kind, @Nullable Money amount, String note) {
        step(id, kind, amount, note, null);
    }

    /** Notes what happened to a claim; what is sent may go out with another dossier than before. */
    public void step(long id, ClaimStep kind, @Nullable Money amount, String note, @Nullable String dossier) {
        lock(id);
        ClaimView claim = get(id);
        var problems = new LinkedHashMap<String, String>();
        if (kind == ClaimStep.SENT) {
            checkDossier(problems, dossier, claim.ticket());
        }
        if (!kind.mayFollow(claim.steps().stream().map(Step::kind).toList())) {
            problems.put(
                    "kind",
                    claim.has(ClaimStep.DROPPED)
                            ? "This claim is written off."
                            : "Note first that it was sent, and how.");
        }
        if (kind.money() && (amount == null || !amount.isPositive())) {
            problems.put("amount", "Enter the amount, above zero.");
        }
        if ((kind == ClaimStep.REFUSED || kind == ClaimStep.DROPPED) && note.isBlank()) {
            problems.put(
                    "note",
                    kind == ClaimStep.REFUSED ? "Write down the reason they gave." : "Say why nothing more is asked.");
        }
        if (kind == ClaimStep.PAID
                && amount != null
                && note.isBlank()
                && claim.difference().isMoreThan(amount)) {
            problems.put("note", "That is less than is still missing: say what the difference is about.");
        }
        if (note.length() > 1000) {
            problems.put("note", "Keep it under 1,000 characters.");
        }
        Refused.ifAny(problems);
        if (kind == ClaimStep.SENT && dossier != null) {
            keepDossier(claim, dossier);
        }
        jdbc.sql("insert into claim_step (claim_id, kind, amount, note, at, who) values (?, ?, ?, ?, ?, ?)")
                .param(id)
                .param(kind.name())
                .param(kind.money() && amount != null ? amount.amount() : null)
                .param(note.strip())
                .param(Timestamp.from(clock.instant()))
                .param(people.me().name())
                .update();
        journal.note(
                "claim",
                claim.ticket().value(),
                "Claim %d to %s: %s%s."
                        .formatted(
                                id,
                                claim.supplier(),
                                kind.words(),
                                kind.money() && amount != null ? ", " + amount : ""),
                Map.of("claim", id, "step", kind.name()));
    }

    @OnlyReads
    public ClaimView get(long id) {
        return read(Map.of("id", id), "where c.id = :id").stream()
                .findFirst()
                .orElseThrow(() -> NotFound.of("claim " + id));
    }

    @OnlyReads
    public List<ClaimView> of(TicketNumber ticket) {
        return read(Map.of("ticket", ticket.value()), "where c.ticket_number = :ticket order by c.id");
    }

    /** Those with money still to be had, the oldest first. */
    @OnlyReads
    public List<ClaimView> open() {
        return read(Map.of(), "where " + OPEN + " order by c.id limit 2000");
    }

    /** Those that are over, the newest first. */
    @OnlyReads
    public List<ClaimView> over() {
        return read(Map.of(), "where not (" + OPEN + ") order by c.id desc limit 100");
    }

    public Currency currency() {
        return shops.shop().currency();
    }

    private boolean dossierOf(String code, TicketNumber ticket) {
        return jdbc.sql("select count(*) from dossier where code = ? and ticket_number = ?")
                        .params(code, ticket.value())
                        .query(Integer.class)
                        .single()
                > 0;
    }

    private List<ClaimView> read(Map<String, ?> values, String where) {
        return together.read(values, CLAIMS + where).get(0).stream()
                .map(Claims::view)
                .toList();
    }

    static ClaimView view(Tuple r) {
        var currency = Currency.getInstance(r.getString("currency"));
        var joined = r.getRows("joined").stream()
                .map(one -> new Joined(one.getString("dossier_code"), one.getInstant("at"), one.getString("who")))
                .toList();
        return new ClaimView(
                r.getLong("id"),
                new TicketNumber(r.getInt("ticket_number")),
                r.getInt("place"),
                r.getString("supplier"),
                r.getString("part"),
                r.getLongOrNull("swap_id"),
                joined.isEmpty()
                        ? r.getString("dossier_code")
                        : joined.get(joined.size() - 1).dossier(),
                joined,
                Money.rounded(r.getBigDecimal("amount"), currency),
                Money.rounded(r.getBigDecimal("paid"), currency),
                r.getInstant("made_at"),
                r.getString("made_by"),
                r.getRows("steps").stream()
                        .map(step -> {
                            BigDecimal amount = step.getBigDecimal("amount");
                            return new Step(
                                    ClaimStep.valueOf(step.getString("kind")),
                                    amount == null ? null : Money.rounded(amount, currency),
                                    step.getString("note"),
                                    step.getInstant("at"),
                                    step.getString("who"));
                        })
                        .toList());
    }
}
