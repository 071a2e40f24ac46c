package idlewright.journal;

import idlewright.journal.model.Entries;
import idlewright.journal.model.Entries.Note;
import idlewright.journal.rules.Canonical;
import idlewright.journal.rules.Entry;
import idlewright.journal.rules.Verification;
import idlewright.people.Happened;
import idlewright.people.People;
import java.time.Clock;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.context.event.EventListener;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.support.TransactionSynchronization;
import org.springframework.transaction.support.TransactionSynchronizationManager;

/** The append-only, hash-chained record of who did what. */
@Component
public class Journal {

    /** Who is named when nobody is signed in. */
    public static final String THE_SYSTEM = "the system";

    private final Entries entries;
    private final People people;
    private final Clock clock;

    Journal(Entries entries, People people, Clock clock) {
        this.entries = entries;
        this.people = people;
        this.clock = clock;
    }

    /**
     * Notes an act in the caller's transaction; it is sealed into the chain just before the commit, so it is not to be
     * read back before then. Facts are strings, whole numbers, doubles, BigDecimals (kept as strings), booleans, enums,
     * temporal values, null, lists and maps of these. Never a customer's personal data: it could not be removed again.
     */
    @Transactional
    public void note(String kind, @Nullable Integer ticket, String sentence, Map<String, ?> facts) {
        var who = people.signedIn();
        unsealed()
                .add(new Note(
                        clock.instant().truncatedTo(ChronoUnit.MICROS),
                        who.isPresent() ? who.get().id() : null,
                        who.isPresent() ? who.get().name() : THE_SYSTEM,
                        kind,
                        ticket,
                        sentence,
                        Canonical.json(facts)));
    }

    @EventListener
    @Transactional
    void note(Happened happened) {
        note(happened.kind(), null, happened.sentence(), happened.facts());
    }

    /** Walks the whole chain. */
    public Verification verify() {
        return verify(null);
    }

    /** Walks the whole chain and looks for a head that was kept elsewhere: without one a forged end can't be found. */
    public Verification verify(@Nullable String keptHead) {
        return entries.walk(keptHead, clock.instant());
    }

    /** Walks the whole chain and notes who did so and what came out. */
    @Transactional
    public Verification check(@Nullable String keptHead) {
        var outcome = verify(keptHead);
        var facts = new LinkedHashMap<String, @Nullable Object>();
        facts.put("entries", outcome.entries());
        facts.put("head", outcome.head());
        facts.put("sound", outcome.sound());
        if (outcome.fault() != null) {
            facts.put("entry", outcome.fault().entry());
            facts.put("fault", outcome.fault().kind());
        }
        var met = outcome.knownAt();
        note(
                "verification",
                null,
                "Journal checked. " + outcome.sentence()
                        + (met == null ? "" : " The hash that was kept elsewhere is that of entry " + met + "."),
                facts);
        return outcome;
    }

    /** What the last check of the whole chain said. */
    public Optional<Entry> lastCheck() {
        return entries.lastVerification();
    }

    /** Hash of the newest entry. */
    public String head() {
        return entries.head().hash();
    }

    /** All that was noted about a ticket, oldest first. */
    public List<Entry> of(int ticket) {
        return entries.of(ticket);
    }

    /** The newest entries before the given one, newest first; {@code Long.MAX_VALUE} starts at the end. */
    public List<Entry> latest(int limit, long beforeId) {
        return entries.latest(limit, beforeId);
    }

    private Unsealed unsealed() {
        for (var synchronization : TransactionSynchronizationManager.getSynchronizations()) {
            if (synchronization instanceof Unsealed mine && mine.journal() == this) {
                return mine;
            }
        }
        var fresh = new Unsealed();
        TransactionSynchronizationManager.registerSynchronization(fresh);
        return fresh;
    }

    /** The notes of one transaction, held back so that the chain is locked for the commit only. */
    private final class Unsealed implements TransactionSynchronization {

        private final List<Note> notes = new ArrayList<>();
        private boolean sealed;

        private Journal journal() {
            return Journal.this;
        }

        private void add(Note note) {
            if (sealed) {
                throw new IllegalStateException("too late to note: this transaction is being committed");
            }
            notes.add(note);
        }

        @Override
        public int getOrder() {
            return LOWEST_PRECEDENCE;
        }

        @Override
        public void beforeCommit(boolean readOnly) {
            sealed = true;
            entries.append(notes);
        }
    }
}
