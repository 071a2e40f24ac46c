package idlewright.people;

import java.io.Serializable;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * What a session knows of its person: the roles of this session, when it began, the terminal it is bound to (PIN sessions
 * only) and the generation of the person's secrets, which ends the session when a password, PIN or role changes.
 */
public record Badge(Person person, int generation, Instant since, @Nullable Long terminal) implements Serializable {

    /** Whether this is a PIN session at a bay terminal. */
    public boolean bay() {
        return terminal != null;
    }

    @Override
    public String toString() {
        return person.name();
    }
}
