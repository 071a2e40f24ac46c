package idlewright.people;

/** The signed-in person as pages see them (model attribute {@code me}); {@code bay} is a PIN session at a bay terminal. */
public record Me(String name, boolean writer, boolean technician, boolean owner, boolean bay) {

    public static Me of(Badge badge) {
        var person = badge.person();
        return new Me(
                person.name(), person.is(Role.WRITER), person.is(Role.TECHNICIAN), person.is(Role.OWNER), badge.bay());
    }

    /** Whether the work pages stand in the bay's frame: at a terminal, and for who does nothing but a technician's work. */
    public boolean bench() {
        return bay || (technician && !writer && !owner);
    }

    /** The page from which this person works on a ticket: the car in the bay, or the whole ticket. */
    public String at(Object ticket) {
        return (bench() ? "/bay/" : "/tickets/") + ticket;
    }
}
