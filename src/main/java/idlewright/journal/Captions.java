package idlewright.journal;

import idlewright.frame.OnlyReads;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** What somebody wrote under photos and files and beside what is marked on them, and taking it away. */
@Component
@Transactional
public class Captions {

    /**
     * Words of the shop.
     *
     * @param mark the mark they stand beside; null for the caption of the exhibit
     * @param name of the file
     */
    public record Caption(long exhibit, @Nullable Long mark, int ticket, String name, String words) {}

    private final Journal journal;
    private final JdbcClient jdbc;

    Captions(Journal journal, JdbcClient jdbc) {
        this.journal = journal;
        this.jdbc = jdbc;
    }

    /** All that is written to what these visits keep, also to what was struck out or taken off a picture. */
    @OnlyReads
    public List<Caption> of(List<Integer> tickets) {
        return jdbc.sql("""
                select e.id, null::bigint mark, e.ticket, e.name, e.caption words from exhibit e
                where e.ticket = any(:tickets) and e.caption <> ''
                union all
                select e.id, m.id, e.ticket, e.name, m.words from image_mark m join exhibit e on e.id = m.exhibit_id
                where e.ticket = any(:tickets) and m.words <> ''
                order by 1, 2 nulls first""")
                .param("tickets", tickets.toArray(Integer[]::new))
                .query((r, n) -> new Caption(
                        r.getLong(1), r.getObject(2, Long.class), r.getInt(3), r.getString(4), r.getString(5)))
                .list();
    }

    /** Takes words away for good; the picture, the mark and who made it stay. */
    public void takeAway(Caption caption) {
        jdbc.sql("select take_words_away(?, ?)")
                .param(caption.mark() == null ? "exhibit" : "mark")
                .param(caption.mark() == null ? caption.exhibit() : caption.mark())
                .query((r, n) -> 0)
                .single();
        journal.note(
                "words taken away",
                caption.ticket(),
                "Words at exhibit %d were taken away.".formatted(caption.exhibit()),
                Map.of("exhibit", caption.exhibit(), "mark", caption.mark() == null ? 0 : caption.mark()));
    }
}
