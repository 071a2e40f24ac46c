package idlewright.billing;

import idlewright.billing.rules.Tolerance;
import idlewright.frame.OnlyReads;
import idlewright.frame.ReadOnce;
import idlewright.frame.Refused;
import idlewright.frame.Stale;
import idlewright.frame.Together;
import idlewright.frame.Tuple;
import idlewright.journal.Journal;
import idlewright.people.Shops;
import idlewright.reference.money.Money;
import java.math.BigDecimal;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** With which words a customer agrees, and how far charges may pass what is agreed without asking again. */
@Component
@Transactional
public class Consents {

    /** What the owner sets; all three numbers are 0 until then. */
    public record Terms(BigDecimal percent, BigDecimal amount, BigDecimal cap, String words, int version) {}

    private final Together together;
    private final JdbcClient jdbc;
    private final Shops shops;
    private final Journal journal;
    private final ReadOnce once;

    Consents(Together together, JdbcClient jdbc, Shops shops, Journal journal, ReadOnce once) {
        this.together = together;
        this.jdbc = jdbc;
        this.shops = shops;
        this.journal = journal;
        this.once = once;
    }

    @OnlyReads
    public Terms terms() {
        return once.of(
                Terms.class,
                () -> terms(together.read(Map.of(), Rates.CARD).get(0).get(0)));
    }

    /** The page has read them along with something else. */
    @OnlyReads
    void know(Terms terms) {
        once.know(Terms.class, terms);
    }

    static Terms terms(Tuple r) {
        return new Terms(
                r.getBigDecimal("tolerance_percent"),
                r.getBigDecimal("tolerance_amount"),
                r.getBigDecimal("tolerance_cap"),
                r.getString("consent_words"),
                r.getInt("consent_version"));
    }

    @OnlyReads
    public Tolerance tolerance() {
        Terms terms = terms();
        var currency = shops.shop().currency();
        return new Tolerance(
                terms.percent(), Money.rounded(terms.amount(), currency), Money.rounded(terms.cap(), currency));
    }

    public void set(Terms terms) {
        var problems = new LinkedHashMap<String, String>();
        between(problems, "percent", terms.percent(), 25);
        between(problems, "amount", terms.amount(), 1_000_000);
        between(problems, "cap", terms.cap(), 1_000_000);
        if (terms.words().isBlank() || terms.words().length() > 2000) {
            problems.put("words", "Write the words with which a customer agrees, at most 2,000 letters.");
        }
        Refused.ifAny(problems);
        int changed = jdbc.sql("""
                update rates set tolerance_percent = :percent, tolerance_amount = :amount, tolerance_cap = :cap,
                    consent_words = :words, consent_version = consent_version + 1
                where consent_version = :version""")
                .param("percent", terms.percent())
                .param("amount", terms.amount())
                .param("cap", terms.cap())
                .param("words", terms.words())
                .param("version", terms.version())
                .update();
        if (changed == 0) {
            Terms now = terms();
            throw new Stale(
                    "The words of consent",
                    List.of(
                            clash("per cent", terms.percent(), now.percent()),
                            clash("amount", terms.amount(), now.amount()),
                            clash("at most", terms.cap(), now.cap()),
                            new Stale.Clash("words", terms.words(), now.words())),
                    "somebody at another terminal",
                    null,
                    "/set-up/consent");
        }
        journal.note(
                "consent set",
                null,
                "The words of consent and the tolerance were set.",
                Map.of(
                        "percent", terms.percent(),
                        "amount", terms.amount(),
                        "cap", terms.cap(),
                        "words", terms.words()));
    }

    private static Stale.Clash clash(String field, BigDecimal yours, BigDecimal theirs) {
        return new Stale.Clash(
                field,
                yours.stripTrailingZeros().toPlainString(),
                theirs.stripTrailingZeros().toPlainString());
    }

    private static void between(Map<String, String> problems, String field, BigDecimal value, int most) {
        if (value.signum() < 0 || value.compareTo(BigDecimal.valueOf(most)) > 0) {
            problems.put(field, "Enter a number from 0 to %,d.".formatted(most));
        }
    }
}
