package idlewright.billing;

import idlewright.billing.rules.Exemption;
import idlewright.billing.rules.LineKind;
import idlewright.billing.rules.Prices;
import idlewright.billing.rules.Rounding;
import idlewright.billing.rules.Taxes;
import idlewright.frame.OnlyReads;
import idlewright.frame.ReadOnce;
import idlewright.frame.Refused;
import idlewright.frame.Stale;
import idlewright.frame.Together;
import idlewright.frame.Tuple;
import idlewright.intake.CustomerView;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.journal.Journal;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.math.BigDecimal;
import java.sql.Timestamp;
import java.time.Clock;
import java.util.ArrayList;
import java.util.Currency;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The shop's prices, taxes and terms. */
@Component
@Transactional
public class Rates {

    /** All that the owner sets; amounts before tax or with it, as the shop's prices are, in the shop's currency. */
    public record Card(
            BigDecimal diagnosisFee,
            BigDecimal labourRate,
            BigDecimal partsMarkup,
            String taxName,
            BigDecimal taxLabour,
            BigDecimal taxParts,
            BigDecimal taxFees,
            BigDecimal taxSublet,
            Prices prices,
            Rounding rounding,
            String series,
            int dueDays,
            String foot,
            int version) {}

    static final String CARD = "select * from rates";

    /** In which prices a ticket is estimated and charged; nothing before it has an estimate or a charge. */
    static final String OF_TICKET = "select prices from ticket_prices where ticket_number = :ticket";

    private record PricesOf(TicketNumber ticket) {}

    private final Together together;
    private final JdbcClient jdbc;
    private final Shops shops;
    private final Journal journal;
    private final ReadOnce once;
    private final Tickets tickets;
    private final Clock clock;

    Rates(
            Together together,
            JdbcClient jdbc,
            Shops shops,
            Journal journal,
            ReadOnce once,
            Tickets tickets,
            Clock clock) {
        this.clock = clock;
        this.together = together;
        this.tickets = tickets;
        this.jdbc = jdbc;
        this.shops = shops;
        this.journal = journal;
        this.once = once;
    }

    @OnlyReads
    public Card card() {
        return once.of(Card.class, this::read);
    }

    private Card read() {
        return card(together.read(Map.of(), CARD).get(0).get(0));
    }

    /** The page has read the card along with something else. */
    @OnlyReads
    void know(Card card) {
        once.know(Card.class, card);
    }

    static Card card(Tuple r) {
        return new Card(
                r.getBigDecimal("diagnosis_fee"),
                r.getBigDecimal("labour_rate"),
                r.getBigDecimal("parts_markup"),
                r.getString("tax_name"),
                r.getBigDecimal("tax_labour"),
                r.getBigDecimal("tax_parts"),
                r.getBigDecimal("tax_fees"),
                r.getBigDecimal("tax_sublet"),
                Prices.valueOf(r.getString("prices")),
                Rounding.valueOf(r.getString("rounding")),
                r.getString("series"),
                r.getInt("due_days"),
                r.getString("foot"),
                r.getInt("version"));
    }

    @OnlyReads
    public Currency currency() {
        return shops.shop().currency();
    }

    @OnlyReads
    public Taxes taxes() {
        Card card = card();
        return new Taxes(
                card.taxName(),
                new TaxRate(card.taxLabour()),
                new TaxRate(card.taxParts()),
                new TaxRate(card.taxFees()),
                new TaxRate(card.taxSublet()),
                card.prices(),
                card.rounding(),
                null);
    }

    @OnlyReads
    public boolean pricesHoldTax() {
        return taxes().withTax();
    }

    /** What a customer pays: the shop's taxes, or none where the customer is exempt. */
    @OnlyReads
    public Taxes taxes(CustomerView customer) {
        var free = customer.taxFree();
        return taxes().without(free == null ? null : new Exemption(free.number(), free.reason()));
    }

    /** What the customer of a ticket pays, in the prices that the ticket keeps. */
    @OnlyReads
    public Taxes taxes(TicketNumber number) {
        return taxes(tickets.get(number));
    }

    /** The same where the ticket is read already. */
    @OnlyReads
    public Taxes taxes(TicketView ticket) {
        return taxes(ticket.customer()).in(prices(ticket.number()));
    }

    /** Whether the prices of a ticket hold their tax: as when it was first estimated or charged, else as the shop prices now. */
    @OnlyReads
    public Prices prices(TicketNumber number) {
        return once.of(
                new PricesOf(number),
                () -> prices(together.read(Map.of("ticket", number.value()), OF_TICKET)
                        .get(0)));
    }

    private Prices prices(List<Tuple> kept) {
        return kept.stream()
                .map(r -> Prices.valueOf(r.getString("prices")))
                .findFirst()
                .orElseGet(() -> card().prices());
    }

    /** The page has read a ticket's prices along with something else. */
    @OnlyReads
    void know(TicketNumber number, List<Tuple> kept) {
        once.know(new PricesOf(number), prices(kept));
    }

    /** From the first estimate or charge on a ticket keeps its prices, whatever the owner sets later. */
    void keepPrices(TicketNumber number) {
        jdbc.sql("""
                insert into ticket_prices (ticket_number, prices, at) select ?, prices, ? from rates
                on conflict do nothing""").params(number.value(), Timestamp.from(clock.instant())).update();
    }

    /** A price of the shop's list as this ticket prices: with the tax of its kind, or without. */
    @OnlyReads
    public Money priced(TicketNumber number, LineKind kind, Money listed) {
        return taxes().priced(kind, listed, prices(number));
    }

    @OnlyReads
    public Money labourRate(TicketNumber number) {
        return priced(number, LineKind.LABOUR, labourRate());
    }

    @OnlyReads
    public Money labourRate() {
        return Money.rounded(card().labourRate(), currency());
    }

    @OnlyReads
    public Money diagnosisFee() {
        return Money.rounded(card().diagnosisFee(), currency());
    }

    /** A selling price for a part that the shop bought, as the ticket prices. */
    @OnlyReads
    public Money sellingPrice(TicketNumber number, Money cost) {
        Money price = cost.times(BigDecimal.ONE.add(card().partsMarkup().movePointLeft(2)));
        return prices(number) == Prices.WITH_TAX ? taxes().onParts().gross(price) : price;
    }

    public void set(Card card) {
        var problems = new LinkedHashMap<String, String>();
        between(problems, "taxLabour", card.taxLabour(), 100);
        between(problems, "taxParts", card.taxParts(), 100);
        between(problems, "taxFees", card.taxFees(), 100);
        between(problems, "taxSublet", card.taxSublet(), 100);
        between(problems, "partsMarkup", card.partsMarkup(), 500);
        if (card.diagnosisFee().signum() < 0) {
            problems.put("diagnosisFee", "Enter an amount from 0 up.");
        }
        if (card.labourRate().signum() < 0) {
            problems.put("labourRate", "Enter an amount from 0 up.");
        }
        if (!card.series().matches("[A-Z0-9]{1,6}")) {
            problems.put("series", "Use one to six capital letters or digits, like A or 2026.");
        }
        if (card.dueDays() < 0 || card.dueDays() > 365) {
            problems.put("dueDays", "Enter 0 to 365 days.");
        }
        Refused.ifAny(problems);
        Card now = card();
        int changed = jdbc.sql("""
                update rates set diagnosis_fee = ?, labour_rate = ?, parts_markup = ?, tax_name = ?, tax_labour = ?, tax_parts = ?,
                    tax_fees = ?, tax_sublet = ?, prices = ?, rounding = ?, series = ?, due_days = ?, foot = ?, version = version + 1
                where version = ?""")
                .params(List.of(
                        card.diagnosisFee(),
                        card.labourRate(),
                        card.partsMarkup(),
                        card.taxName(),
                        card.taxLabour(),
                        card.taxParts(),
                        card.taxFees(),
                        card.taxSublet(),
                        card.prices().name(),
                        card.rounding().name(),
                        card.series(),
                        card.dueDays(),
                        card.foot(),
                        card.version()))
                .update();
        if (changed == 0) {
            var clashes = new ArrayList<Stale.Clash>();
            clashes.add(new Stale.Clash(
                    "diagnosis fee",
                    card.diagnosisFee().toPlainString(),
                    now.diagnosisFee().toPlainString()));
            clashes.add(new Stale.Clash(
                    "labour rate",
                    card.labourRate().toPlainString(),
                    now.labourRate().toPlainString()));
            clashes.add(new Stale.Clash(
                    "tax on work",
                    card.taxLabour().toPlainString(),
                    now.taxLabour().toPlainString()));
            clashes.add(new Stale.Clash(
                    "tax on parts",
                    card.taxParts().toPlainString(),
                    now.taxParts().toPlainString()));
            clashes.add(new Stale.Clash(
                    "tax on fees", card.taxFees().toPlainString(), now.taxFees().toPlainString()));
            clashes.add(new Stale.Clash(
                    "tax on sublet work",
                    card.taxSublet().toPlainString(),
                    now.taxSublet().toPlainString()));
            clashes.add(new Stale.Clash(
                    "prices", card.prices().words(), now.prices().words()));
            throw new Stale("The rates", clashes, "somebody at another terminal", null, "/set-up/rates");
        }
        journal.note(
                "rates set",
                null,
                "The shop's rates were changed.",
                Map.of("labour", card.labourRate().toPlainString()));
    }

    private static void between(Map<String, String> problems, String field, BigDecimal value, int most) {
        if (value.signum() < 0 || value.compareTo(BigDecimal.valueOf(most)) > 0) {
            problems.put(field, "Enter a number from 0 to " + most + ".");
        }
    }
}
