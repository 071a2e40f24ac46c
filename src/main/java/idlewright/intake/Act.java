package idlewright.intake;

import idlewright.people.Role;
import java.util.Set;

/** Something a person of one of these roles can do next, and the page where it is done. */
public record Act(String label, String url, Set<Role> roles, boolean main) {

    public static Act main(String label, String url, Role... roles) {
        return new Act(label, url, Set.of(roles), true);
    }

    public static Act also(String label, String url, Role... roles) {
        return new Act(label, url, Set.of(roles), false);
    }
}
