package idlewright.people;

import java.io.Serializable;
import java.util.Set;

/** Somebody who works here. In a PIN session the roles are those of that session, not all the person has. */
public record Person(long id, String name, Set<Role> roles) implements Serializable {

    public Person {
        roles = Set.copyOf(roles);
    }

    public boolean is(Role role) {
        return roles.contains(role);
    }
}
