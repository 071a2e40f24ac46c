package idlewright.warranty;

import idlewright.frame.OnlyReads;
import idlewright.frame.Times;
import idlewright.frame.rules.Cells;
import idlewright.reference.money.Money;
import idlewright.warranty.Cores.Core;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Currency;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Money not yet recovered, by supplier. Every figure is counted from the rows of the list it opens. */
@Component
@OnlyReads
public class Recovery {

    /**
     * What one supplier still owes.
     *
     * @param oldest days since the oldest open claim was written or the oldest open core was set aside
     */
    public record Owing(
            String supplier,
            int claims,
            int unsent,
            Money claimed,
            int cores,
            int toReturn,
            Money coreCharges,
            long oldest) {

        public Money all() {
            return claimed.plus(coreCharges);
        }
    }

    /** What several suppliers owe together: the sum of their lines, and nothing that stands in none of them. */
    public record Owed(int claims, Money claimed, int cores, Money coreCharges) {

        public Money all() {
            return claimed.plus(coreCharges);
        }
    }

    private final Claims claims;
    private final Cores cores;
    private final Times times;

    Recovery(Claims claims, Cores cores, Times times) {
        this.claims = claims;
        this.cores = cores;
        this.times = times;
    }

    /** Suppliers that owe something or wait for a core, the largest sum first; other currencies are left to their lists. */
    public List<Owing> owing() {
        return owing(claims.open());
    }

    /** As {@link #owing()}, from the open claims that the page has read already. */
    public List<Owing> owing(List<ClaimView> openClaims) {
        Currency currency = claims.currency();
        var byName = new TreeMap<String, List<ClaimView>>(String.CASE_INSENSITIVE_ORDER);
        var coresByName = new TreeMap<String, List<Core>>(String.CASE_INSENSITIVE_ORDER);
        openClaims.stream()
                .filter(claim -> claim.amount().currency().equals(currency))
                .forEach(claim -> byName.computeIfAbsent(claim.supplier(), key -> new ArrayList<>())
                        .add(claim));
        cores.open()
                .forEach(core -> coresByName
                        .computeIfAbsent(core.supplier(), key -> new ArrayList<>())
                        .add(core));
        var names = new TreeMap<String, String>(String.CASE_INSENSITIVE_ORDER);
        byName.keySet().forEach(name -> names.put(name, name));
        coresByName.keySet().forEach(name -> names.putIfAbsent(name, name));
        return names.values().stream()
                .map(name -> owing(
                        name,
                        byName.getOrDefault(name, List.of()),
                        coresByName.getOrDefault(name, List.of()),
                        currency))
                .sorted(java.util.Comparator.comparing(Owing::all).reversed().thenComparing(Owing::supplier))
                .toList();
    }

    /** Those lines added up. */
    public Owed together(List<Owing> owing) {
        Currency currency = claims.currency();
        return new Owed(
                owing.stream().mapToInt(Owing::claims).sum(),
                Money.sum(owing.stream().map(Owing::claimed).toList(), currency),
                owing.stream().mapToInt(Owing::cores).sum(),
                Money.sum(owing.stream().map(Owing::coreCharges).toList(), currency));
    }

    private Owing owing(String name, List<ClaimView> open, List<Core> waiting, Currency currency) {
        long oldest = java.util.stream.LongStream.concat(
                        open.stream().mapToLong(this::days), waiting.stream().mapToLong(this::days))
                .max()
                .orElse(0);
        return new Owing(
                name,
                open.size(),
                (int) open.stream().filter(claim -> claim.sentAt() == null).count(),
                Money.sum(open.stream().map(ClaimView::missing).toList(), currency),
                waiting.size(),
                (int) waiting.stream().filter(core -> core.returnedOn() == null).count(),
                Money.sum(waiting.stream().map(Core::missing).toList(), currency),
                oldest);
    }

    /** Days since a claim was written. */
    public long days(ClaimView claim) {
        return ChronoUnit.DAYS.between(LocalDate.ofInstant(claim.madeAt(), times.zone()), times.today());
    }

    /** Days since a core was set aside. */
    public long days(Core core) {
        return core.days(times.today(), times.zone());
    }

    /** The claims of one supplier, or all, as a table for a spreadsheet. */
    public byte[] claimsTable(@Nullable String supplier) {
        var rows = new ArrayList<List<String>>();
        rows.add(List.of(
                "claim",
                "supplier",
                "about",
                "ticket",
                "dossier",
                "written",
                "by",
                "sent",
                "answered",
                "state",
                "claimed",
                "paid",
                "difference",
                "not recovered",
                "currency",
                "difference in words",
                "days"));
        var all = new ArrayList<>(claims.open());
        all.addAll(claims.over());
        all.stream()
                .filter(claim -> is(supplier, claim.supplier()))
                .forEach(claim -> rows.add(List.of(
                        "" + claim.id(),
                        claim.supplier(),
                        claim.part(),
                        claim.ticket().toString(),
                        Objects.requireNonNullElse(claim.dossier(), ""),
                        day(claim.madeAt()),
                        claim.madeBy(),
                        claim.sentAt() == null ? "" : day(claim.sentAt()),
                        claim.answer() == null ? "" : day(claim.answer().at()),
                        claim.state(),
                        claim.amount().amount().toPlainString(),
                        claim.paid().amount().toPlainString(),
                        claim.difference().amount().toPlainString(),
                        claim.missing().amount().toPlainString(),
                        claim.amount().currency().getCurrencyCode(),
                        claim.differenceWords(),
                        "" + days(claim))));
        return Cells.csv(rows);
    }

    /** The cores of one supplier, or all, as a table for a spreadsheet. */
    public byte[] coresTable(@Nullable String supplier) {
        var rows = new ArrayList<List<String>>();
        rows.add(List.of(
                "supplier",
                "part",
                "number",
                "ticket",
                "set aside",
                "returned",
                "state",
                "charged",
                "credited",
                "not recovered",
                "currency",
                "days"));
        cores.all().stream()
                .filter(core -> is(supplier, core.supplier()))
                .forEach(core -> rows.add(List.of(
                        core.supplier(),
                        core.what(),
                        Objects.requireNonNullElse(core.number(), ""),
                        core.ticket().toString(),
                        day(core.since()),
                        core.returnedOn() == null ? "" : core.returnedOn().toString(),
                        core.state(),
                        core.charged().amount().toPlainString(),
                        core.credited().amount().toPlainString(),
                        core.missing().amount().toPlainString(),
                        core.charged().currency().getCurrencyCode(),
                        "" + days(core))));
        return Cells.csv(rows);
    }

    /** Whether a name is the one asked for; every name is when none is asked. */
    public boolean is(@Nullable String asked, String supplier) {
        return asked == null
                || supplier.toLowerCase(Locale.ROOT).equals(asked.strip().toLowerCase(Locale.ROOT));
    }

    private String day(java.time.Instant moment) {
        return LocalDate.ofInstant(moment, times.zone()).toString();
    }
}
