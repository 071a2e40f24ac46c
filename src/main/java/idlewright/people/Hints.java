package idlewright.people;

import java.util.List;

/** What the sign-in page of a demo shop gives away; no such bean, no hints. */
public interface Hints {

    List<Hint> hints();

    /** One demo person; {@code pin} is empty for those who have none. */
    record Hint(String name, String signIn, String password, String pin, String role) {}
}
