package idlewright.people;

import idlewright.frame.NotFound;
import idlewright.frame.Refused;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.event.EventListener;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Makes the shop and its first owner; over and gone as soon as there is an owner. */
@Component
public class FirstStart {

    private static final Logger log = LoggerFactory.getLogger(FirstStart.class);
    private static final String PURPOSE = "first start";

    private final JdbcClient jdbc;
    private final Secrets secrets;
    private final Shops shops;
    private final People people;
    private volatile boolean over;

    FirstStart(JdbcClient jdbc, Secrets secrets, Shops shops, People people) {
        this.jdbc = jdbc;
        this.secrets = secrets;
        this.shops = shops;
        this.people = people;
    }

    /** Only who can read the log may take the shop: the token is printed there and nowhere else. */
    @EventListener(ApplicationReadyEvent.class)
    void tell() {
        if (pending()) {
            log.warn("There is no owner yet. Open /first-start?token={} in a browser to set up the shop.", token());
        }
    }

    public boolean pending() {
        if (!over) {
            over = jdbc.sql("select exists (select 1 from person_role where role = 'OWNER')")
                    .query(Boolean.class)
                    .single();
        }
        return !over;
    }

    public boolean opens(@Nullable String token) {
        return pending() && token != null && secrets.sealed(PURPOSE, "owner", token);
    }

    @Transactional
    public Person begin(
            @Nullable String token,
            Shop shop,
            Sheet sheet,
            @Nullable String owner,
            @Nullable String signIn,
            @Nullable String password) {
        jdbc.sql("lock table person_role in share row exclusive mode").update();
        if (!opens(token)) {
            throw NotFound.of("page here");
        }
        shops.set(shop, sheet);
        try {
            return people.hire(owner, signIn, password, null, Set.of(Role.OWNER, Role.WRITER));
        } catch (Refused no) {
            var problems = no.problems();
            String aboutTheOwner = problems.remove("name");
            if (aboutTheOwner != null) {
                problems.put("owner", aboutTheOwner);
            }
            Refused.ifAny(problems);
            throw no;
        }
    }

    /** Asks the table again at the next question: tests empty it. */
    void forget() {
        over = false;
    }

    /** The same in every instance that shares the home folder. */
    private String token() {
        return secrets.seal(PURPOSE, "owner");
    }
}
