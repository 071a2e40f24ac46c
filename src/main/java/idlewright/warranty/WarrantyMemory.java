package idlewright.warranty;

import idlewright.intake.Memory;
import idlewright.journal.Journal;
import idlewright.people.People;
import idlewright.warranty.model.Vault;
import java.sql.Timestamp;
import java.time.Clock;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionSynchronization;
import org.springframework.transaction.support.TransactionSynchronizationManager;

/** Dossiers that name a customer: sealed, so they stay whole for a reason or go as a whole. */
@Component
class WarrantyMemory implements Memory {

    /** A dossier of the customer; the choice is the latest, null where none was made. */
    private record Sealed(
            String code,
            int ticket,
            boolean named,
            @Nullable String choice,
            @Nullable String reason,
            String pdf,
            String zip) {

        Thing thing() {
            return new Thing(code, "/dossiers/" + code);
        }

        boolean stays() {
            return !"DESTROYED".equals(choice);
        }
    }

    private final Vault vault;
    private final People people;
    private final Journal journal;
    private final JdbcClient jdbc;
    private final Clock clock;

    WarrantyMemory(Vault vault, People people, Journal journal, JdbcClient jdbc, Clock clock) {
        this.vault = vault;
        this.people = people;
        this.journal = journal;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    @Override
    public Map<String, List<Map<String, Object>>> of(Whose whose) {
        return Map.of("dossiers", jdbc.sql("""
                select d.code, d.ticket_number, d.place, d.sealed_at, d.sealed_by, d.named, d.originals, d.zip_sha256
                from dossier d where d.ticket_number = any(?) order by d.sealed_at, d.code""").param(whose.numbers()).query().listOfRows());
    }

    @Override
    public List<Kept> kept(Whose whose) {
        var named = new LinkedHashMap<String, List<Thing>>();
        var unnamed = new ArrayList<Thing>();
        for (Sealed one : sealed(whose)) {
            if (!one.named()) {
                unnamed.add(one.thing());
            } else if (one.stays()) {
                named.computeIfAbsent(
                                one.reason() == null
                                        ? "Sealed evidence; nobody has chosen yet whether it is to stay."
                                        : "Kept, because: " + one.reason(),
                                why -> new ArrayList<>())
                        .add(one.thing());
            }
        }
        var kept = new ArrayList<Kept>();
        named.forEach((why, things) ->
                kept.add(new Kept("Dossiers with the name, phone, address and plate", why, true, things)));
        if (!unnamed.isEmpty()) {
            kept.add(new Kept(
                    "Dossiers without the name: what was said of the car, and its VIN",
                    "Sealed evidence for a claim; name, phone, address and plate were left out.",
                    false,
                    unnamed));
        }
        return kept;
    }

    @Override
    public void forget(Whose whose, Choice choice) {
        Set<String> files = new LinkedHashSet<>();
        for (Sealed one : sealed(whose)) {
            if (!one.named() || !one.stays()) {
                continue;
            }
            jdbc.sql("insert into dossier_choice (code, choice, reason, at, who) values (?, ?, ?, ?, ?)")
                    .params(
                            one.code(),
                            choice.keep() ? "KEPT" : "DESTROYED",
                            choice.reason().strip(),
                            Timestamp.from(clock.instant()),
                            people.me().name())
                    .update();
            journal.note(
                    "dossier choice",
                    one.ticket(),
                    "Dossier %s is %s.".formatted(one.code(), choice.keep() ? "kept for a reason" : "destroyed"),
                    Map.of("code", one.code(), "kept", choice.keep()));
            if (!choice.keep()) {
                files.add(one.pdf());
                files.add(one.zip());
            }
        }
        if (!files.isEmpty()) {
            // Only when all is kept: a file does not come back by a rollback.
            TransactionSynchronizationManager.registerSynchronization(new TransactionSynchronization() {
                @Override
                public void afterCommit() {
                    files.forEach(vault::destroy);
                }
            });
        }
    }

    /** Those sealed after the customer was forgotten hold no name any more. */
    private List<Sealed> sealed(Whose whose) {
        return jdbc.sql("""
                select d.code, d.ticket_number, d.named, k.choice, k.reason, d.pdf_sha256, d.zip_sha256
                from dossier d
                left join lateral (select * from dossier_choice k where k.code = d.code order by k.id desc limit 1) k on true
                where d.ticket_number = any(?) and d.sealed_at < coalesce(?::timestamptz, 'infinity')
                order by d.sealed_at, d.code""")
                .param(whose.numbers())
                .param(whose.forgotten() == null ? null : Timestamp.from(whose.forgotten()))
                .query((r, n) -> new Sealed(
                        r.getString(1),
                        r.getInt(2),
                        r.getBoolean(3),
                        r.getString(4),
                        r.getString(5),
                        r.getString(6),
                        r.getString(7)))
                .list();
    }
}
