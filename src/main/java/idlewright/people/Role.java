package idlewright.people;

import java.util.Collection;
import java.util.stream.Collectors;

/** What a person may do in the shop; a person may have several. */
public enum Role {
    /** At the counter: customers, tickets, estimates, invoices. */
    WRITER,
    /** In the bay: tests, readings, swaps. */
    TECHNICIAN,
    /** Answers for the shop: people, terms, keys, statistics. */
    OWNER;

    /** The word shown on screen. */
    public String word() {
        return switch (this) {
            case WRITER -> "service writer";
            case TECHNICIAN -> "technician";
            case OWNER -> "owner";
        };
    }

    /** Several roles in a row, as on screen: "service writer, technician". */
    public static String words(Collection<Role> roles) {
        return roles.stream().sorted().map(Role::word).collect(Collectors.joining(", "));
    }
}
