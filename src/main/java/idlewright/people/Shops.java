package idlewright.people;

import com.github.benmanes.caffeine.cache.Cache;
import com.github.benmanes.caffeine.cache.Caffeine;
import idlewright.frame.Refused;
import idlewright.frame.Stale;
import idlewright.frame.Times;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Currency;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.dao.DataAccessResourceFailureException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.support.TransactionSynchronization;
import org.springframework.transaction.support.TransactionSynchronizationManager;

/** The shop itself: one row, asked for by every page and therefore remembered for a few seconds. */
@Component
public class Shops {

    /** The shop with its paper and the version a form of it was shown at; version -1 when there is no shop yet. */
    public record Kept(Shop shop, Sheet sheet, long version) {}

    private static final Kept NONE_YET = new Kept(
            new Shop("Idlewright", "", "", "", "", Currency.getInstance("USD"), ZoneId.of("UTC"), false, Locale.US),
            Sheet.LETTER,
            -1);

    private final JdbcClient jdbc;
    private final Times times;
    private final ApplicationEventPublisher events;
    private final Cache<String, Kept> fresh =
            Caffeine.newBuilder().expireAfterWrite(Duration.ofSeconds(10)).build();
    private volatile Kept lastKnown = NONE_YET;

    Shops(JdbcClient jdbc, Times times, ApplicationEventPublisher events) {
        this.jdbc = jdbc;
        this.times = times;
        this.events = events;
    }

    /** The shop; a nameless one before the first start. */
    public Shop shop() {
        return kept().shop();
    }

    public Sheet sheet() {
        return kept().sheet();
    }

    /** While the database is away the shop is the one last seen: the page that says so is drawn with it. */
    public Kept kept() {
        try {
            return Objects.requireNonNull(fresh.get("shop", key -> read()));
        } catch (DataAccessResourceFailureException away) {
            return lastKnown;
        }
    }

    /** Sets up the shop or changes it, whatever it was before. */
    @Transactional
    public void set(Shop shop, Sheet sheet) {
        check(shop);
        write(shop, sheet);
    }

    /** Changes the shop from what a form of that version showed. */
    @Transactional
    public void change(Shop shop, Sheet sheet, long version) {
        check(shop);
        Kept now = jdbc.sql("select * from shop for update")
                .query(Shops::row)
                .optional()
                .orElse(NONE_YET);
        if (now.version() != version) {
            throw new Stale("The shop", clashes(shop, sheet, now), "somebody else", null, "/set-up/shop");
        }
        write(shop, sheet);
        events.publishEvent(new Happened("shop changed", "The shop's card was changed.", Map.of("name", shop.name())));
    }

    private void write(Shop shop, Sheet sheet) {
        jdbc.sql("""
                insert into shop (name, address, phone, email, tax_number, currency, zone, metric, locale, sheet)
                values (:name, :address, :phone, :email, :tax, :currency, :zone, :metric, :locale, :sheet)
                on conflict (id) do update set (version, name, address, phone, email, tax_number, currency, zone, metric,
                    locale, sheet) = row (shop.version + 1, excluded.name, excluded.address, excluded.phone,
                    excluded.email, excluded.tax_number, excluded.currency, excluded.zone, excluded.metric,
                    excluded.locale, excluded.sheet)""")
                .param("name", shop.name())
                .param("address", shop.address())
                .param("phone", shop.phone())
                .param("email", shop.email())
                .param("tax", shop.taxNumber())
                .param("currency", shop.currency().getCurrencyCode())
                .param("zone", shop.zone().getId())
                .param("metric", shop.metric())
                .param("locale", shop.locale().toLanguageTag())
                .param("sheet", sheet.name())
                .update();
        forget();
        TransactionSynchronizationManager.registerSynchronization(new TransactionSynchronization() {
            @Override
            public void afterCompletion(int status) {
                forget();
            }
        });
    }

    /** Forgets what it remembers, so that the next question reads the table. */
    public void forget() {
        fresh.invalidateAll();
    }

    private Kept read() {
        Optional<Kept> row = jdbc.sql("select * from shop").query(Shops::row).optional();
        row.ifPresent(kept -> times.liveIn(kept.shop().zone()));
        lastKnown = row.orElse(NONE_YET);
        return lastKnown;
    }

    private static Kept row(ResultSet row, int number) throws SQLException {
        return new Kept(
                new Shop(
                        row.getString("name"),
                        row.getString("address"),
                        row.getString("phone"),
                        row.getString("email"),
                        row.getString("tax_number"),
                        Currency.getInstance(row.getString("currency")),
                        ZoneId.of(row.getString("zone")),
                        row.getBoolean("metric"),
                        Locale.forLanguageTag(row.getString("locale"))),
                Sheet.valueOf(row.getString("sheet")),
                row.getLong("version"));
    }

    private static void check(Shop shop) {
        var problems = new LinkedHashMap<String, String>();
        if (shop.name().isBlank()) {
            problems.put("name", "Give the shop's name as it stands on its paper.");
        }
        atMost(120, "name", shop.name(), problems);
        atMost(400, "address", shop.address(), problems);
        atMost(40, "phone", shop.phone(), problems);
        atMost(200, "email", shop.email(), problems);
        atMost(40, "taxNumber", shop.taxNumber(), problems);
        if (!shop.email().isEmpty() && !shop.email().matches("[^@\\s]+@[^@\\s]+")) {
            problems.put("email", "Give an e-mail address like desk@shop.example, or leave it empty.");
        }
        Refused.ifAny(problems);
    }

    private static void atMost(int length, String field, String text, Map<String, String> problems) {
        if (text.length() > length) {
            problems.putIfAbsent(field, "Use " + length + " letters at most.");
        }
    }

    private static List<Stale.Clash> clashes(Shop yours, Sheet yourSheet, Kept now) {
        Shop theirs = now.shop();
        var clashes = new ArrayList<Stale.Clash>();
        clash(clashes, "name", yours.name(), theirs.name());
        clash(clashes, "address", yours.address(), theirs.address());
        clash(clashes, "phone", yours.phone(), theirs.phone());
        clash(clashes, "e-mail", yours.email(), theirs.email());
        clash(clashes, "tax number", yours.taxNumber(), theirs.taxNumber());
        clash(clashes, "currency", yours.currency(), theirs.currency());
        clash(clashes, "time zone", yours.zone(), theirs.zone());
        clash(clashes, "units", yours.metric() ? "metric" : "US", theirs.metric() ? "metric" : "US");
        clash(
                clashes,
                "language",
                yours.locale().toLanguageTag(),
                theirs.locale().toLanguageTag());
        clash(clashes, "paper", yourSheet.word(), now.sheet().word());
        return clashes;
    }

    private static void clash(List<Stale.Clash> clashes, String field, Object yours, @Nullable Object theirs) {
        if (!yours.equals(theirs)) {
            clashes.add(new Stale.Clash(field, yours.toString(), String.valueOf(theirs)));
        }
    }
}
