package idlewright.people;

import java.io.Serializable;
import java.time.Instant;
import org.jspecify.annotations.Nullable;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.authority.AuthorityUtils;

/**
 * What a session knows of its person: the roles of this session, when it began, the terminal it is bound to (PIN sessions
 * only) and the generation of the person's secrets, which ends the session when a password, PIN or role changes.
 */
public record Badge(
        Person person,
        int generation,
        Instant since,
        @Nullable Long terminal) implements Serializable {

    /** Whether this is a PIN session at a bay terminal. */
    public boolean bay() {
        return terminal != null;
    }

    /** The badge as Spring Security carries it; {@code more} are authorities besides the roles. */
    public Authentication authentication(String... more) {
        var authorities = AuthorityUtils.createAuthorityList(more);
        person.roles().forEach(role -> authorities.addAll(AuthorityUtils.createAuthorityList("ROLE_" + role)));
        return UsernamePasswordAuthenticationToken.authenticated(this, null, authorities);
    }

    /** What {@link Authentication#getName()} says. */
    @Override
    public String toString() {
        return person.name();
    }
}
