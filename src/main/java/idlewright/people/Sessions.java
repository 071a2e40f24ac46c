package idlewright.people;

import java.time.Clock;
import java.time.Duration;
import org.springframework.dao.DataAccessException;
import org.springframework.stereotype.Component;
import org.springframework.transaction.TransactionException;

/** How long a session may last, and whether it still holds. */
@Component
public class Sessions {

    /** Without a click. */
    public static final Duration IDLE = Duration.ofHours(8);

    private static final Duration AT_MOST = Duration.ofHours(12);

    private final Standings standings;
    private final Terminals terminals;
    private final Clock clock;

    Sessions(Standings standings, Terminals terminals, Clock clock) {
        this.standings = standings;
        this.terminals = terminals;
        this.clock = clock;
    }

    /** A session is over when its day is, its person left or got new secrets or roles, or its terminal was retired. */
    public boolean holds(Badge badge) {
        Long terminal = badge.terminal();
        if (!badge.since().plus(AT_MOST).isAfter(clock.instant())) {
            return false;
        }
        try {
            return standings.holds(badge) && (terminal == null || terminals.inUse(terminal));
        } catch (DataAccessException | TransactionException away) {
            // Nothing can be read or kept just now anyway; nobody should have to sign in again for it.
            return true;
        }
    }
}
