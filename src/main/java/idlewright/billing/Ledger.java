package idlewright.billing;

import idlewright.billing.rules.Account;
import idlewright.billing.rules.Age;
import idlewright.billing.rules.Method;
import idlewright.billing.rules.Posting;
import idlewright.frame.OnlyReads;
import idlewright.frame.Times;
import idlewright.frame.rules.Cells;
import idlewright.intake.CustomerView;
import idlewright.intake.Customers;
import idlewright.intake.TicketNumber;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.math.BigDecimal;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.Currency;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** What invoices and payments come to: who owes what since when, a customer's statement, the bookkeeper's journal. */
@Component
@OnlyReads
public class Ledger {

    /** One invoice that is not paid. */
    public record Debt(
            String number,
            TicketNumber ticket,
            long customerId,
            String customer,
            LocalDate issued,
            LocalDate due,
            Money total,
            Money owed,
            Age age) {}

    /** What one customer owes, by age. */
    public record Debtor(long id, String name, Map<Age, Money> byAge, Money owed) {}

    /** All that is owed today. */
    public record Ageing(LocalDate asOf, List<Debtor> debtors, Map<Age, Money> byAge, Money owed) {}

    /** One line of a statement: above zero it is owed more, below zero less. */
    public record Entry(LocalDate date, String words, String url, Money amount, Money balance) {}

    /** What happened between two days, and what was open before and after. */
    public record Statement(
            CustomerView customer,
            LocalDate from,
            LocalDate to,
            Money before,
            List<Entry> entries,
            Money after,
            List<Debt> open,
            Money credit,
            Money deposits) {

        public Money owed() {
            return Money.sum(open.stream().map(Debt::owed).toList(), after.currency());
        }
    }

    /** One invoice or credit note as other programs are told of it. */
    public record Summary(
            String number,
            @Nullable String credits,
            LocalDate date,
            LocalDate due,
            int ticket,
            String customer,
            Money net,
            Money tax,
            Money total,
            Money credited,
            Money paid,
            Money owed,
            String state) {}

    private final Customers customers;
    private final Credits credits;
    private final Shops shops;
    private final Times times;
    private final JdbcClient jdbc;

    Ledger(Customers customers, Credits credits, Shops shops, Times times, JdbcClient jdbc) {
        this.customers = customers;
        this.credits = credits;
        this.shops = shops;
        this.times = times;
        this.jdbc = jdbc;
    }

    public Ageing ageing() {
        List<Debt> debts = debts(null);
        Currency currency = currency();
        var byCustomer = new LinkedHashMap<Long, List<Debt>>();
        debts.forEach(debt -> byCustomer
                .computeIfAbsent(debt.customerId(), id -> new ArrayList<>())
                .add(debt));
        List<Debtor> debtors = byCustomer.entrySet().stream()
                .map(one -> new Debtor(
                        one.getKey(),
                        one.getValue().get(0).customer(),
                        byAge(one.getValue(), currency),
                        sum(one.getValue(), currency)))
                .sorted(Comparator.comparing(Debtor::owed).reversed())
                .toList();
        return new Ageing(times.today(), debtors, byAge(debts, currency), sum(debts, currency));
    }

    /** The invoices that are not paid, of all customers or of one, the longest due first. */
    public List<Debt> debts(@Nullable Long customer) {
        LocalDate today = times.today();
        return jdbc.sql("""
                select i.number, i.ticket_number, i.customer_id, i.customer, i.issued_at, i.due, i.currency, i.total,
                       i.total - c.credited - p.paid owed
                from owing o join invoice i on i.number = o.invoice_number
                cross join lateral (select coalesce(sum(amount), 0) paid from payment where invoice_number = i.number) p
                cross join lateral (select coalesce(-sum(total), 0) credited from invoice where credits = i.number) c
                where i.credits is null and i.total - c.credited > p.paid and i.currency = :currency
                  and (:customer::bigint is null or i.customer_id = :customer)
                order by i.due, i.number""")
                .param("currency", currency().getCurrencyCode())
                .param("customer", customer)
                .query((r, n) -> {
                    var currency = Currency.getInstance(r.getString("currency"));
                    LocalDate due = r.getObject("due", LocalDate.class);
                    return new Debt(
                            r.getString("number"),
                            new TicketNumber(r.getInt("ticket_number")),
                            r.getLong("customer_id"),
                            r.getString("customer"),
                            date(r, "issued_at", times.zone()),
                            due,
                            Money.of(r.getBigDecimal("total"), currency),
                            Money.of(r.getBigDecimal("owed"), currency),
                            Age.of(due, today));
                })
                .list();
    }

    public Statement statement(long customer, LocalDate from, LocalDate to) {
        CustomerView whose = customers.get(customer);
        Currency currency = currency();
        ZoneId zone = times.zone();
        Money before = Money.zero(currency);
        Money balance = before;
        var entries = new ArrayList<Entry>();
        for (Move move : moves(customer)) {
            LocalDate date = LocalDate.ofInstant(move.at(), zone);
            if (date.isAfter(to)) {
                break;
            }
            balance = balance.plus(move.amount());
            if (date.isBefore(from)) {
                before = balance;
            } else {
                entries.add(new Entry(date, move.words(), move.url(), move.amount(), balance));
            }
        }
        return new Statement(
                whose,
                from,
                to,
                before,
                List.copyOf(entries),
                balance,
                debts(customer),
                credits.credit(customer),
                credits.deposits(customer));
    }

    private record Move(Instant at, Money amount, String words, String url) {}

    /** What an invoice adds and money takes away; what only moves from credit to an invoice changes nothing. */
    private List<Move> moves(long customer) {
        Currency currency = currency();
        return jdbc.sql("""
                select issued_at at, 0 nr, total amount, number, credits, null method, null ticket from invoice
                where customer_id = :customer and currency = :currency
                union all
                select at, id, -amount, invoice_number, null, method, ticket_number from payment
                where customer_id = :customer and method <> 'CREDIT'
                order by 1, 2""")
                .param("customer", customer)
                .param("currency", currency.getCurrencyCode())
                .query((r, n) -> {
                    Money amount = Money.rounded(r.getBigDecimal("amount"), currency);
                    String number = r.getString("number");
                    if (r.getString("method") == null) {
                        String credited = r.getString("credits");
                        return new Move(
                                instant(r, "at"),
                                amount,
                                credited == null
                                        ? "Invoice " + number
                                        : "Credit note %s for %s".formatted(number, credited),
                                "/invoices/" + number);
                    }
                    var how = Method.valueOf(r.getString("method"));
                    String what = number != null
                            ? amount.isNegative() ? "Paid on " + number : "Paid back on " + number
                            : !amount.isNegative()
                                    ? "Paid back"
                                    : r.getObject("ticket") == null
                                            ? "Paid too much, kept as credit"
                                            : "Deposit on ticket " + r.getInt("ticket");
                    return new Move(
                            instant(r, "at"), amount, what + ", " + how.words(), "/receipts/" + r.getLong("nr"));
                })
                .list();
    }

    /** Invoices and credit notes issued between two days, both included. */
    public List<Summary> issued(LocalDate from, LocalDate to, int limit) {
        ZoneId zone = times.zone();
        return jdbc.sql(
                        SUMMARY
                                + "where i.issued_at >= :from and i.issued_at < :until order by i.issued_at, i.number limit :limit")
                .param("from", java.sql.Timestamp.from(from.atStartOfDay(zone).toInstant()))
                .param(
                        "until",
                        java.sql.Timestamp.from(
                                to.plusDays(1).atStartOfDay(zone).toInstant()))
                .param("limit", limit)
                .query((r, n) -> summary(r, zone))
                .list();
    }

    private static final String SUMMARY = """
            select i.number, i.credits, i.issued_at, i.due, i.ticket_number, i.customer, i.currency, i.net, i.tax, i.total,
                   (select -sum(c.total) from invoice c where c.credits = i.number) credited,
                   (select coalesce(sum(p.amount), 0) from payment p where p.invoice_number = i.number) paid
            from invoice i
            """;

    private static Summary summary(ResultSet r, ZoneId zone) throws SQLException {
        var currency = Currency.getInstance(r.getString("currency"));
        Money total = Money.of(r.getBigDecimal("total"), currency);
        Money paid = Money.of(r.getBigDecimal("paid"), currency);
        boolean note = r.getString("credits") != null;
        BigDecimal sum = r.getBigDecimal("credited");
        Money credited = sum == null ? Money.zero(currency) : Money.of(sum, currency);
        Money left = total.minus(credited);
        Money owed = note || left.isZero() ? Money.zero(currency) : left.minus(paid);
        return new Summary(
                r.getString("number"),
                r.getString("credits"),
                date(r, "issued_at", zone),
                r.getObject("due", LocalDate.class),
                r.getInt("ticket_number"),
                r.getString("customer"),
                Money.of(r.getBigDecimal("net"), currency),
                Money.of(r.getBigDecimal("tax"), currency),
                total,
                credited,
                paid,
                owed,
                note ? "credit note" : InvoiceView.state(sum != null, left, paid, owed));
    }

    /** What is booked between two days, both included, as a bookkeeper posts it; docs/bookkeeping.md says what it means. */
    public List<Posting> postings(LocalDate from, LocalDate to) {
        var postings = new ArrayList<Posting>();
        postings.addAll(invoicePostings(from, to));
        postings.addAll(moneyPostings(from, to));
        postings.sort(Comparator.comparing(Posting::booked));
        return List.copyOf(postings);
    }

    private List<Posting> invoicePostings(LocalDate from, LocalDate to) {
        ZoneId zone = times.zone();
        var postings = new ArrayList<Posting>();
        jdbc.sql("""
                select i.number, i.credits, i.total = -w.total whole, i.booked, i.issued_at, i.ticket_number, i.customer, i.currency, i.tax_name,
                       i.exempt_number, t.percent, t.net, t.tax
                from invoice i join invoice_tax t on t.invoice_number = i.number left join invoice w on w.number = i.credits
                where i.booked between ? and ? order by i.booked, i.issued_at, i.number, t.percent""").params(from, to).query((ResultSet r) -> {
            var currency = Currency.getInstance(r.getString("currency"));
            Money net = Money.of(r.getBigDecimal("net"), currency);
            Money tax = Money.of(r.getBigDecimal("tax"), currency);
            boolean free = r.getString("exempt_number") != null;
            TaxRate rate = free ? TaxRate.NONE : new TaxRate(r.getBigDecimal("percent"));
            String name = r.getString("tax_name");
            String kind = r.getString("credits") == null ? "invoice" : "credit note";
            String words = r.getString("credits") == null
                    ? ""
                    : (r.getBoolean("whole") ? "takes back " : "takes back part of ") + r.getString("credits") + "; ";
            Posting sold = Posting.of(
                    r.getObject("booked", LocalDate.class),
                    date(r, "issued_at", zone),
                    kind,
                    r.getString("number"),
                    r.getInt("ticket_number"),
                    r.getString("customer"),
                    Account.OWED,
                    Account.SALES,
                    net,
                    rate,
                    null,
                    words
                            + (free
                                    ? "no " + name + ", exemption " + r.getString("exempt_number")
                                    : name + " " + rate.text()));
            if (!net.isZero()) {
                postings.add(sold);
            }
            if (!tax.isZero()) {
                postings.add(Posting.of(
                        sold.booked(),
                        sold.date(),
                        kind,
                        sold.document(),
                        sold.ticket(),
                        sold.customer(),
                        Account.OWED,
                        Account.TAX,
                        tax,
                        rate,
                        net,
                        sold.words()));
            }
        });
        return postings;
    }

    private List<Posting> moneyPostings(LocalDate from, LocalDate to) {
        ZoneId zone = times.zone();
        Currency ours = currency();
        return jdbc.sql("""
                select p.id, p.booked, p.at, p.amount, p.method, p.note, p.invoice_number, p.ticket_number, i.currency,
                       coalesce(i.customer, c.name) customer, coalesce(i.ticket_number, p.ticket_number) ticket
                from payment p join payer c on c.id = p.customer_id left join invoice i on i.number = p.invoice_number
                where p.booked between ? and ? order by p.booked, p.id""")
                .params(from, to)
                .query((r, n) -> {
                    var currency =
                            r.getString("currency") == null ? ours : Currency.getInstance(r.getString("currency"));
                    Money amount = Money.rounded(r.getBigDecimal("amount"), currency);
                    Method method = Method.valueOf(r.getString("method"));
                    var booking = idlewright.billing.rules.Booking.of(
                            r.getString("invoice_number") != null,
                            r.getObject("ticket_number") != null,
                            amount.isPositive(),
                            method);
                    String invoice = r.getString("invoice_number");
                    String note = Objects.requireNonNullElse(r.getString("note"), "");
                    return Posting.of(
                            r.getObject("booked", LocalDate.class),
                            date(r, "at", zone),
                            booking.words(),
                            "R-%05d".formatted(r.getLong("id")),
                            (Integer) r.getObject("ticket"),
                            r.getString("customer"),
                            method.account(),
                            booking.towards(),
                            amount,
                            null,
                            null,
                            invoice == null
                                    ? note
                                    : note.isEmpty() ? "for " + invoice : "for " + invoice + "; " + note);
                })
                .list();
    }

    /** The bookkeeper's journal as a table for a spreadsheet or a bookkeeping program. */
    public byte[] journal(LocalDate from, LocalDate to) {
        var rows = new ArrayList<List<@Nullable String>>();
        rows.add(List.of(
                "booked",
                "date",
                "kind",
                "document",
                "ticket",
                "customer",
                "debit",
                "credit",
                "amount",
                "currency",
                "tax_percent",
                "tax_base",
                "words"));
        for (Posting posting : postings(from, to)) {
            rows.add(Arrays.asList(
                    posting.booked().toString(),
                    posting.date().toString(),
                    posting.kind(),
                    posting.document(),
                    posting.ticket() == null ? "" : posting.ticket().toString(),
                    posting.customer(),
                    posting.debit().words(),
                    posting.credit().words(),
                    posting.amount().amount().toPlainString(),
                    posting.amount().currency().getCurrencyCode(),
                    posting.rate() == null ? "" : posting.rate().percent().toPlainString(),
                    posting.base() == null ? "" : posting.base().amount().toPlainString(),
                    posting.words()));
        }
        return Cells.csv(rows);
    }

    /** A customer's statement as a table. */
    public byte[] table(Statement statement) {
        var rows = new ArrayList<List<@Nullable String>>();
        rows.add(List.of("date", "what", "amount", "balance", "currency"));
        String currency = statement.after().currency().getCurrencyCode();
        rows.add(List.of(statement.from().toString(), "Brought forward", "", plain(statement.before()), currency));
        for (Entry entry : statement.entries()) {
            rows.add(List.of(
                    entry.date().toString(), entry.words(), plain(entry.amount()), plain(entry.balance()), currency));
        }
        rows.add(List.of(statement.to().toString(), "Balance", "", plain(statement.after()), currency));
        return Cells.csv(rows);
    }

    private static String plain(Money money) {
        return money.amount().toPlainString();
    }

    private static Map<Age, Money> byAge(List<Debt> debts, Currency currency) {
        var byAge = new EnumMap<Age, Money>(Age.class);
        for (Age age : Age.values()) {
            byAge.put(age, sum(debts.stream().filter(debt -> debt.age() == age).toList(), currency));
        }
        return byAge;
    }

    private static Money sum(List<Debt> debts, Currency currency) {
        return Money.sum(debts.stream().map(Debt::owed).toList(), currency);
    }

    private Currency currency() {
        return shops.shop().currency();
    }

    private static LocalDate date(ResultSet r, String column, ZoneId zone) throws SQLException {
        return LocalDate.ofInstant(instant(r, column), zone);
    }

    private static Instant instant(ResultSet r, String column) throws SQLException {
        return r.getTimestamp(column).toInstant();
    }
}
