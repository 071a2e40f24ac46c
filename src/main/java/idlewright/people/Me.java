package idlewright.people;

/** The signed-in person as pages see them (model attribute {@code me}); {@code bay} is a PIN session at a bay terminal. */
public record Me(String name, boolean writer, boolean technician, boolean owner, boolean bay) {}
