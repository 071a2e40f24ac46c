package idlewright.billing;

import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.frame.Stale;
import idlewright.frame.Times;
import idlewright.journal.Journal;
import idlewright.journal.rules.Seal;
import idlewright.reference.money.Money;
import idlewright.reference.money.TaxRate;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Electronic invoices (EN 16931) for shops whose customers or authorities want them; off until the owner says so. */
@Component
@Transactional
public class EInvoices {

    /**
     * What the norm asks and the shop's page does not.
     *
     * @param country where shop and customers are, ISO 3166-1 alpha-2
     * @param vatId with the country in front; it or the tax number is needed
     * @param buyerReference what buyers want to find on it; may be empty
     * @param untaxedBecause why lines without tax are without; needed where the shop has such
     */
    public record SetUp(
            boolean wanted,
            String country,
            String vatId,
            String taxNumber,
            String email,
            String buyerReference,
            String untaxedBecause,
            int version) {}

    private static final Set<String> COUNTRIES = Set.of(Locale.getISOCountries());

    private final JdbcClient jdbc;
    private final Rates rates;
    private final Journal journal;
    private final Times times;

    EInvoices(JdbcClient jdbc, Rates rates, Journal journal, Times times) {
        this.jdbc = jdbc;
        this.rates = rates;
        this.journal = journal;
        this.times = times;
    }

    @OnlyReads
    public SetUp setUp() {
        return jdbc.sql("select * from e_invoice_set_up")
                .query((r, n) -> new SetUp(
                        r.getBoolean("wanted"),
                        r.getString("country"),
                        r.getString("vat_id"),
                        r.getString("tax_number"),
                        r.getString("email"),
                        r.getString("buyer_reference"),
                        r.getString("untaxed_because"),
                        r.getInt("version")))
                .single();
    }

    /** What is wrong is only asked once electronic invoices are wanted. */
    public void set(SetUp wish) {
        if (wish.wanted()) {
            Refused.ifAny(against(wish));
        }
        int changed = jdbc.sql("""
                update e_invoice_set_up set wanted = :wanted, country = :country, vat_id = :vatId, tax_number = :taxNumber,
                    email = :email, buyer_reference = :reference, untaxed_because = :because, version = version + 1
                where version = :version""")
                .param("wanted", wish.wanted())
                .param("country", COUNTRIES.contains(wish.country()) ? wish.country() : "")
                .param("vatId", wish.vatId())
                .param("taxNumber", wish.taxNumber())
                .param("email", wish.email())
                .param("reference", wish.buyerReference())
                .param("because", wish.untaxedBecause())
                .param("version", wish.version())
                .update();
        if (changed == 0) {
            SetUp now = setUp();
            throw new Stale(
                    "The electronic invoices",
                    List.of(
                            new Stale.Clash("wanted", wish.wanted() ? "yes" : "no", now.wanted() ? "yes" : "no"),
                            new Stale.Clash("country", wish.country(), now.country()),
                            new Stale.Clash("VAT id", wish.vatId(), now.vatId()),
                            new Stale.Clash("tax number", wish.taxNumber(), now.taxNumber())),
                    "somebody at another terminal",
                    null,
                    "/set-up/e-invoices");
        }
        journal.note(
                "electronic invoices set",
                null,
                wish.wanted() ? "Invoices carry an electronic one." : "Invoices carry no electronic one.",
                Map.of("wanted", wish.wanted()));
    }

    private Map<String, String> against(SetUp wish) {
        var problems = new LinkedHashMap<String, String>();
        if (!COUNTRIES.contains(wish.country())) {
            problems.put("country", "Enter the two letters of the country, like IE.");
        }
        if (wish.vatId().isBlank() && wish.taxNumber().isBlank()) {
            problems.put("vatId", "Enter the VAT id, or the tax number below.");
        }
        // EN 16931 BR-CO-09: the country stands in front; Greece writes EL.
        if (!wish.vatId().isBlank() && !wish.vatId().matches("[A-Z]{2}[A-Z0-9+*]{2,13}")) {
            problems.put("vatId", "Write it with the country in front and without spaces, like IE1234567T.");
        }
        if (!wish.email().isBlank() && !wish.email().matches("[^@\\s]+@[^@\\s]+\\.[^@\\s]+")) {
            problems.put("email", "Enter an e-mail address, like desk@shop.example.");
        }
        if (wish.untaxedBecause().isBlank() && untaxed()) {
            problems.put("untaxedBecause", "Some of the shop's lines bear no tax: say why, in the words of the law.");
        }
        return problems;
    }

    private boolean untaxed() {
        var taxes = rates.taxes();
        return Arrays.stream(LineKind.values())
                .anyMatch(kind -> taxes.on(kind).percent().signum() == 0);
    }

    /** Makes and keeps the electronic invoice of one just issued, when the shop wants it. */
    void keep(InvoiceView invoice) {
        SetUp shop = setUp();
        var currency = invoice.total().currency();
        // The norm knows amounts of two decimals at most.
        if (!shop.wanted() || currency.getDefaultFractionDigits() > 2) {
            return;
        }
        var lines = jdbc.sql("select * from invoice_line where invoice_number = ? order by nr")
                .param(invoice.number())
                .query((r, n) -> new EInvoiceXml.Billed(
                        new Line(
                                r.getInt("place"),
                                LineKind.valueOf(r.getString("kind")),
                                r.getString("what"),
                                r.getBigDecimal("quantity"),
                                new Money(r.getBigDecimal("each"), currency),
                                r.getString("part_number")),
                        new TaxRate(r.getBigDecimal("tax_percent"))))
                .list();
        byte[] xml = EInvoiceXml.of(invoice, lines, shop, times.zone()).getBytes(StandardCharsets.UTF_8);
        jdbc.sql("insert into invoice_xml (invoice_number, xml, sha256) values (?, ?, ?)")
                .params(invoice.number(), new String(xml, StandardCharsets.UTF_8), Seal.sha256(xml))
                .update();
    }

    /** The electronic invoice as it was issued. */
    @OnlyReads
    public byte[] xml(String number) {
        return kept(number).orElseThrow(() -> NotFound.of("electronic invoice " + number));
    }

    Optional<byte[]> kept(String number) {
        return jdbc.sql("select xml from invoice_xml where invoice_number = ?")
                .param(number)
                .query(String.class)
                .optional()
                .map(xml -> xml.getBytes(StandardCharsets.UTF_8));
    }
}
