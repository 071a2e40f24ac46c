package idlewright.journal.rules;

import static org.assertj.core.api.Assertions.assertThat;

import idlewright.journal.rules.Verification.Kind;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HexFormat;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.DisplayName;
import org.junit.jupiter.api.Test;

@DisplayName("A chain of journal entries")
class ChainTest {

    private static final Instant NOON = Instant.parse("2026-11-09T12:00:00.123456Z");

    private final List<Entry> entries = tenEntries();

    @Test
    void isSoundAsWritten() {
        var outcome = walk(entries, null);
        assertThat(outcome.sound()).isTrue();
        assertThat(outcome.entries()).isEqualTo(10);
        assertThat(outcome.sentence()).isEqualTo("All 10 entries are as they were written.");
        assertThat(outcome.head()).isEqualTo(entries.get(9).hash());
    }

    @Test
    @DisplayName("is hashed as anyone can repeat it with SHA-256 alone")
    void isHashedAsAnyoneCanRepeat() throws Exception {
        var sha = MessageDigest.getInstance("SHA-256");
        sha.update(new byte[32]);
        sha.update(
                "{\"at\":\"2026-11-09T12:00:00.123456Z\",\"facts\":{\"line\":1},\"id\":1,\"kind\":\"reading\",\"person\":\"Jo \\\"the meter\\\" Ash\",\"personId\":7,\"sentence\":\"Read line 1.\",\"ticket\":null}"
                        .getBytes(StandardCharsets.UTF_8));
        assertThat(entries.get(0).hash()).isEqualTo(HexFormat.of().formatHex(sha.digest()));
    }

    @Test
    void namesTheEntryThatSaysSomethingElse() {
        entries.set(4, saying(entries.get(4), "Read line 55."));
        var outcome = walk(entries, null);
        assertThat(outcome.fault()).isNotNull();
        assertThat(outcome.fault().kind()).isEqualTo(Kind.CHANGED);
        assertThat(outcome.fault().entry()).isEqualTo(5);
        assertThat(outcome.sentence()).isEqualTo("Entry 5 does not say what was written at first.");
        assertThat(outcome.entries()).isEqualTo(4);
    }

    @Test
    void namesTheEntryThatIsMissing() {
        entries.remove(4);
        var outcome = walk(entries, null);
        assertThat(outcome.fault().kind()).isEqualTo(Kind.MISSING);
        assertThat(outcome.sentence()).isEqualTo("Entry 5 is missing: after 4 comes 6.");
    }

    @Test
    void namesTheFirstOfTwoThatChangedPlaces() {
        var fifth = entries.get(4);
        var eighth = entries.get(7);
        entries.set(4, numbered(eighth, 5));
        entries.set(7, numbered(fifth, 8));
        var outcome = walk(entries, null);
        assertThat(outcome.fault().kind()).isEqualTo(Kind.OUT_OF_PLACE);
        assertThat(outcome.fault().entry()).isEqualTo(5);
    }

    @Test
    void namesTheNextEntryWhenOneWasResealed() {
        var chain = Chain.after(4, entries.get(3).hash());
        entries.set(4, chain.seal(NOON, 7L, "Jo Ash", "reading", null, "Read something else.", "{}"));
        var outcome = walk(entries, null);
        assertThat(outcome.fault().kind()).isEqualTo(Kind.OUT_OF_PLACE);
        assertThat(outcome.fault().entry()).isEqualTo(6);
    }

    @Test
    void tellsFromTheHeadThatTheNewestEntriesAreGone() {
        var chain = new Chain(null);
        entries.subList(0, 7).forEach(chain::accept);
        var outcome = chain.end(10, entries.get(9).hash(), NOON);
        assertThat(outcome.fault().kind()).isEqualTo(Kind.CUT_OFF);
        assertThat(outcome.sentence()).isEqualTo("Entries from 8 on are gone: the head says that there were 10.");
    }

    @Test
    @DisplayName("that is cut off together with its head row shows it only against a head kept elsewhere")
    void needsAHeadKeptElsewhereWhenTheHeadRowIsForgedToo() {
        var kept = entries.get(9).hash();
        var cut = new ArrayList<>(entries.subList(0, 7));
        assertThat(walk(cut, null).sound()).isTrue();
        assertThat(walk(cut, kept).fault().kind()).isEqualTo(Kind.OTHER_HEAD);
    }

    @Test
    void saysWhichEntryAKeptHeadBelongsTo() {
        var outcome = walk(entries, " " + entries.get(6).hash().toUpperCase(java.util.Locale.ROOT) + "\n");
        assertThat(outcome.sound()).isTrue();
        assertThat(outcome.knownAt()).isEqualTo(7L);
    }

    @Test
    void refusesEntriesBeyondTheHead() {
        var chain = new Chain(null);
        entries.forEach(chain::accept);
        assertThat(chain.end(9, entries.get(8).hash(), NOON).fault().kind()).isEqualTo(Kind.CUT_OFF);
    }

    @Test
    void stopsAtTheFirstFault() {
        entries.set(1, saying(entries.get(1), "x"));
        entries.set(8, saying(entries.get(8), "y"));
        assertThat(walk(entries, null).fault().entry()).isEqualTo(2);
    }

    @Test
    void findsEveryChangedFieldOfEveryEntry() {
        for (int i = 0; i < entries.size(); i++) {
            for (var changed : changes(entries.get(i))) {
                var tampered = new ArrayList<>(entries);
                tampered.set(i, changed);
                assertThat(walk(tampered, null).fault())
                        .as(changed.toString())
                        .extracting(Verification.Fault::entry)
                        .isEqualTo(i + 1L);
            }
        }
    }

    private static List<Entry> changes(Entry e) {
        return List.of(
                new Entry(
                        e.id(),
                        e.at().plusNanos(1000),
                        e.personId(),
                        e.person(),
                        e.kind(),
                        e.ticket(),
                        e.sentence(),
                        e.facts(),
                        e.previousHash(),
                        e.hash()),
                new Entry(
                        e.id(),
                        e.at(),
                        8L,
                        e.person(),
                        e.kind(),
                        e.ticket(),
                        e.sentence(),
                        e.facts(),
                        e.previousHash(),
                        e.hash()),
                new Entry(
                        e.id(),
                        e.at(),
                        e.personId(),
                        "Al",
                        e.kind(),
                        e.ticket(),
                        e.sentence(),
                        e.facts(),
                        e.previousHash(),
                        e.hash()),
                new Entry(
                        e.id(),
                        e.at(),
                        e.personId(),
                        e.person(),
                        "swap",
                        e.ticket(),
                        e.sentence(),
                        e.facts(),
                        e.previousHash(),
                        e.hash()),
                new Entry(
                        e.id(),
                        e.at(),
                        e.personId(),
                        e.person(),
                        e.kind(),
                        1043,
                        e.sentence(),
                        e.facts(),
                        e.previousHash(),
                        e.hash()),
                saying(e, e.sentence() + " "),
                new Entry(
                        e.id(),
                        e.at(),
                        e.personId(),
                        e.person(),
                        e.kind(),
                        e.ticket(),
                        e.sentence(),
                        "{}",
                        e.previousHash(),
                        e.hash()),
                new Entry(
                        e.id(),
                        e.at(),
                        e.personId(),
                        e.person(),
                        e.kind(),
                        e.ticket(),
                        e.sentence(),
                        e.facts(),
                        Chain.START.replace('0', 'f'),
                        e.hash()),
                new Entry(
                        e.id(),
                        e.at(),
                        e.personId(),
                        e.person(),
                        e.kind(),
                        e.ticket(),
                        e.sentence(),
                        e.facts(),
                        e.previousHash(),
                        Chain.START));
    }

    private static List<Entry> tenEntries() {
        var chain = new Chain(null);
        var entries = new ArrayList<Entry>();
        for (int line = 1; line <= 10; line++) {
            entries.add(chain.seal(
                    NOON,
                    7L,
                    "Jo \"the meter\" Ash",
                    "reading",
                    line == 1 ? null : 1042,
                    "Read line " + line + ".",
                    Canonical.json(Collections.singletonMap("line", line))));
        }
        return entries;
    }

    private static Verification walk(List<Entry> entries, @Nullable String known) {
        var chain = new Chain(known);
        entries.forEach(chain::accept);
        var last = entries.get(entries.size() - 1);
        return chain.end(last.id(), last.hash(), NOON);
    }

    private static Entry saying(Entry e, String sentence) {
        return new Entry(
                e.id(),
                e.at(),
                e.personId(),
                e.person(),
                e.kind(),
                e.ticket(),
                sentence,
                e.facts(),
                e.previousHash(),
                e.hash());
    }

    private static Entry numbered(Entry e, long id) {
        return new Entry(
                id,
                e.at(),
                e.personId(),
                e.person(),
                e.kind(),
                e.ticket(),
                e.sentence(),
                e.facts(),
                e.previousHash(),
                e.hash());
    }
}
