package idlewright.intake;

import idlewright.intake.rules.Salted;
import java.security.SecureRandom;
import java.sql.Timestamp;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Every version of what a customer said. The journal gets a salted digest of each, never the words. */
@Component
class Sayings {

    /** The words of the complaint, or the answers to the questions of its kind. */
    enum What {
        WORDS,
        ANSWERS
    }

    private static final SecureRandom RANDOM = new SecureRandom();

    private final JdbcClient jdbc;

    Sayings(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /** Keeps a version; the facts are what the journal may know of it. */
    Map<String, Object> keep(SymptomRef ref, What what, String words, Instant at, String who) {
        byte[] salt = new byte[16];
        RANDOM.nextBytes(salt);
        String digest = Salted.digest(salt, words);
        long id = jdbc.sql("""
                insert into words_said (ticket_number, place, what, words, salt, digest, at, who)
                values (?, ?, ?, ?, ?, ?, ?, ?) returning id""")
                .param(ref.ticket().value())
                .param(ref.place())
                .param(what.name())
                .param(words)
                .param(salt)
                .param(digest)
                .param(Timestamp.from(at))
                .param(who)
                .query(Long.class)
                .single();
        var facts = new LinkedHashMap<String, Object>();
        facts.put("place", ref.place());
        facts.put("said", id);
        facts.put("digest", digest);
        return facts;
    }

    /** The version that counts now; none where nothing was kept, as of visits before versions were. */
    Optional<String> latest(SymptomRef ref, What what) {
        return jdbc.sql("""
                select coalesce(words, '') from words_said where ticket_number = ? and place = ? and what = ?
                order by id desc limit 1""")
                .params(ref.ticket().value(), ref.place(), what.name())
                .query(String.class)
                .optional();
    }
}
