package idlewright.intake;

import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.TicketStamp;
import idlewright.journal.Captions;
import idlewright.journal.Captions.Caption;
import idlewright.journal.Journal;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/**
 * What people of the shop wrote freely about a customer's visits: notes on stamps, captions, words on pictures. They tell
 * what was done to the car and stay, unless the owner finds the customer in one and takes it away.
 */
@Component
@Transactional
public class ShopNotes {

    /** One of them, known by its key. */
    public record Note(String key, int ticket, String where, String words) {}

    /** Their notes are sums and ways, written by the house. */
    private static final Set<TicketStamp> BY_THE_HOUSE =
            Set.of(TicketStamp.OPENED, TicketStamp.OFFERED, TicketStamp.AGREED, TicketStamp.BILLED, TicketStamp.PAID);

    private final Captions captions;
    private final Journal journal;
    private final JdbcClient jdbc;

    ShopNotes(Captions captions, Journal journal, JdbcClient jdbc) {
        this.captions = captions;
        this.journal = journal;
        this.jdbc = jdbc;
    }

    /** All of a customer's visits that still have words. */
    @OnlyReads
    public List<Note> of(long customer) {
        var notes = new ArrayList<Note>(jdbc.sql("""
                select s.id, s.ticket_number, s.place, s.kind, s.note from stamp s join ticket t on t.number = s.ticket_number
                where t.customer_id = ? and s.note <> '' and (s.place is not null or s.kind <> all(?)) order by s.id""")
                .param(customer)
                .param(BY_THE_HOUSE.stream().map(Enum::name).toArray(String[]::new))
                .query((r, n) -> new Note(
                        "stamp-" + r.getLong("id"),
                        r.getInt("ticket_number"),
                        words(r.getString("kind"), r.getObject("place") == null),
                        r.getString("note")))
                .list());
        captions.of(visits(customer)).forEach(caption -> notes.add(note(caption)));
        return notes;
    }

    /** Takes the words away for good, once the customer is forgotten; stamp, picture and who made them stay. */
    public void takeAway(long customer, Collection<String> keys) {
        if (jdbc.sql("select count(*) from customer where id = ? and anonymous_at is not null")
                        .param(customer)
                        .query(Integer.class)
                        .single()
                == 0) {
            throw Refused.because("Words are taken away when the customer is made anonymous.");
        }
        for (Note note : of(customer)) {
            if (note.key().startsWith("stamp-") && keys.contains(note.key())) {
                long stamp = Long.parseLong(note.key().substring(6));
                jdbc.sql("select take_words_away('stamp', ?)")
                        .param(stamp)
                        .query((r, n) -> 0)
                        .single();
                journal.note(
                        "words taken away",
                        note.ticket(),
                        "The note on a stamp was taken away.",
                        Map.of("stamp", stamp));
            }
        }
        captions.of(visits(customer)).stream()
                .filter(caption -> keys.contains(note(caption).key()))
                .forEach(captions::takeAway);
    }

    private List<Integer> visits(long customer) {
        return jdbc.sql("select number from ticket where customer_id = ? order by number")
                .param(customer)
                .query(Integer.class)
                .list();
    }

    private static Note note(Caption caption) {
        return caption.mark() == null
                ? new Note("exhibit-" + caption.exhibit(), caption.ticket(), "under " + caption.name(), caption.words())
                : new Note("mark-" + caption.mark(), caption.ticket(), "on " + caption.name(), caption.words());
    }

    private static String words(String kind, boolean ofTicket) {
        return ofTicket
                ? Arrays.stream(TicketStamp.values())
                        .filter(one -> one.name().equals(kind))
                        .findFirst()
                        .map(TicketStamp::words)
                        .orElse(kind)
                : Arrays.stream(ThreadStamp.values())
                        .filter(one -> one.name().equals(kind))
                        .findFirst()
                        .map(ThreadStamp::words)
                        .orElse(kind);
    }
}
